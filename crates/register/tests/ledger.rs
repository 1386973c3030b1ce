//! The ledger in a register: acts leave entries, old registers get one, and nothing changes unseen.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::path::{Path, PathBuf};

use assembler::Sitting;
use base::ExamSeed;
use register::ledger::{ConsistencyProof, InclusionProof};
use register::{Act, By, Details, Entry, Head, Moment, Register, RegisterError, Role, StoredText};
use rusqlite::Connection;

fn by(time: &str) -> By {
    By::new(Role::Assembler, Moment::parse(time))
}

fn made(folder: &Path) -> PathBuf {
    let path = folder.join("sitting.register");
    let text = StoredText {
        name: "plan.yaml".to_owned(),
        text: "title: Evening\n".to_owned(),
    };
    let sitting = Sitting {
        forms: Vec::new(),
        places: Vec::new(),
        shortfalls: vec!["Not everything could be had.".to_owned()],
    };
    let seed = ExamSeed::from_bytes([7; 32]);
    let begun = by("2027-06-12T09:30:00Z");
    let mut register = Register::create(&path, &[text], &seed, &sitting, &[], &begun).unwrap();
    for hour in 10..15 {
        let details = Details::from([("hour".to_owned(), hour.to_string())]);
        let now = by(&format!("2027-06-12T{hour}:30:00Z"));
        register.note(Act::Incident, &now, details).unwrap();
    }
    register.close().unwrap();
    path
}

fn faults(path: &Path, kept: Option<&Head>) -> Vec<String> {
    let found = Register::verify(path, kept).unwrap();
    found.faults.into_iter().map(|fault| fault.what).collect()
}

/// What a person with a database tool can do: the guards of the table are taken away first.
fn tamper(path: &Path, statement: &str) {
    let connection = Connection::open(path).unwrap();
    connection
        .execute_batch("DROP TRIGGER ledger_is_never_changed; DROP TRIGGER ledger_is_never_cut;")
        .unwrap();
    connection.execute_batch(statement).unwrap();
}

#[test]
fn a_register_as_it_was_written_is_found_so() {
    let folder = tempfile::tempdir().unwrap();
    let path = made(folder.path());
    let found = Register::verify(&path, None).unwrap();
    assert_eq!(found.faults, []);
    assert_eq!(found.head.size, 6);
    let register = Register::open(&path).unwrap();
    assert_eq!(register.head().unwrap(), found.head);
    let texts = register.ledger().unwrap();
    let proof = InclusionProof::of(&texts, 3).unwrap();
    assert!(proof.holds());
    assert!(proof.entry.contains("\"hour\":\"12\""));
    assert!(ConsistencyProof::of(&texts, 2).unwrap().holds());
    assert_eq!(InclusionProof::of(&texts, 6), None);
}

#[test]
fn whatever_a_person_with_a_database_tool_does_is_found() {
    for (statement, what) in [
        (
            "UPDATE ledger SET entry = replace(entry, '\"11\"', '\"12\"') WHERE number = 2",
            "does not follow",
        ),
        ("DELETE FROM ledger WHERE number = 2", "numbered 3"),
        (
            "DELETE FROM ledger WHERE number = 5",
            "head that stands beside",
        ),
        (
            "UPDATE ledger SET number = 99 WHERE number = 2; UPDATE ledger SET number = 2 WHERE number = 3; UPDATE ledger SET number = 3 WHERE number = 99",
            "does not follow",
        ),
        (
            "UPDATE shortfall SET sentence = 'Everything was had.'",
            "table shortfall",
        ),
        ("UPDATE input SET content = 'title: other'", "plan.yaml"),
        ("UPDATE seed SET hex = replace(hex, '07', '08')", "table"),
        (
            "INSERT INTO shortfall VALUES (9, 'more')",
            "table shortfall",
        ),
        (
            "CREATE TABLE more (a TEXT)",
            "no entry speaks of the table more",
        ),
        ("DROP TABLE shortfall", "is gone"),
    ] {
        let folder = tempfile::tempdir().unwrap();
        let path = made(folder.path());
        tamper(&path, statement);
        let found = faults(&path, None);
        assert!(
            found.iter().any(|fault| fault.contains(what)),
            "{statement}: {found:?}"
        );
    }
}

#[test]
fn the_ledger_cannot_be_changed_by_accident() {
    let folder = tempfile::tempdir().unwrap();
    let path = made(folder.path());
    let connection = Connection::open(&path).unwrap();
    for statement in ["UPDATE ledger SET entry = ''", "DELETE FROM ledger"] {
        let refused = connection.execute(statement, []).unwrap_err();
        assert!(refused.to_string().contains("only added to"), "{refused}");
    }
}

