//! `panel`, end to end: keys, twin pairs and discrimination tests from the command line and tables.

use serde_json::Value;
use tests::Room;

#[test]
fn the_key_of_a_record_is_laid_open() {
    let room = Room::with_example("certificate");
    let outcome = room
        .run(&[
            "panel",
            "key",
            "question-banks/foundation",
            "--sample",
            "malt-skerryhollin-10",
        ])
        .exits(0)
        .gives("peat")
        .gives("not expected")
        .gives("reliable to");
    assert!(outcome.out.contains("12 assessors"), "{}", outcome.out);
    let again = room
        .run(&[
            "panel",
            "key",
            "examples/certificate",
            "--sample",
            "calvados-herisson-8",
            "--json",
        ])
        .exits(0);
    let report: Value = serde_json::from_str(&again.out).unwrap();
    let words = report["keys"][0]["stages"][0]["words"].as_array().unwrap();
    for word in words {
        // What one assessor alone says never enters the key.
        if word["cited_by"] == 1 && word["class"] != "contradicting" {
            assert_eq!(word["class"], "not-expected", "{word}");
        }
        let (low, high) = (&word["interval"][0], &word["interval"][1]);
        assert!(low.as_f64().unwrap() <= high.as_f64().unwrap());
    }
    room.run(&[
        "panel",
        "key",
        "examples/certificate",
        "--sample",
        "nothing",
    ])
    .exits(3)
    .says("calvados-herisson-8");
}

#[test]
fn pairs_are_set_side_by_side() {
    let room = Room::with_example("certificate");
    room.run(&["panel", "pairs", "examples/certificate"])
        .exits(0)
        .gives("rum-corvey-gully-7 and")
        .gives("No twin pair");
}

#[test]
fn a_triangle_test_is_worked_out() {
    let room = Room::empty();
    // ISO 4120, table of critical numbers: 18 of 36 at 5 %.
    let triangle = |more: &[&str]| {
        let counts = ["--right", "18", "--answers", "36"];
        room.run(&[&["panel", "test", "triangle"][..], &counts, more].concat())
            .exits(0)
    };
    let outcome = triangle(&["--json"]);
    let report: Value = serde_json::from_str(&outcome.out).unwrap();
    assert_eq!(report["result"]["critical"], 18);
    assert_eq!(report["result"]["significant"], true);
    room.run(&["panel", "test", "paired", "--right", "5", "--answers", "30"])
        .exits(0)
        .gives("25 of 30 right")
        .gives("Probability of so many or more, for either of the two, by guessing");
    // A risk reads as it was typed: 0.07 times 100 is not quite 7.
    triangle(&["--risk", "0.07"])
        .gives("at a risk of 7 %.")
        .gives("Probability of so many or more by guessing");
    for many in [
        &["test", "triangle", "--answers", "1000001"][..],
        &["table", "triangle", "--from", "1000001", "--to", "1000001"],
    ] {
        room.run(&[&["panel"][..], many].concat())
            .exits(3)
            .says("at most 1000000");
    }
    room.run(&[
        "panel",
        "test",
        "triangle",
        "--right",
        "9",
        "--answers",
        "8",
    ])
    .exits(3);
    room.run(&["panel", "test", "hexagon"])
        .exits(2)
        .says("tetrad");
    room.run(&["panel", "table", "duo-trio", "--from", "20", "--to", "20"])
        .exits(0)
        .gives("15");
    room.run(&[
        "panel",
        "a-not-a",
        "--hits",
        "30",
        "--a-served",
        "40",
        "--false-alarms",
        "12",
        "--others-served",
        "40",
    ])
    .exits(0)
    .gives("Fisher");
}

