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
    // As a sheet and as a page.
    assert_eq!(reports.len(), 2 * sitting.places.len());
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
fn pouring_says_when_with_what_and_how_far_orders_are_from_balance() {
    let room = assembled();
    // 20 candidates in the room and 4 kits, three samples, theory from ten o'clock for 60 minutes and a
    // break: the first answer to a glass is at 11:10. 63 glasses at 20 s are 21 minutes.
    let poured = room.run(&["pour", "examples/certificate"]).exits(0);
    for words in [
        "63 tasting glasses of one kind",
        "22 spit cups",
        "6 l of drinking water",
        "660 g of neutral food",
        "12 small bottles of",
        "11:10",
        "has stood 51 minutes, the last 30",
        "imbalance",
    ] {
        assert!(poured.out.contains(words), "{words:?} in\n{}", poured.out);
    }
    let told = room
        .run(&["check", "examples/certificate", "--json"])
        .exits(0);
    let report: serde_json::Value = serde_json::from_str(&told.out).unwrap();
    let orders = report["orders"].as_array().unwrap();
    assert!(!orders.is_empty());
    for block in orders {
        assert_eq!(block["candidates"], 24);
        // 24 candidates are a whole number of Williams designs of two and of three samples.
        assert_eq!(block["place"]["at_least_percent"], 0.0);
    }
    room.run(&["check", "examples/certificate"])
        .exits(0)
        .gives("before another");
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
        // A sheet and a page for each of twelve.
        24
    );
}

/// What becomes of the odd candidates, as written down in the example's paper before the program
/// was asked: candidate, part of the item's name, what the sentence must hold, marks or none where
/// a person must look.
const ODD: [(&str, &str, &str, Option<&str>); 7] = [
    ("C-003", "theory", "marked", Some("0")),
    ("C-005", "theory", "answered twice", None),
    ("C-006", "producer", "not on the printed list", Some("0")),
    ("C-009", "theory", "not printed with this question", None),
    ("C-010", "aroma", "no answer", Some("0")),
    ("C-004", "theory", "no answer", Some("0")),
    ("C-001", "aroma", "wet gravestone", None),
];

#[test]
fn the_odd_candidates_come_out_as_the_paper_says() {
    let room = assembled();
    room.run(&["mark", "examples/certificate"])
        .exits(1)
        .gives("C-014")
        .gives("handed in 4 minutes late");
    let register = Register::open(&room.path("examples/certificate/sitting.register")).unwrap();
    let awards = register.marks().unwrap();
    for (candidate, asked, words, marks) in ODD {
        let found = awards
            .iter()
            .filter(|a| a.candidate.as_str() == candidate)
            .any(|award| {
                let (part, sentence, given) = match (&award.item, &award.outcome) {
                    (Item::Theory { .. }, Outcome::Marked { reason, marks, .. }) => {
                        ("theory", reason, Some(*marks))
                    }
                    (Item::Theory { .. }, Outcome::ForAPerson { why, .. }) => ("theory", why, None),
                    (Item::Tasting { asked, .. }, Outcome::Marked { reason, marks, .. }) => {
                        (asked.as_str(), reason, Some(*marks))
                    }
                    (Item::Tasting { asked, .. }, Outcome::ForAPerson { why, .. }) => {
                        (asked.as_str(), why, None)
                    }
                };
                part == asked
                    && sentence.contains(words)
                    && given.map(|m| m.to_string()).as_deref() == marks
            });
        assert!(
            found,
            "{candidate}: nothing in {asked} says {words:?} with {marks:?}"
        );
    }
    // A slip is read and a doubled word counts once; a denied word is none.
    let aroma = |candidate: &str, code_place: u32| {
        let award = awards.iter().find(|a| {
            a.candidate.as_str() == candidate
                && matches!(&a.item, Item::Tasting { glass, asked, .. } if *glass == code_place && asked == "aroma")
        });
        award.unwrap().clone()
    };
    let first = format!("{:?}", aroma("C-001", 1).outcome);
    assert_eq!(first.matches("banana (full").count(), 1, "{first}");
    let denied = format!("{:?}", aroma("C-012", 2).outcome);
    assert!(!denied.contains("smoke (full"), "{denied}");
}