#[test]
fn a_cut_end_is_found_with_a_head_that_was_kept() {
    let folder = tempfile::tempdir().unwrap();
    let path = made(folder.path());
    let early = Register::open(&path).unwrap().head().unwrap();
    let copy = folder.path().join("copy.register");
    std::fs::copy(&path, &copy).unwrap();
    let mut register = Register::open(&path).unwrap();
    register
        .note(Act::Incident, &by("2027-06-13T09:30:00Z"), Details::new())
        .unwrap();
    let late = register.head().unwrap();
    register.close().unwrap();
    assert_eq!(faults(&path, Some(&early)), Vec::<String>::new());
    assert_eq!(faults(&path, Some(&late)), Vec::<String>::new());
    // The older copy is sound in itself and misses the end.
    assert_eq!(faults(&copy, None), Vec::<String>::new());
    assert!(
        faults(&copy, Some(&late))
            .iter()
            .any(|fault| fault.contains("cut off"))
    );
}

#[test]
fn a_clock_set_back_is_noted_and_not_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = made(folder.path());
    let mut register = Register::open(&path).unwrap();
    register
        .note(Act::Incident, &by("2020-01-01T00:00:00Z"), Details::new())
        .unwrap();
    register.close().unwrap();
    let found = Register::verify(&path, None).unwrap();
    assert_eq!((found.faults, found.clock_set_back), (vec![], vec![6]));
}

#[test]
fn a_register_on_a_read_only_disk_is_checked_where_it_lies() {
    let folder = tempfile::tempdir().unwrap();
    let path = made(folder.path());
    let mut rights = std::fs::metadata(&path).unwrap().permissions();
    rights.set_readonly(true);
    std::fs::set_permissions(&path, rights).unwrap();
    assert_eq!(faults(&path, None), Vec::<String>::new());
}

/// Every version that was released is opened for ever: each script is a register as the program of
/// that version made it.
#[test]
fn old_registers_are_taken_to_this_version_with_an_entry() {
    let scripts = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old");
    let mut tried = 0;
    for script in std::fs::read_dir(scripts).unwrap() {
        let script = std::fs::read_to_string(script.unwrap().path()).unwrap();
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("old.register");
        Connection::open(&path)
            .unwrap()
            .execute_batch(&script)
            .unwrap();
        let old = script.contains("user_version = 1;");
        if old {
            let refused = Register::verify(&path, None);
            assert!(
                matches!(refused, Err(RegisterError::NotARegister { .. })),
                "{refused:?}"
            );
        } else {
            // A check changes nothing, so it reads the tables of that version as they lie.
            assert_eq!(faults(&path, None), Vec::<String>::new());
        }
        let register = Register::open(&path).unwrap();
        assert!(!register.sitting().unwrap().places.is_empty());
        assert!(
            register
                .inputs()
                .unwrap()
                .iter()
                .any(|text| text.name == "plan.yaml")
        );
        if script.contains("user_version = 4;") || script.contains("user_version = 5;") {
            // From version 4 on a text can be corrected.
            let corrected = |texts: Vec<StoredText>| {
                texts.iter().any(|text| text.text.contains("posted twice"))
            };
            assert!(corrected(register.inputs().unwrap()));
            assert!(!corrected(register.inputs_as_drawn().unwrap()));
        }
        let entries = register.ledger().unwrap();
        let last = Entry::read(entries.last().unwrap()).unwrap();
        assert_eq!(last.act, Act::Migrated);
        assert!(last.after.contains_key("candidate"));
        register.close().unwrap();
        assert_eq!(faults(&path, None), Vec::<String>::new());
        tried += 1;
    }
    assert_eq!(tried, 5);
}

/// Before, only the reason of the mark said that a script gave two answers.
#[test]
fn an_old_register_keeps_what_was_answered_twice() {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/old/version-1.sql");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("old.register");
    let old = Connection::open(&path).unwrap();
    old.execute_batch(&std::fs::read_to_string(script).unwrap())
        .unwrap();
    let twice = "answered twice, in line 3 and in line 17: look at the script";
    for (item, part, place, asked, code, reason) in [
        ("theory 1", "theory", 1, "", "", twice),
        ("theory 2", "theory", 2, "", "", "a person must look"),
        ("tasting 373 age", "tasting", 1, "age", "373", twice),
    ] {
        old.execute(
            "INSERT INTO answer (candidate, item, answer, source, line) VALUES ('S-1', ?1, 'A', 'a.csv', 3)",
            [item],
        )
        .unwrap();
        old.execute(
            "INSERT INTO mark VALUES ('S-1', ?1, ?2, 'cane-copper-8', ?3, ?4, 'A', 0, 1000, 1, 0, 1, ?5, '', '')",
            (part, place, asked, code, reason),
        )
        .unwrap();
    }
    drop(old);
    let answers = Register::open(&path).unwrap().answers().unwrap();
    let found: Vec<_> = answers
        .iter()
        .map(|answer| (answer.item.as_str(), answer.second_line))
        .collect();
    assert_eq!(
        found,
        [
            ("tasting 373 age", Some(17)),
            ("theory 1", Some(17)),
            ("theory 2", None)
        ]
    );
    assert_eq!(faults(&path, None), Vec::<String>::new());
}
