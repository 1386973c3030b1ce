//! The shipped schemas are those of the readers, and every shipped text names its own.

use crate::format::{Format, shape, shipped};
use crate::json_schema;

const FOLDER: &str = "question-banks/schemas";

#[test]
fn every_field_that_a_reader_asks_for_is_shown_by_an_example() {
    let mut holes = Vec::new();
    for format in Format::ALL {
        let found = shape(format).holes();
        holes.extend(
            found
                .into_iter()
                .map(|hole| format!("{}: {hole}", format.file())),
        );
    }
    assert!(
        holes.is_empty(),
        "no sound text shows these; add one to the README of the format, or to `further`:\n{}",
        holes.join("\n")
    );
}

#[test]
fn the_shipped_schemas_are_those_of_the_readers() {
    let (mut stale, mut written) = (Vec::new(), Vec::new());
    for format in Format::ALL {
        let path = tests::top().join(FOLDER).join(format.file());
        let made = json_schema::text(format, &shape(format));
        match std::fs::read_to_string(&path) {
            Ok(shipped) if shipped == made => {}
            Ok(_) => stale.push(format.file()),
            Err(_) => {
                std::fs::create_dir_all(path.parent().unwrap()).unwrap();
                std::fs::write(&path, made).unwrap();
                written.push(format.file());
            }
        }
    }
    assert!(
        written.is_empty(),
        "{written:?} were missing and have been written: look at them, then commit them"
    );
    assert!(
        stale.is_empty(),
        "{stale:?} in {FOLDER} are no longer what the readers ask for: delete them, run this test until it passes, commit"
    );
}

#[test]
fn every_shipped_text_names_its_schema_in_its_first_line() {
    let mut without = Vec::new();
    for (format, text) in shipped() {
        let name = text.name.as_str();
        let up = "../".repeat(name.matches('/').count());
        let schema = match name.strip_prefix("question-banks/") {
            Some(below) => format!(
                "{}schemas/{}",
                "../".repeat(below.matches('/').count()),
                format.file()
            ),
            None => format!("{up}{FOLDER}/{}", format.file()),
        };
        let line = format!("# yaml-language-server: $schema={schema}");
        let folder = tests::top().join(name);
        assert!(
            folder.parent().unwrap().join(&schema).is_file(),
            "{name}: {schema} leads nowhere"
        );
        if text.text.lines().next() != Some(&line) {
            without.push(format!("{name}: {line}"));
        }
    }
    assert!(
        without.is_empty(),
        "put these lines first:\n{}",
        without.join("\n")
    );
}

#[test]
fn the_program_hands_out_the_same_schemas() {
    let room = tests::Room::empty();
    room.run(&["check", "--schemas", "editor"]).exits(0);
    for format in Format::ALL {
        let shipped =
            std::fs::read_to_string(tests::top().join(FOLDER).join(format.file())).unwrap();
        assert_eq!(
            room.text(&format!("editor/{}", format.file())),
            shipped,
            "{}",
            format.file()
        );
    }
}