#[test]
fn replicated_answers_and_rankings_come_as_tables() {
    let room = Room::empty();
    room.put(
        "counts.csv",
        "taster,right,answers\nA,4,4\nB,1,4\nC,3,4\nD,4,4\n",
    );
    room.run(&["panel", "test", "triangle", "--table", "counts.csv"])
        .exits(0)
        .gives("12 of 16 right")
        .gives("correlation within a taster");
    room.put("bad.csv", "taster,right,answers\nA,5,4\nB,x,4\n");
    room.run(&["panel", "test", "triangle", "--table", "bad.csv"])
        .exits(1)
        .says("5 right answers of 4")
        .says("no number of answers");
    room.put(
        "ranks.csv",
        "assessor,P,Q,R\nA,1,2,3\nB,1,2,3\nC,1,3,2\nD,1,2,3\nE,1,2,3\n",
    );
    room.run(&["panel", "ranking", "ranks.csv", "--expected-order"])
        .exits(0)
        .gives("P and R")
        .gives("Page");
    // Four assessors who do not agree: Friedman's test is not carried, and no pair is compared.
    room.put(
        "apart.csv",
        "assessor,P,Q,R\nA,1,2,3\nB,3,2,1\nC,1,2,3\nD,2,1,3\n",
    );
    let apart = room
        .run(&["panel", "ranking", "apart.csv"])
        .exits(0)
        .gives("No difference shown at a risk of 5 %, so no two rank sums are compared.");
    assert!(!apart.out.contains("none do"));
}

/// Notes of eight who write these words at the nose.
fn panel(words: &[&str]) -> String {
    let mut text = "assessor,stage,descriptor,intensity\n".to_owned();
    for (n, who) in ["A", "B", "C", "D", "E", "F", "G", "H"].iter().enumerate() {
        for (place, word) in words.iter().enumerate() {
            text += &format!("{who},nose,{word},{}\n", 3 + (n + place) % 3);
        }
    }
    text
}

#[test]
fn a_weak_key_a_twin_pair_and_a_smoky_first_glass_are_said_in_plain_words() {
    let room = Room::with_example("evening-class");
    let record = |id: &str| {
        room.text("question-banks/foundation/samples/malt-ballindorrach-12.yaml")
            .replace("malt-ballindorrach-12", id)
            .lines()
            // What contradicts that malt is what this smoky one is made of.
            .filter(|line| !line.trim_start().starts_with("contradicts:"))
            .map(|line| format!("{line}\n"))
            .collect::<String>()
    };
    let twins = ["apple", "honey", "malt", "vanilla", "biscuit", "lemon"];
    for (id, words) in [
        (
            "smoky-malt",
            &["peat", "smoke", "ash", "lemon", "malt", "iodine"],
        ),
        ("twin-one", &twins),
        ("twin-two", &twins),
    ] {
        room.put(
            &format!("examples/evening-class/samples/{id}.yaml"),
            record(id),
        );
        room.put(
            &format!("examples/evening-class/samples/{id}.panel.csv"),
            panel(words),
        );
    }
    room.put(
        "examples/evening-class/samples/weak-malt.yaml",
        record("weak-malt"),
    );
    room.put(
        "examples/evening-class/samples/weak-malt.panel.csv",
        "assessor,stage,descriptor,intensity\nA,nose,apple,5\nA,nose,honey,5\nA,nose,malt,4\nB,nose,oak,2\n",
    );
    let plan = "examples/evening-class/plan.yaml";
    let samples = room
        .text(plan)
        .lines()
        .find(|line| line.trim_start().starts_with("samples:"))
        .unwrap()
        .to_owned();
    room.replace(
        plan,
        &samples,
        "  samples: [smoky-malt, twin-one, twin-two, weak-malt]",
    );
    room.run(&["check", "examples/evening-class"])
        .exits(1)
        .says("gives no required descriptor")
        .says("twin-one and twin-two are a twin pair")
        .says("smoky-malt may come as the first glass")
        .says("release it in the plan");
    room.run(&["assemble", "examples/evening-class"]).exits(1);
    // A named decision lets it through, and stays to be read in the register.
    room.replace(
        plan,
        "  samples: [smoky-malt, twin-one, twin-two, weak-malt]",
        "  samples: [smoky-malt, twin-one, twin-two, weak-malt]\n  released:\n    - { sample: weak-malt, by: Ines Prado, because: a demonstration without marks }",
    );
    room.run(&["check", "examples/evening-class"])
        .exits(0)
        .says("released by Ines Prado: a demonstration without marks");
    room.run(&["assemble", "examples/evening-class"]).exits(0);
    let register = std::fs::read(room.path("examples/evening-class/sitting.register")).unwrap();
    let words = "was released by Ines Prado".as_bytes();
    assert!(register.windows(words.len()).any(|w| w == words));
}
