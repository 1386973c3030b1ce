//! Registers to be maltreated, and numbers to do it by.

use std::path::{Path, PathBuf};

use assembler::Sitting;
use base::{ExamSeed, Purpose, Stream};
use register::{Act, By, Details, Moment, Register, Role, StoredText};

/// A small register with this many entries.
pub fn register(folder: &Path, entries: u64) -> PathBuf {
    let path = folder.join("sitting.register");
    let text = StoredText {
        name: "plan.yaml".to_owned(),
        text: "title: Evening\n".to_owned(),
    };
    let sitting = Sitting {
        forms: Vec::new(),
        places: Vec::new(),
        shortfalls: Vec::new(),
    };
    let seed = ExamSeed::from_bytes([7; 32]);
    let mut made = Register::create(&path, &[text], &seed, &sitting, &[], &by()).unwrap();
    for number in 1..entries {
        note(&mut made, number).unwrap();
    }
    made.close().unwrap();
    path
}

pub fn by() -> By {
    By::new(Role::Proctor, Moment::parse("2027-06-12T09:30:00Z"))
}

pub fn note(register: &mut Register, number: u64) -> Result<(), register::RegisterError> {
    let details = Details::from([("incident".to_owned(), format!("number {number}"))]);
    register.note(Act::Incident, &by(), details).map(|_| ())
}

/// Random numbers that are the same in each run.
pub fn numbers(index: u64) -> Stream {
    Stream::new(&ExamSeed::from_bytes([1; 32]), Purpose::CrossCheck, index)
}
