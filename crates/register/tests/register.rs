//! A register keeps what was put into it, whole or not at all, and is opened only if it is one.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use assembler::{CandidatePlace, Form, FormQuestion, Glass, Sitting};
use base::{CandidateNumber, ExamSeed, FormName, Marks, QuestionId, SampleId, SeatName};
use exam_plan::Service;
use grader::{Award, Item, Outcome, UnknownWord};
use question_bank::{DrawnNumbers, PrintedOrder};
use register::{
    Act, AnswerEntry, Beside, By, Details, Entry, Moment, Register, RegisterError, Role, StoredText,
};

fn by() -> By {
    By::new(Role::Assembler, Moment::parse("2027-06-12T09:30:00Z"))
}

fn seed() -> ExamSeed {
    ExamSeed::from_bytes([7; 32])
}

fn texts() -> Vec<StoredText> {
    let text = |name: &str, text: &str| StoredText {
        name: name.to_owned(),
        text: text.to_owned(),
    };
    vec![
        text("plan.yaml", "title: Évening\n"),
        text("roster.csv", "candidate,name\nC-1,Ada\n"),
    ]
}

fn number(text: &str) -> CandidateNumber {
    CandidateNumber::parse(text).unwrap()
}

fn sitting() -> Sitting {
    let sample = |id: &str| SampleId::parse(id).unwrap();
    let glass = |code: &str, id: &str| Glass {
        code: code.to_owned(),
        sample: sample(id),
    };
    Sitting {
        forms: vec![Form {
            name: FormName::nth(0).unwrap(),
            questions: vec![
                FormQuestion {
                    question: QuestionId::parse("one").unwrap(),
                    order: PrintedOrder::from_places(vec![2, 0, 1]).unwrap(),
                    drawn: DrawnNumbers::default(),
                    counts: true,
                },
                FormQuestion {
                    question: QuestionId::parse("two").unwrap(),
                    order: PrintedOrder::as_written(0),
                    drawn: DrawnNumbers::parse("strength=62.5 volume=140").unwrap(),
                    counts: false,
                },
            ],
        }],
        places: vec![
            CandidatePlace {
                candidate: number("C-2"),
                service: Service::Room,
                seat: Some(SeatName::parse("a1").unwrap()),
                form: FormName::nth(0),
                glasses: vec![glass("417", "rum"), glass("623", "gin")],
            },
            CandidatePlace {
                candidate: number("C-1"),
                service: Service::Kit,
                seat: None,
                form: None,
                glasses: Vec::new(),
            },
        ],
        shortfalls: vec!["Not everything could be had.".to_owned()],
    }
}

fn awards() -> Vec<Award> {
    let award = |item, outcome| Award {
        candidate: number("C-2"),
        item,
        answer: "B".to_owned(),
        outcome,
        of: Marks::ONE,
        counts: true,
        extra: false,
    };
    vec![
        award(
            Item::Theory {
                number: 1,
                question: QuestionId::parse("one").unwrap(),
            },
            Outcome::Marked {
                marks: Marks::from_thousandths(333),
                reason: "B is marked".to_owned(),
                rule: "best answer".into(),
            },
        ),
        award(
            Item::Tasting {
                glass: 1,
                code: "417".to_owned(),
                sample: SampleId::parse("rum").unwrap(),
                asked: "aroma".to_owned(),
            },
            Outcome::ForAPerson {
                why: "two words are not known".to_owned(),
                near: vec!["oak".to_owned()],
                provisional: Marks::from_thousandths(250),
                words: vec![
                    UnknownWord {
                        word: "oack".to_owned(),
                        near: vec!["oak".to_owned(), "cork".to_owned()],
                    },
                    UnknownWord {
                        word: "zzz".to_owned(),
                        near: Vec::new(),
                    },
                ],
            },
        ),
    ]
}

fn answers() -> Vec<AnswerEntry> {
    vec![AnswerEntry {
        candidate: number("C-2"),
        item: "theory 1".to_owned(),
        answer: "B".to_owned(),
        source: "answers.csv".to_owned(),
        line: 2,
        second_line: None,
        sheet: Some("sheet-2.png".to_owned()),
        keyed_by: Some("R. Vane".to_owned()),
    }]
}

#[test]
fn what_was_put_in_is_read_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sitting.register");
    let mut register = Register::create(&path, &texts(), &seed(), &sitting(), &[], &by()).unwrap();
    assert_eq!(
        register
            .put_marking(answers().into_iter(), awards().iter(), &[], &by())
            .unwrap(),
        1
    );
    register.close().unwrap();
    let register = Register::open(&path).unwrap();
    assert_eq!(register.inputs().unwrap(), texts());
    assert_eq!(register.seed().unwrap(), seed());
    assert_eq!(register.sitting().unwrap(), sitting());
    assert_eq!(register.marks().unwrap(), awards());
    let acts: Vec<String> = register
        .ledger()
        .unwrap()
        .iter()
        .map(|text| Entry::read(text).unwrap().act.to_string())
        .collect();
    assert_eq!(acts, ["assembled", "marked"]);
}

