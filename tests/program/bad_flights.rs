//! Panels, rooms, bottles and volumes with which no flight can be served: each told with its rule,
//! its line and what to do.

use tests::Room;

const EXAM: &str = "examples/evening-class";
const RECORD: &str = "question-banks/foundation/samples/armagnac-pouychauvet-12.yaml";
const PANEL: &str = "question-banks/foundation/samples/armagnac-pouychauvet-12.panel.csv";
const ROOM: &str = "examples/evening-class/room.yaml";
const PLAN: &str = "examples/evening-class/plan.yaml";

/// What `check` says of the room: each of these words, and for this rule a file, a line and help.
#[track_caller]
fn told(room: &Room, code: i32, rule: &str, words: &str) {
    let outcome = room
        .run(&["check", EXAM])
        .exits(code)
        .says(rule)
        .says(words);
    let from = outcome.err.find(&format!("[{rule}]")).unwrap();
    let message = outcome.err[from..].split("\n\n").next().unwrap();
    assert!(message.contains("--> "), "{rule} has no place:\n{message}");
    let helps = message.contains("hint") || message.contains("allowed");
    assert!(helps, "{rule} says nothing of what to do:\n{message}");
}

fn room() -> Room {
    Room::with_example("evening-class")
}

/// Rows of a panel: assessor, word, intensity, and on which scale.
fn panel(rows: &[(&str, &str, u32, u32)]) -> String {
    let mut text = "assessor,stage,descriptor,intensity,scale\n".to_owned();
    for (assessor, word, intensity, scale) in rows {
        text += &format!("{assessor},nose,{word},{intensity},{scale}\n");
    }
    text
}

#[test]
fn a_panel_of_one_is_refused() {
    let room = room();
    let alone = ["prune", "oak", "vanilla", "fig"].map(|word| ("A", word, 4, 5));
    room.put(PANEL, panel(&alone));
    told(&room, 1, "key-below-floor", "had one assessor");
}

#[test]
fn intensities_that_are_all_equal_are_told() {
    let room = room();
    let words = ["prune", "oak", "vanilla", "fig"];
    let rows: Vec<_> = ["A", "B", "C", "D", "E", "F", "G", "H"]
        .iter()
        .flat_map(|assessor| words.map(|word| (*assessor, word, 3, 5)))
        .collect();
    room.put(PANEL, panel(&rows));
    told(
        &room,
        0,
        "equal-intensities",
        "intensities of this panel are equal",
    );
}

#[test]
fn a_word_on_two_scales_is_a_fault() {
    let room = room();
    room.put(PANEL, panel(&[("A", "oak", 3, 5), ("B", "oak", 60, 100)]));
    told(&room, 1, "two-scales", "\"oak\" is cited on a scale up to");
}

#[test]
fn seats_that_neighbour_themselves_or_nobody_are_told() {
    let room = room();
    room.put(
        ROOM,
        "room: R\ndrawing: |\n  a1 a2 a3 a4 a5 a6\n  b1 b2 b3 b4 b5 b6\nneighbours: [[a1, a1]]\n",
    );
    told(&room, 1, "own-neighbour", "a1");
    room.put(
        ROOM,
        "room: R\ndrawing: |\n  a1 a2 a3 a4 a5 a6 . c1\n  b1 b2 b3 b4 b5 b6\n",
    );
    told(&room, 0, "lonely-seat", "the seat \"c1\" has no neighbour");
}

#[test]
fn more_samples_than_codes_are_said_before_anything_is_drawn() {
    let room = room();
    let samples = "[armagnac-pouychauvet-12, rum-corvey-gully-7, calvados-herisson-8, gin-quillfeather, cognac-thibarneau-15, grappa-corte-passarotta, pisco-huarancay, tequila-tlaquemor-3]";
    room.replace(
        PLAN,
        "[armagnac-pouychauvet-12]",
        &format!("{samples}\n  codes: candidate"),
    );
    let mut roster = "candidate,name,service\n".to_owned();
    for number in 1..=120 {
        roster += &format!("E-{number:03},Name,kit\n");
    }
    room.put("examples/evening-class/roster.csv", roster);
    // The answer by age cannot be asked of all of these; what is looked at here is the codes.
    let outcome = room.run(&["check", EXAM]);
    if outcome.code == 0 {
        outcome.gives("960 glass codes are wanted and");
    } else {
        outcome.says("cannot-be-asked");
        room.replace(
            PLAN,
            "  codes: candidate",
            "  codes: candidate\n  ask: { aroma: { marks: 10, words: 6 } }",
        );
        room.run(&["check", EXAM])
            .exits(0)
            .gives("what a draw of this plan cannot keep")
            .gives("960 glass codes are wanted and")
            .gives("codes come again with other candidates, never within one flight");
    }
}

#[test]
fn a_bottle_weaker_than_what_is_served_is_told() {
    let room = room();
    room.replace(
        PLAN,
        "  samples: [armagnac-pouychauvet-12]",
        "  samples: [armagnac-pouychauvet-12]\n  pour: { strength: 60 }",
    );
    told(&room, 0, "weaker-than-served", "it is served as it is");
}

#[test]
fn volumes_and_bottles_that_hold_nothing_are_faults() {
    let pour = |volume: &str| {
        let room = room();
        room.replace(
            PLAN,
            "  samples: [armagnac-pouychauvet-12]",
            &format!("  samples: [armagnac-pouychauvet-12]\n  pour: {{ volume: {volume} }}"),
        );
        told(&room, 1, "out-of-range", "2 to 60");
    };
    pour("-20");
    pour("0");
    for size in ["0", "-700"] {
        let room = room();
        let text = room.text(RECORD);
        let line = text.lines().find(|line| line.contains("bottle:")).unwrap();
        room.replace(RECORD, line, &format!("  bottle: {size}"));
        let outcome = room.run(&["check", EXAM]).exits(1);
        assert!(
            outcome.err.contains("bottle") || outcome.err.contains("10 to 10000"),
            "{}",
            outcome.err
        );
    }
}

#[test]
fn kits_that_share_codes_are_told() {
    let room = room();
    room.put(
        "examples/evening-class/roster.csv",
        "candidate,name,service\nE-01,One,kit\nE-02,Two,kit\n",
    );
    // Kits have codes of their own unless the plan says otherwise.
    let outcome = room.run(&["check", EXAM]).exits(0);
    assert!(!outcome.err.contains("kits-share-codes"), "{}", outcome.err);
    room.replace(
        PLAN,
        "[armagnac-pouychauvet-12]",
        "[armagnac-pouychauvet-12]\n  kit_codes: shared",
    );
    room.run(&["check", EXAM])
        .exits(0)
        .says("kits-share-codes")
        .says("who has both can match the bottles");
}
