//! Rehearsals that say what is wanted, and forecasts beside outcomes.

use tests::Room;

/// The seed from which the certificate's recorded answers were written.
const SEED: &str = "6f1d2c3b4a59687706152433425160fedcba98765432100123456789abcdef00";

#[test]
fn a_script_can_ask_whether_an_exam_is_good_enough() {
    let room = Room::with_example("evening-class");
    let rehearse = |wants: &[&str]| {
        let mut arguments = vec!["rehearse", "examples/evening-class", "--sittings", "10"];
        arguments.extend(wants);
        room.run(&arguments)
    };
    rehearse(&["--wants-reliability", "0.99", "--no-shows", "10"])
        .exits(6)
        .gives("Wanted: a reliability of 0.99");
    rehearse(&[
        "--wants-reliability",
        "0.05",
        "--wants-guessers-at-most",
        "50",
    ])
    .exits(0);
    rehearse(&["--wants-reliability", "2"]).exits(2);
}

#[test]
fn a_forecast_is_set_beside_the_outcome_and_kept() {
    let room = Room::with_example("certificate");
    room.run(&["assemble", "examples/certificate", "--seed", SEED])
        .exits(0);
    let compare = || {
        room.run(&[
            "rehearse",
            "examples/certificate",
            "--against",
            "examples/certificate",
            "--sittings",
            "20",
        ])
    };
    compare().exits(3).says("not marked yet");
    // What a comparison would not heed is refused and not dropped.
    let seed = ["--seed", SEED];
    for unheeded in [
        ["--to", "elsewhere"],
        seed,
        ["--error-at-most", "1"],
        ["--wants-reliability", "0.99"],
        ["--wants-guessers-at-most", "1"],
        ["--wants-wrong-at-most", "1"],
    ] {
        let against = ["rehearse", "x", "--against", "y"];
        room.run(&[&against[..], &unheeded[..]].concat())
            .exits(2)
            .says("cannot be used with")
            .says(unheeded[0]);
    }
    room.run(&["mark", "examples/certificate"]).exits(1);
    compare()
        .exits(0)
        .gives("theory: mean share of marks")
        .gives("figures of the class lie where nine in ten should");
    let kept = room.text("examples/certificate/forecast-record.csv");
    assert!(kept.starts_with("sitting,what,forecast,low,high,outcome,inside\n"));
    assert!(kept.lines().count() > 40, "{kept}");
    compare().exits(0).gives("Over 1 sitting kept");
    room.run(&[
        "rehearse",
        "examples/certificate",
        "--against",
        "examples/certificate",
        "--sittings",
        "20",
        "--as-in",
        "examples/certificate",
    ])
    .exits(0)
    .says("As in examples/certificate: theory");
    assert_eq!(
        kept.lines().count(),
        room.text("examples/certificate/forecast-record.csv")
            .lines()
            .count(),
        "the same sitting again takes the place of the first"
    );
    room.put(
        "examples/certificate/forecast-record.csv",
        "something else\n",
    );
    compare()
        .exits(3)
        .says("cannot be read as a table of comparisons");
}

#[test]
fn a_rehearsal_leaves_a_page_with_pictures_and_the_tables_behind_them() {
    let room = Room::with_example("evening-class");
    room.run(&[
        "rehearse",
        "examples/evening-class",
        "--sittings",
        "20",
        "--vocabulary",
        "60",
        "--sensitivity",
        "0.7",
        "--common-words",
        "40",
        "--markers",
        "3",
        "--severity",
        "8",
        "--difficulties-known",
    ])
    .exits(0)
    .gives("With one blind sample the tasting part cannot tell a good taster from a lucky one");
    let page = room.text("examples/evening-class/rehearsal/forecast.html");
    for words in [
        "Evening class, end of term: rehearsal",
        "What a longer tasting part would buy",
        "Who passes without knowing anything",
        "Reliability by two runs of the same people",
        "What happens if a cut moves by one mark",
        "Difficulties are taken as they stand.",
        "Nobody drives after tasting",
        "local law",
    ] {
        assert!(page.contains(words), "{words}");
    }
    assert!(!page.contains("<script"));
    let count = |words: &str| page.matches(words).count();
    // Three scores, two lengths, decisions, guessers, forms; one sample has one serving order.
    assert_eq!((count("<svg"), count("<figure")), (8, 8));
    assert_eq!(count("The numbers behind this picture"), 8);
}
