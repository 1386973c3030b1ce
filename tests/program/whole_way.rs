//! The shipped examples go the whole way, and what comes out is what an examiner needs.

use grader::{Item, Outcome};
use register::Register;
use tests::Room;

/// The seed from which the certificate's recorded answers were written.
const SEED: &str = "6f1d2c3b4a59687706152433425160fedcba98765432100123456789abcdef00";

fn assembled() -> Room {
    let room = Room::with_example("certificate");
    room.run(&["check", "examples/certificate"]).exits(0);
    room.run(&["assemble", "examples/certificate", "--seed", SEED])
        .exits(0);
    room
}

#[test]
fn every_mark_of_the_recorded_answers_has_a_reason_and_lies_in_its_bounds() {
    let room = assembled();
    // Some recorded answers are to nothing on purpose: they are listed, the rest is marked.
    room.run(&["mark", "examples/certificate"])
        .exits(1)
        .gives("Marked");
    let register = Register::open(&room.path("examples/certificate/sitting.register")).unwrap();
    let awards = register.marks().unwrap();
    let sitting = register.sitting().unwrap();
    let items: usize = sitting
        .places
        .iter()
        .map(|place| {
            let form = place
                .form
                .as_ref()
                .and_then(|name| sitting.form(name))
                .unwrap();
            form.questions.len() + place.glasses.len() * 7
        })
        .sum();
    assert_eq!(
        awards.len(),
        items,
        "one award for each thing asked of each candidate"
    );
    for award in &awards {
        let reason = match &award.outcome {
            Outcome::Marked { reason, rule, .. } => {
                assert!(!rule.is_empty(), "{award:?}");
                reason
            }
            Outcome::ForAPerson { why, .. } => why,
        };
        assert!(reason.split_whitespace().count() >= 2, "{award:?}");
        assert!(
            award.marks() >= base::Marks::ZERO && award.marks() <= award.of,
            "{award:?}"
        );
    }
    assert!(
        awards
            .iter()
            .any(|a| matches!(a.item, Item::Tasting { .. }) && a.extra)
    );
    room.run(&["results", "examples/certificate"])
        .exits(0)
        .gives("candidates:");
    let reports = room.files("examples/certificate/results/reports");
    assert_eq!(reports.len(), sitting.places.len());
    let list = room.text("examples/certificate/results/01-class-list.csv");
    assert_eq!(list.lines().count(), sitting.places.len() + 1);
}

#[test]
fn marking_the_same_answers_again_gives_the_same_marks() {
    let room = assembled();
    let path = room.path("examples/certificate/sitting.register");
    room.run(&["mark", "examples/certificate"]).exits(1);
    let first = Register::open(&path).unwrap().marks().unwrap();
    room.run(&["mark", "examples/certificate"]).exits(1);
    assert_eq!(Register::open(&path).unwrap().marks().unwrap(), first);
}

#[test]
fn a_sitting_is_never_overwritten() {
    let room = assembled();
    room.run(&["assemble", "examples/certificate"])
        .exits(0)
        .says("nothing was changed");
    room.run(&[
        "assemble",
        "examples/certificate",
        "--seed",
        &"0".repeat(64),
    ])
    .exits(3)
    .says("from another seed");
    room.replace(
        "examples/certificate/plan.yaml",
        "minutes: 45",
        "minutes: 50",
    );
    room.run(&["assemble", "examples/certificate"])
        .exits(3)
        .says("plan.yaml");
}

#[test]
fn what_is_printed_and_marked_is_what_was_assembled_whatever_became_of_the_bank() {
    let room = assembled();
    std::fs::remove_dir_all(room.path("question-banks")).unwrap();
    room.run(&["mark", "examples/certificate"])
        .exits(1)
        .gives("Marked");
    room.run(&["pour", "examples/certificate"])
        .exits(0)
        .gives("Nobody drives after tasting");
}

#[test]
fn the_small_example_rehearses_and_says_what_to_expect() {
    let room = Room::with_example("evening-class");
    let outcome = room
        .run(&["rehearse", "examples/evening-class", "--sittings", "20"])
        .exits(0);
    for words in ["eliability", "guess", "Buy", "nobody drives after tasting"] {
        assert!(
            outcome.out.contains(words),
            "{words:?} is not in\n{}",
            outcome.out
        );
    }
    let files = room.files("examples/evening-class/rehearsal");
    assert!(files.contains_key("forecast.pdf") && files.contains_key("forecast.json"));
    assert_eq!(
        files
            .keys()
            .filter(|name| name.starts_with("results/reports/"))
            .count(),
        12
    );
}
