//! The warm-up: everybody's first glass, known, poured and counted, and never coded or marked.

use std::path::Path;

use tests::Room;

const EXAM: &str = "examples/certificate";
const NAME: &str = "Obertannmoos";

fn words(path: &Path) -> String {
    let output = std::process::Command::new("pdftotext")
        .args(["-layout", "-enc", "UTF-8"])
        .arg(path)
        .arg("-")
        .output()
        .unwrap();
    assert!(output.status.success());
    let text = String::from_utf8(output.stdout).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The full example with a warm-up of this name.
fn with_warm_up(sample: &str) -> Room {
    let room = Room::with_example("certificate");
    let plan = room.text(&format!("{EXAM}/plan.yaml"));
    let at = plan.find("\ntasting:\n").unwrap() + "\ntasting:\n".len();
    let (before, after) = plan.split_at(at);
    room.put(
        &format!("{EXAM}/plan.yaml"),
        format!("{before}  warm_up: {sample}\n{after}"),
    );
    room
}

fn assembled(room: &Room) {
    room.run(&["assemble", EXAM, "--seed", &"5d".repeat(32)])
        .exits(0);
}

#[test]
fn it_is_poured_counted_and_timed() {
    let room = with_warm_up("pear-obertannmoos");
    let plain = Room::with_example("certificate");
    assembled(&room);
    assembled(&plain);
    let pour = |room: &Room| room.run(&["pour", EXAM, "--json"]).exits(0).json();
    let (with, without) = (pour(&room), pour(&plain));
    let first = &with["samples"][0];
    assert_eq!(first["warm_up"], true);
    assert_eq!(first["sample"], "pear-obertannmoos");
    assert_eq!(
        (&first["glasses_in_room"], &first["bottles_in_kits"]),
        (&20.into(), &4.into())
    );
    let number = |value: &serde_json::Value| value.as_f64().unwrap();
    let more = number(&with["ethanol_grams"]) - number(&without["ethanol_grams"]);
    assert!(
        (more - number(&first["ethanol_grams"])).abs() < 1e-9,
        "{more}"
    );
    let service = |made: &serde_json::Value, what: &str| number(&made["service"][what]);
    // Twenty glasses and a spare one; four small bottles.
    assert_eq!(
        service(&with, "glasses") - service(&without, "glasses"),
        21.0
    );
    assert_eq!(
        service(&with, "kit_bottles") - service(&without, "kit_bottles"),
        4.0
    );
    let steps: Vec<String> = with["times"]
        .as_array()
        .unwrap()
        .iter()
        .map(|s| s["what"].as_str().unwrap().to_owned())
        .collect();
    assert!(
        steps
            .iter()
            .any(|step| step.contains("pour and cover sample W")),
        "{steps:?}"
    );
}

#[test]
fn it_stands_on_the_papers_and_in_no_key() {
    let room = with_warm_up("pear-obertannmoos");
    assembled(&room);
    room.run(&["print", EXAM]).exits(0);
    let papers = room.files(&format!("{EXAM}/papers"));
    let paper = |part: &str| {
        let found: Vec<_> = papers.keys().filter(|name| name.contains(part)).collect();
        assert_eq!(found.len(), 1, "{part}: {:?}", papers.keys());
        words(&room.path(&format!("{EXAM}/papers")).join(found[0]))
    };
    let cover = paper("01-candidate-covers");
    assert!(
        cover.contains("Glass W is a warm-up") && cover.contains(NAME),
        "{cover}"
    );
    let sheets = paper("03-answer-sheets");
    assert_eq!(
        sheets.matches("nothing is asked of it.").count(),
        24,
        "once for each candidate"
    );
    let labels = paper("05-glass-labels");
    assert!(labels.split(' ').filter(|word| *word == "W").count() >= 20);
    let packing = paper("07-packing-lists");
    assert_eq!(packing.matches("taste it first").count(), 4, "{packing}");
    let room_sheet = paper("08-room-sheet");
    assert!(room_sheet.contains("the warm-up, tasted together") && room_sheet.contains(NAME));
    let pour = paper("20-pour-sheet");
    assert!(
        pour.contains("Pour sample W") && pour.contains("W, 20 times")
            || pour.contains("W, 24 times"),
        "{pour}"
    );
    let check = paper("23-kit-check");
    assert!(check.contains("W holds the warm-up") && check.contains("Open sample W"));
    for closed in ["22-key", "21-marker-guide"] {
        assert!(
            !paper(closed).contains(NAME),
            "{closed} speaks of the warm-up"
        );
    }
    // What is to be printed is listed, the spare labels among it.
    assert!(paper("00-print-list").contains("10-spare-glass-labels"));
}

#[test]
fn a_warm_up_changes_no_code_and_no_mark() {
    let marked = |room: &Room| {
        assembled(room);
        room.run(&["mark", EXAM, "--json"]).json()
    };
    let (with, without) = (
        marked(&with_warm_up("pear-obertannmoos")),
        marked(&Room::with_example("certificate")),
    );
    assert_eq!(with["answers"], without["answers"]);
    assert_eq!(with["for_a_person"], without["for_a_person"]);
}

#[test]
fn a_warm_up_that_does_not_do_is_told() {
    let told = |sample: &str, code: i32, words: &str| {
        with_warm_up(sample)
            .run(&["check", EXAM])
            .exits(code)
            .says(words);
    };
    told("pear-obertanmoos", 1, "pear-obertannmoos");
    told(
        "malt-skerryhollin-10",
        0,
        "is everybody's first glass and lingers into the flight",
    );
    let room = with_warm_up("pear-obertannmoos");
    let plan = room.text(&format!("{EXAM}/plan.yaml"));
    let flight = plan
        .split("samples: [")
        .nth(1)
        .unwrap()
        .split(']')
        .next()
        .unwrap();
    let first = flight.split(',').next().unwrap().trim().to_owned();
    room.replace(
        &format!("{EXAM}/plan.yaml"),
        "warm_up: pear-obertannmoos",
        &format!("warm_up: {first}"),
    );
    room.run(&["check", EXAM])
        .exits(1)
        .says("is the warm-up, which everybody knows, and stands in the flight too");
    // A bottle that no panel has tasted.
    let room = with_warm_up("pear-obertannmoos");
    std::fs::remove_file(
        room.path("question-banks/foundation/samples/pear-obertannmoos.panel.csv"),
    )
    .unwrap();
    room.run(&["check", EXAM]).says("has no panel notes");
}