#[test]
fn a_marking_replaces_the_last_one_or_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sitting.register");
    let mut register = Register::create(&path, &texts(), &seed(), &sitting(), &[], &by()).unwrap();
    register
        .put_marking(answers().into_iter(), awards().iter(), &[], &by())
        .unwrap();
    // The same item twice breaks the act in its middle: the marks before it stay.
    let twice: Vec<Award> = awards().into_iter().chain(awards()).collect();
    assert!(
        register
            .put_marking(std::iter::empty(), twice.iter(), &[], &by())
            .is_err()
    );
    assert_eq!(register.marks().unwrap(), awards());
    register
        .put_marking(std::iter::empty(), awards().iter().take(1), &[], &by())
        .unwrap();
    assert_eq!(register.marks().unwrap().len(), 1);
}

fn decided(of: &str, decision: &str) -> Beside {
    Beside {
        act: Act::Decided,
        about: Details::from([("of".to_owned(), of.to_owned())]),
        says: Details::from([("decision".to_owned(), decision.to_owned())]),
    }
}

fn incident(sentence: &str) -> Beside {
    Beside {
        act: Act::Incident,
        about: Details::from([("incident".to_owned(), sentence.to_owned())]),
        says: Details::new(),
    }
}

/// What the ledger says beside acts.
fn said(register: &Register) -> Vec<String> {
    register
        .ledger()
        .unwrap()
        .iter()
        .map(|text| Entry::read(text).unwrap())
        .filter(|entry| matches!(entry.act, Act::Decided | Act::Incident))
        .flat_map(|entry| entry.details.into_values())
        .filter(|words| words.contains(' '))
        .collect()
}

#[test]
fn what_stands_beside_an_act_is_entered_with_it_and_only_where_it_is_new() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sitting.register");
    let release = decided("sample", "the key is released");
    let mut register =
        Register::create(&path, &texts(), &seed(), &sitting(), &[release], &by()).unwrap();
    assert_eq!(said(&register), ["the key is released"]);
    let mut mark = |noted: &[Beside]| {
        register
            .put_marking(answers().into_iter(), awards().iter(), noted, &by())
            .unwrap();
        said(&register).split_off(1)
    };
    let first = [
        incident("C-1, late again"),
        incident("C-2, late again"),
        decided("a", "as oak"),
        decided("b", "as rum"),
    ];
    let once = ["C-1, late again", "C-2, late again", "as oak", "as rum"];
    assert_eq!(mark(&first), once);
    assert_eq!(mark(&first), once, "nothing is said twice");
    // A decision that is taken back and given again is news both times.
    let other = [decided("a", "as peat"), decided("b", "as rum")];
    assert_eq!(mark(&other)[4..], ["as peat"]);
    assert_eq!(mark(&first)[4..], ["as peat", "as oak"]);
    // What breaks takes its entries with it.
    let before = register.head().unwrap();
    let twice: Vec<Award> = awards().into_iter().chain(awards()).collect();
    let noted = [incident("C-3, never seen")];
    assert!(
        register
            .put_marking(std::iter::empty(), twice.iter(), &noted, &by())
            .is_err()
    );
    assert_eq!(register.head().unwrap(), before);
}

#[test]
fn a_correction_of_what_has_moved_since_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sitting.register");
    let mut register = Register::create(&path, &texts(), &seed(), &sitting(), &[], &by()).unwrap();
    register
        .put_marking(answers().into_iter(), awards().iter(), &[], &by())
        .unwrap();
    let seen = register.head().unwrap();
    let mut other = Register::open(&path).unwrap();
    other
        .put_marking(answers().into_iter(), awards().iter().take(1), &[], &by())
        .unwrap();
    let noted = [decided("a", "as oak")];
    let correct = |register: &mut Register, seen| {
        register.put_correction(&[], awards().iter(), Details::new(), &noted, seen, &by())
    };
    let refused = correct(&mut register, &seen);
    assert!(matches!(refused, Err(RegisterError::Moved)), "{refused:?}");
    assert_eq!(register.marks().unwrap().len(), 1);
    let now = register.head().unwrap();
    let after = correct(&mut register, &now).unwrap();
    assert_eq!(register.head().unwrap(), after);
    assert_eq!(register.marks().unwrap(), awards());
    assert_eq!(said(&register), ["as oak"]);
}

