//! Serving designs against sensory/expected/designs.json: the properties, not the exact square.

use crate::record::{Record, reference_json};
use assembler::glass_codes::{fit_numbers, glass_codes};
use assembler::order_balance::order_balance;
use assembler::williams::williams;
use base::ExamSeed;
use serde_json::Value;
use std::collections::BTreeSet;

fn whole(value: f64) -> usize {
    assert!(value >= 0.0 && value.fract() == 0.0);
    value as usize
}

/// A design of the file, numbered from 0.
fn design(value: &Value) -> Vec<Vec<usize>> {
    let row = |row: &Value| -> Vec<usize> {
        let numbers = row.as_array().unwrap().iter();
        numbers
            .map(|n| usize::try_from(n.as_u64().unwrap()).unwrap() - 1)
            .collect()
    };
    value.as_array().unwrap().iter().map(row).collect()
}

/// Times that each sample stands in each place, and right before each other, where all agree.
fn even_counts(samples: usize, rows: &[Vec<usize>]) -> (usize, usize) {
    let balance = order_balance(samples, rows);
    assert!(balance.places_are_balanced() && balance.carry_over_is_balanced());
    assert_eq!(balance.carry_over_sum_of_squares(), 0.0);
    (balance.in_place[0][0], balance.right_before[0][1])
}

#[test]
fn every_record_is_compared() {
    let file = reference_json("sensory/expected/designs.json");
    let mut groups: BTreeSet<&str> = BTreeSet::new();
    for (group, records) in file["checks"].as_object().unwrap() {
        groups.insert(group);
        let records = records.as_array().unwrap();
        assert!(!records.is_empty(), "{group}");
        for (place, value) in records.iter().enumerate() {
            let record = Record::new(format!("designs.json {group} {place}"), value);
            match group.as_str() {
                "williams" => own_design(&record),
                "examples" => example(&record, value),
                "bad_example" => bad_example(&record, value),
                "codes" => codes(&record),
                _ => panic!("no check for the group {group}"),
            }
            record.finish();
        }
    }
    let checked = BTreeSet::from(["bad_example", "codes", "examples", "williams"]);
    assert_eq!(groups, checked);
}

fn own_design(record: &Record) {
    let samples = whole(record.number("t"));
    let rows = williams(samples);
    let (in_place, before) = even_counts(samples, &rows);
    record.compare("sequences", rows.len() as f64, 0.0);
    record.compare("each_product_per_position", in_place as f64, 0.0);
    record.compare("each_ordered_pair", before as f64, 0.0);
}

/// A printed design is as balanced as ours, by the same count: the count is not blind.
fn example(record: &Record, value: &Value) {
    let samples = whole(record.number("t"));
    let rows = design(record.value("design"));
    assert_eq!(design(&value["design"]), rows);
    assert_eq!(rows.len(), williams(samples).len());
    assert_eq!(
        even_counts(samples, &rows),
        even_counts(samples, &williams(samples))
    );
}

/// A plain rotation is seen through.
fn bad_example(record: &Record, value: &Value) {
    let rows = design(record.value("design"));
    let balance = order_balance(rows[0].len(), &rows);
    record.value("position_balanced");
    record.value("carryover_balanced");
    assert_eq!(value["position_balanced"], balance.places_are_balanced());
    assert_eq!(
        value["carryover_balanced"],
        balance.carry_over_is_balanced()
    );
    record.compare(
        "sum_sq_carryover",
        balance.carry_over_sum_of_squares(),
        1e-12,
    );
}

fn codes(record: &Record) {
    assert!(record.text("rule").starts_with("three digits, unique"));
    record.compare("population_100_999", (100..=999).count() as f64, 0.0);
    record.compare("population_000_999", (0..=999).count() as f64, 0.0);
    // Codes are of the smaller population (no leading nought), less the memorable numbers.
    let fit = fit_numbers();
    assert!(fit.len() < 900 && fit.iter().all(|n| (100..=999).contains(n)));
    let drawn = glass_codes(20, 8, false, &ExamSeed::from_bytes([1; 32]));
    for flight in &drawn.of_group {
        let different: BTreeSet<&String> = flight.iter().collect();
        assert_eq!(different.len(), 8);
        assert!(flight.iter().all(|code| code.len() == 3));
    }
}
