//! `dilute`, end to end: the figures of the reference records, what is refused, and the cautions.

use serde_json::Value;
use tests::{Room, top};

fn figures(arguments: &[&str]) -> Value {
    let mut all = vec!["dilute"];
    all.extend(arguments);
    all.push("--json");
    let outcome = Room::empty().run(&all).exits(0);
    serde_json::from_str(&outcome.out).unwrap()
}

fn figure(report: &Value, name: &str) -> f64 {
    let list = report["figures"].as_array().unwrap();
    let found = list.iter().find(|figure| figure["name"] == name);
    found.unwrap_or_else(|| panic!("no {name} in {report}"))["value"]
        .as_f64()
        .unwrap()
}

#[test]
fn the_reference_records_come_out_of_the_program() {
    // OIML R 22 by the records of sensory/expected/alcohol.json, each with its own source and tolerance.
    let path = top().join("tests/published/reference/sensory/expected/alcohol.json");
    let file: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let mut seen = 0;
    for record in file["checks"].as_array().unwrap() {
        let number = |name: &str| record[name].as_f64().unwrap();
        let near = |made: f64, name: &str, tolerance: &str| {
            let (wanted, within) = (number(name), number(tolerance));
            assert!((made - wanted).abs() <= within, "{made} for {record}");
        };
        match record["kind"].as_str().unwrap() {
            "water_per_100" => {
                let (from, to) = (number("from_vol").to_string(), number("to_vol").to_string());
                let made = figures(&["reduce", "--volume", "100", "--from", &from, "--to", &to]);
                near(figure(&made, "water_ml"), "computed_oiml20", "tol_computed");
            }
            "nosing_pour" => {
                let (from, to) = (number("from_vol").to_string(), number("to_vol").to_string());
                let volume = number("final_ml").to_string();
                let made = figures(&["make", "--volume", &volume, "--from", &from, "--to", &to]);
                near(figure(&made, "spirit_ml"), "spirit_ml", "tol");
                near(figure(&made, "water_ml"), "water_ml", "tol");
            }
            "hydrometer" => {
                let (reading, t) = (number("reading_vol").to_string(), number("t").to_string());
                let made = figures(&["measure", "--reading", &reading, "--temperature", &t]);
                near(figure(&made, "result_percent"), "true_vol20", "tol");
            }
            "units" => {
                let (ml, percent) = (number("ml").to_string(), number("vol_percent").to_string());
                let made = figures(&["scales", &percent, "--volume", &ml]);
                near(figure(&made, "ethanol_g"), "grams", "tol");
                near(figure(&made, "uk_units"), "uk_units", "tol");
                near(figure(&made, "us_drinks"), "us_drinks", "tol");
                near(figure(&made, "who_drinks"), "audit10g", "tol");
            }
            "mix" => {
                let made = figures(&["blend", "1000@80", "1000@0"]);
                assert!((figure(&made, "result_ml") / 1000.0 - number("volume_l")).abs() < 0.01);
                near(figure(&made, "result_percent"), "vol_percent", "tol");
            }
            _ => continue,
        }
        seen += 1;
    }
    assert!(seen > 10, "{seen}");
}

#[test]
fn old_scales_are_read_and_say_their_source() {
    let room = Room::empty();
    room.run(&["dilute", "scales", "80us-proof"])
        .exits(0)
        .gives("40.00")
        .gives("27 CFR 5.1")
        .gives("degrees Tralles")
        .gives("Nobody drives after tasting");
    let made = figures(&[
        "reduce",
        "--grams",
        "655.2",
        "--from",
        "126.4us-proof",
        "--to",
        "46",
    ]);
    assert!((figure(&made, "result_percent") - 46.0).abs() < 1e-9);
}

#[test]
fn what_cannot_be_is_refused() {
    let room = Room::empty();
    room.run(&[
        "dilute", "reduce", "--volume", "700", "--from", "40", "--to", "46",
    ])
    .exits(3)
    .says("above the source")
    .says("water makes nothing stronger");
    room.run(&[
        "dilute", "reduce", "--volume", "-7", "--from", "60", "--to", "46",
    ])
    .exits(3)
    .says("-7 is no volume");
    room.run(&["dilute", "blend", "0@40"])
        .exits(3)
        .says("empty");
    room.run(&["dilute", "scales", "46pints"])
        .exits(2)
        .says("us-proof");
    room.run(&["dilute", "measure", "--density", "1200"])
        .exits(3)
        .says("no mixture");
}
