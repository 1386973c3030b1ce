//! Practice: marks, reasons and sources at once, and nothing that is live.

use tests::Room;

const BANK: &str = "question-banks/foundation";

#[test]
fn questions_are_asked_marked_and_explained() {
    let room = Room::with_example("evening-class");
    let outcome = room
        .run_with(
            &["practise", BANK, "--cell", "maturation", "--questions", "3"],
            "A\nB\n\n",
            &[],
        )
        .exits(0)
        .gives("3 of 3")
        .gives("source:")
        .gives("marks in 3 questions");
    assert!(
        outcome.out.matches("source:").count() == 3,
        "{}",
        outcome.out
    );
}

#[test]
fn the_same_seed_asks_the_same_questions() {
    let room = Room::with_example("evening-class");
    let ask = || {
        room.run_with(
            &[
                "practise",
                BANK,
                "--questions",
                "5",
                "--seed",
                &"ab".repeat(32),
            ],
            "A\nA\nA\nA\nA\n",
            &[],
        )
        .exits(0)
        .out
    };
    assert_eq!(ask(), ask());
}

#[test]
fn live_questions_are_never_shown() {
    let room = Room::with_example("evening-class");
    // Everything in the cell is live but for nothing: the session refuses rather than show one.
    let folder = "question-banks/foundation/questions";
    for name in room.files(folder).keys() {
        let file = format!("{folder}/{name}");
        let text = room.text(&file);
        let live = text.replace(
            "    cell: maturation\n",
            "    cell: maturation\n    live: true\n",
        );
        room.put(&file, live);
    }
    room.run(&["practise", BANK, "--cell", "maturation"])
        .exits(3)
        .says("live for a coming exam");
}

/// Whether a stem stands in a text, with any number in the place of each `{name}`.
fn stands_in(text: &str, stem: &str) -> bool {
    let pieces: Vec<&str> = stem
        .split('{')
        .enumerate()
        .map(|(place, piece)| match place {
            0 => piece,
            _ => piece.split_once('}').map_or("", |(_, after)| after),
        })
        .collect();
    let Some((first, rest)) = pieces.split_first() else {
        return false;
    };
    let number = |c: char| c.is_ascii_digit() || c == '.' || c == '-';
    text.match_indices(first).any(|(at, found)| {
        rest.iter()
            .try_fold(&text[at + found.len()..], |after, piece| {
                after.trim_start_matches(number).strip_prefix(piece)
            })
            .is_some()
    })
}

#[test]
fn what_stands_on_a_coming_exams_forms_is_kept_out() {
    let room = Room::with_example("evening-class");
    let exam = "examples/evening-class";
    room.run(&["assemble", exam, "--seed", &"22".repeat(32)])
        .exits(0);
    let register =
        register::Register::open(&room.path("examples/evening-class/sitting.register")).unwrap();
    let sitting = register.sitting().unwrap();
    let on_forms: std::collections::BTreeSet<_> = sitting
        .forms
        .iter()
        .flat_map(|f| f.questions.iter().map(|q| q.question.to_string()))
        .collect();
    let outcome = room
        .run_with(
            &["practise", BANK, "--questions", "400", "--not-of", exam],
            &"A\n".repeat(400),
            &[],
        )
        .exits(0)
        .says("live for a coming exam");
    // Whole stems are compared, since a session shows no ids.
    let said = outcome.out.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut seen = 0;
    let files = room.files("question-banks/foundation/questions");
    for file in files.values() {
        let text = String::from_utf8(file.clone()).unwrap();
        for entry in text.split("\n  - id: ").skip(1) {
            let id = entry.lines().next().unwrap().trim();
            let Some(stem) = entry.lines().find_map(|l| l.trim().strip_prefix("stem: ")) else {
                continue;
            };
            let shown = stands_in(&said, stem.trim_matches('"'));
            if on_forms.contains(id) {
                assert!(!shown, "{id} is on a form and was shown");
            }
            seen += usize::from(shown);
        }
    }
    assert!(seen > 100, "only {seen} stems were recognised");
}

#[test]
fn a_tasting_note_is_set_beside_the_panels() {
    let room = Room::with_example("evening-class");
    room.run_with(
        &["practise", BANK, "--sample", "calvados-herisson-8"],
        "apple; oak; vanilla\nhoney\nCalvados\nNormandy\n6 to 9 years\n",
        &[],
    )
    .exits(0)
    .says("do not drive")
    .gives("The panel found:")
    .gives("Ferme du Vieux Hérisson");
    room.run(&["practise", BANK, "--sample", "nothing"])
        .exits(3)
        .says("no sample record");
}
