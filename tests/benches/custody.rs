//! Speed of ledger and seal: entries, checks, proofs, and a register with very many candidates.

use std::hint::black_box;
use std::path::Path;

use assembler::{CandidatePlace, Glass, Sitting};
use base::{CandidateNumber, ExamSeed, SampleId};
use exam_plan::Service;
use register::hex::Digest32;
use register::ledger::check;
use register::merkle;
use register::{Act, By, Details, Entry, Moment, Register, Role};

/// Entries that are acknowledged one by one.
pub(crate) const ENTRIES: u32 = 1_000;

fn by() -> By {
    By::new(Role::Marker, Moment::parse("2027-06-12T09:30:00Z"))
}

fn seed() -> ExamSeed {
    ExamSeed::from_bytes([9; 32])
}

fn empty() -> Sitting {
    Sitting {
        forms: Vec::new(),
        places: Vec::new(),
        shortfalls: Vec::new(),
    }
}

/// A register without candidates.
pub(crate) fn small(folder: &Path) -> Register {
    Register::create(
        &folder.join("small.register"),
        &[],
        &seed(),
        &empty(),
        &[],
        &by(),
    )
    .unwrap()
}

/// Adds entries, each with full synchronisation.
pub(crate) fn acknowledged(register: &mut Register) {
    for number in 0..ENTRIES {
        let details = Details::from([("incident".to_owned(), number.to_string())]);
        register.note(Act::Incident, &by(), details).unwrap();
    }
}

/// The same number of rows of the same length in plain SQLite with full synchronisation.
pub(crate) fn plain(folder: &Path) {
    let file = rusqlite::Connection::open(folder.join("plain.sqlite")).unwrap();
    file.pragma_update(None, "journal_mode", "wal").unwrap();
    file.pragma_update(None, "synchronous", "full").unwrap();
    file.execute(
        "CREATE TABLE entry (number INTEGER PRIMARY KEY, words TEXT)",
        [],
    )
    .unwrap();
    let words = "x".repeat(250);
    for number in 0..ENTRIES {
        file.execute(
            "INSERT INTO entry VALUES (?1, ?2)",
            rusqlite::params![number, words],
        )
        .unwrap();
    }
}

/// The texts of a ledger this long.
pub(crate) fn ledger(entries: u64) -> Vec<String> {
    let mut previous = [0; 32];
    (0..entries)
        .map(|number| {
            let entry = Entry {
                number,
                previous,
                act: Act::Incident,
                by: by(),
                clock_set_back: false,
                details: Details::new(),
                before: Default::default(),
                after: Default::default(),
            };
            let text = entry.text();
            previous = Entry::leaf(&text);
            text
        })
        .collect()
}

/// Checks every entry.
pub(crate) fn checked(texts: &[String]) {
    assert!(check(texts.iter(), None).faults.is_empty());
}

/// The hashes of this many leaves.
pub(crate) fn leaves(number: u32) -> Vec<Digest32> {
    (0..number)
        .map(|n| merkle::leaf_hash(&n.to_be_bytes()))
        .collect()
}

/// The proof for one of them.
pub(crate) fn proof(leaves: &[Digest32]) {
    black_box(merkle::inclusion(leaves, leaves.len() / 3).unwrap());
}

/// A sitting with this many candidates, three glasses each.
pub(crate) fn many(candidates: u32) -> Sitting {
    let glass = |code: u32, sample: &str| Glass {
        code: (100 + code % 900).to_string(),
        sample: SampleId::parse(sample).unwrap(),
    };
    let place = |number: u32| CandidatePlace {
        candidate: CandidateNumber::parse(&format!("C-{number:06}")).unwrap(),
        service: Service::Kit,
        seat: None,
        form: None,
        glasses: vec![
            glass(number, "rum"),
            glass(number + 1, "brandy"),
            glass(number + 2, "gin"),
        ],
    };
    Sitting {
        places: (0..candidates).map(place).collect(),
        ..empty()
    }
}

/// Puts them into one register; its size in bytes.
pub(crate) fn put(folder: &Path, sitting: &Sitting) -> u64 {
    let path = folder.join("large.register");
    Register::create(&path, &[], &seed(), sitting, &[], &by())
        .unwrap()
        .close()
        .unwrap();
    std::fs::metadata(path).unwrap().len()
}

/// Opens it and reads all.
pub(crate) fn read(folder: &Path) {
    let register = Register::open(&folder.join("large.register")).unwrap();
    black_box(register.sitting().unwrap());
}