#[test]
fn after_a_release_marks_change_by_corrections_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sitting.register");
    let mut register = Register::create(&path, &texts(), &seed(), &sitting(), &[], &by()).unwrap();
    let mark = |register: &mut Register| {
        register.put_marking(answers().into_iter(), awards().iter(), &[], &by())
    };
    let before = register.head().unwrap();
    mark(&mut register).unwrap();
    // A detail that looks like the act is none.
    let lie = Details::from([("x".to_owned(), "{\"act\":\"released\",".to_owned())]);
    register.note(Act::Incident, &by(), lie).unwrap();
    let release = |register: &mut Register, seen| register.put_release(Details::new(), seen, &by());
    let moved = release(&mut register, &before);
    assert!(matches!(moved, Err(RegisterError::Moved)), "{moved:?}");
    assert!(!register.is_released().unwrap());
    let seen = register.head().unwrap();
    let head = release(&mut register, &seen).unwrap();
    assert!(register.is_released().unwrap() && !register.corrected_since_release().unwrap());
    for refused in [
        mark(&mut register).map(|_| head),
        release(&mut register, &head),
    ] {
        assert!(
            matches!(refused, Err(RegisterError::Released)),
            "{refused:?}"
        );
    }
    assert_eq!(register.head().unwrap(), head);
    register
        .put_correction(&[], awards().iter(), Details::new(), &[], &head, &by())
        .unwrap();
    assert!(register.corrected_since_release().unwrap());
}

#[test]
fn the_same_sitting_gives_the_same_file() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str| {
        let path = folder.path().join(name);
        Register::create(&path, &texts(), &seed(), &sitting(), &[], &by())
            .unwrap()
            .close()
            .unwrap();
        std::fs::read(path).unwrap()
    };
    assert!(file("one.register") == file("two.register"));
    let names: Vec<_> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|e| e.unwrap().file_name())
        .collect();
    assert_eq!(names.len(), 2, "nothing half-made is left: {names:?}");
}

#[test]
fn a_register_is_never_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sitting.register");
    std::fs::write(&path, "somebody's").unwrap();
    let refused = Register::create(&path, &texts(), &seed(), &sitting(), &[], &by());
    assert!(
        matches!(refused, Err(RegisterError::Exists(_))),
        "{refused:?}"
    );
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "somebody's");
}

#[test]
fn what_is_no_register_or_of_a_later_version_is_not_opened() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("x.register");
    assert!(matches!(
        Register::open(&path),
        Err(RegisterError::Missing(_))
    ));
    std::fs::write(
        &path,
        "this is a text of some length and no database at all",
    )
    .unwrap();
    assert!(matches!(
        Register::open(&path),
        Err(RegisterError::NotARegister { .. })
    ));
    std::fs::remove_file(&path).unwrap();
    Register::create(&path, &texts(), &seed(), &sitting(), &[], &by())
        .unwrap()
        .close()
        .unwrap();
    let connection = rusqlite::Connection::open(&path).unwrap();
    connection.pragma_update(None, "user_version", 99).unwrap();
    drop(connection);
    let refused = Register::open(&path);
    assert!(
        matches!(&refused, Err(RegisterError::NotARegister { why, .. }) if why.contains("99")),
        "{refused:?}"
    );
}

#[test]
fn a_stored_text_that_was_changed_is_found() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sitting.register");
    Register::create(&path, &texts(), &seed(), &sitting(), &[], &by())
        .unwrap()
        .close()
        .unwrap();
    let connection = rusqlite::Connection::open(&path).unwrap();
    connection
        .execute(
            "UPDATE input SET content = 'title: other' WHERE place = 0",
            [],
        )
        .unwrap();
    drop(connection);
    let read = Register::open(&path).unwrap().inputs();
    assert!(
        matches!(&read, Err(RegisterError::Damaged(why)) if why.contains("plan.yaml")),
        "{read:?}"
    );
}

/// A second writer waits, and is told in the end who holds the register, where the system tells.
#[test]
fn whoever_waits_is_told_who_holds_the_register() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sitting.register");
    let mut register = Register::create(&path, &texts(), &seed(), &sitting(), &[], &by()).unwrap();
    let holder = rusqlite::Connection::open(&path).unwrap();
    holder.execute_batch("BEGIN IMMEDIATE").unwrap();
    let told = register
        .note(Act::Noted, &by(), Details::new())
        .unwrap_err()
        .to_string();
    holder.execute_batch("ROLLBACK").unwrap();
    assert!(told.ends_with("is writing to the register; try again when it has finished"));
    if cfg!(target_os = "linux") {
        let own = format!("(process {})", std::process::id());
        assert!(told.contains(&own), "{told}");
    }
    assert!(register.note(Act::Noted, &by(), Details::new()).is_ok());
}
