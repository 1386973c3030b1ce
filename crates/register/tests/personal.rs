//! People in a register: kept apart, put right, erased, removed; nothing of them stays in the file, and
//! the ledger holds all the while. Old registers included.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::path::{Path, PathBuf};

use base::{CandidateNumber, ExamSeed};
use exam_plan::{People, Person};
use register::seal::Secret;
use register::{Act, By, Details, Identity, Moment, Register, RegisterError, Role, unlock};
use rusqlite::Connection;

fn by() -> By {
    By::new(Role::ChiefExaminer, Moment::parse("2031-06-12T09:30:00Z"))
}

fn people() -> People {
    [
        ("S-1", "Ilse Vandermoor"),
        ("S-2", "Tomás Quirrel"),
        ("S-3", "Aiko Brandt"),
    ]
    .into_iter()
    .map(|(number, name)| {
        let person = Person {
            name: name.to_owned(),
            note: None,
        };
        (CandidateNumber::parse(number).unwrap(), person)
    })
    .collect()
}

/// A register as the program of an earlier version made it.
fn old(folder: &Path, version: u32) -> PathBuf {
    let script =
        Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/old/version-{version}.sql"));
    let path = folder.join("sitting.register");
    Connection::open(&path)
        .unwrap()
        .execute_batch(&std::fs::read_to_string(script).unwrap())
        .unwrap();
    path
}

/// Whether these words stand anywhere in the file or its companions, deleted or not.
fn holds(path: &Path, words: &str) -> bool {
    ["", "-wal", "-shm"].iter().any(|ending| {
        let name = format!("{}{ending}", path.display());
        std::fs::read(name).is_ok_and(|bytes| {
            bytes
                .windows(words.len())
                .any(|window| window == words.as_bytes())
        })
    })
}

fn put(register: &mut Register, act: Act, identity: &Identity) -> Result<(), RegisterError> {
    let seen = register.head()?;
    register.put_identity(act, Details::new(), identity, &seen, &by())?;
    assert!(register.forget_what_was_deleted()?);
    Ok(())
}

fn sound(path: &Path) {
    assert_eq!(Register::verify(path, None).unwrap().faults, []);
}

#[test]
fn people_go_out_of_the_texts_of_every_old_register_and_the_seal_still_binds() {
    for version in 1..=5 {
        let folder = tempfile::tempdir().unwrap();
        let path = old(folder.path(), version);
        let mut register = Register::open(&path).unwrap();
        assert_eq!(register.identity().unwrap(), Identity::InTexts);
        assert!(holds(&path, "Vandermoor"), "version {version}");
        let drawn = register.digests_as_drawn().unwrap();
        let beside = Identity::beside(&people(), &ExamSeed::from_bytes([8; 32]));
        put(&mut register, Act::PersonCorrected, &beside).unwrap();
        assert_eq!(register.identity().unwrap(), beside);
        assert_eq!(register.digests_as_drawn().unwrap(), drawn);
        let roster = register
            .inputs()
            .unwrap()
            .into_iter()
            .find(|text| text.name == "roster.csv")
            .unwrap();
        assert!(roster.text.contains("S-2,room"), "{}", roster.text);
        register.close().unwrap();
        for name in ["Vandermoor", "Quirrel", "Brandt"] {
            assert!(!holds(&path, name), "{name} in version {version}");
        }
        sound(&path);
    }
}

#[test]
fn locked_people_open_for_the_passphrase_and_are_gone_after_their_time() {
    let folder = tempfile::tempdir().unwrap();
    let path = old(folder.path(), 5);
    let mut register = Register::open(&path).unwrap();
    let secret = Secret::new("heron lantern forty gravel".to_owned());
    let locked = Identity::locked(&people(), &secret).unwrap();
    put(&mut register, Act::PersonCorrected, &locked).unwrap();
    let Identity::Locked(bytes) = register.identity().unwrap() else {
        panic!("not locked");
    };
    assert_eq!(unlock(&bytes, &secret).unwrap(), people());
    assert!(!holds(&path, "Quirrel"));
    // Somebody else acted meanwhile: nothing is changed.
    let seen = register.head().unwrap();
    register.note(Act::Incident, &by(), Details::new()).unwrap();
    let late = register.put_identity(
        Act::Expired,
        Details::new(),
        &Identity::Removed,
        &seen,
        &by(),
    );
    assert!(matches!(late, Err(RegisterError::Moved)), "{late:?}");
    put(&mut register, Act::Expired, &Identity::Removed).unwrap();
    assert_eq!(register.identity().unwrap(), Identity::Removed);
    register.close().unwrap();
    assert!(!holds(&path, "age-encryption.org"));
    sound(&path);
}

#[test]
fn of_who_was_erased_not_even_a_commitment_stays() {
    let folder = tempfile::tempdir().unwrap();
    let path = old(folder.path(), 4);
    let mut register = Register::open(&path).unwrap();
    let beside = Identity::beside(&people(), &ExamSeed::from_bytes([8; 32]));
    put(&mut register, Act::PersonCorrected, &beside).unwrap();
    let read = |path: &Path| -> Vec<String> {
        let connection = Connection::open(path).unwrap();
        let mut select = connection
            .prepare("SELECT candidate || ' ' || salt || ' ' || digest FROM person")
            .unwrap();
        select
            .query_map([], |row| row.get(0))
            .unwrap()
            .map(Result::unwrap)
            .collect()
    };
    let before = read(&path);
    assert_eq!(before.len(), 3);
    let Identity::SeparateFile(mut all) = beside else {
        panic!("not beside");
    };
    all.retain(|bound| bound.candidate.as_str() != "S-2");
    put(
        &mut register,
        Act::PersonErased,
        &Identity::SeparateFile(all),
    )
    .unwrap();
    register.close().unwrap();
    let after = read(&path);
    assert_eq!(after.len(), 2);
    let gone = before.iter().find(|row| row.starts_with("S-2")).unwrap();
    for part in gone.split(' ').skip(1) {
        assert!(!holds(&path, part), "{part}");
    }
    sound(&path);
}

#[test]
fn a_commitment_that_was_changed_beside_the_ledger_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = old(folder.path(), 5);
    let mut register = Register::open(&path).unwrap();
    let beside = Identity::beside(&people(), &ExamSeed::from_bytes([8; 32]));
    put(&mut register, Act::PersonCorrected, &beside).unwrap();
    register.close().unwrap();
    sound(&path);
    Connection::open(&path)
        .unwrap()
        .execute("DELETE FROM person WHERE candidate = 'S-1'", [])
        .unwrap();
    let found = Register::verify(&path, None).unwrap().faults;
    assert!(
        found.iter().any(|f| f.what.contains("table person")),
        "{found:?}"
    );
}
