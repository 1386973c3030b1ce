//! Runs a file of expected figures: each record is computed and compared in every number, or
//! listed as not yet built; what was seen in print is compared to its printed digits.

use crate::record::{reference_json, reference_path};
use serde_json::Value;
use std::collections::BTreeSet;

/// One record of examination-statistics/expected.
pub struct Figure {
    pub id: String,
    pub statistic: String,
    pub data: Vec<String>,
    pub params: Value,
    value: Value,
    tolerance: f64,
    published: Value,
}

impl Figure {
    fn read(record: &Value) -> Self {
        let text = |key: &str| record[key].as_str().unwrap().to_owned();
        assert!(record["source"].is_string() && record["formula"].is_string());
        let data = record["data"].as_array().unwrap();
        Self {
            id: text("id"),
            statistic: text("statistic"),
            data: data
                .iter()
                .map(|file| file.as_str().unwrap().to_owned())
                .collect(),
            params: record["params"].clone(),
            value: record["value"].clone(),
            tolerance: record["tolerance"].as_f64().unwrap(),
            published: record["published"]["figures"].clone(),
        }
    }

    /// A number among the parameters.
    pub fn parameter(&self, name: &str) -> f64 {
        self.params[name]
            .as_f64()
            .unwrap_or_else(|| panic!("{}: no parameter {name}", self.id))
    }

    fn check(&self, computed: &Value, departures: &mut Vec<&Departure>) {
        compare(&self.id, &self.value, computed, self.tolerance);
        let Some(figures) = self.published.as_object() else {
            assert!(self.published.is_null(), "{}: published figures", self.id);
            return;
        };
        for (path, printed) in figures {
            let at = if path == "value" {
                computed
            } else {
                let pointer = path.replace('[', "/").replace(']', "");
                computed.pointer(&pointer).unwrap()
            };
            let half = half_unit(printed);
            let place = format!("{} as printed, {path}", self.id);
            let known = departures
                .iter()
                .position(|one| one.figure == self.id && one.path == path);
            let Some(known) = known else {
                compare(&place, printed, at, half);
                continue;
            };
            let departure = departures.remove(known);
            assert!(departure.reason.len() > 10, "{place}: no reason");
            let apart = (printed.as_f64().unwrap() - at.as_f64().unwrap()).abs();
            assert!(apart > half, "{place}: agrees, but listed as a departure");
            compare(&place, printed, at, departure.within);
        }
    }
}

/// A figure in print that its own record does not meet to half a unit, with the reason.
pub struct Departure {
    pub figure: &'static str,
    pub path: &'static str,
    pub within: f64,
    pub reason: &'static str,
}

/// Half a unit of the last digit of a number as written in the file. A trailing zero is lost in
/// such a file, which makes the tolerance wider, never narrower.
fn half_unit(printed: &Value) -> f64 {
    let text = printed.to_string();
    let decimals = text.split_once('.').map_or(0, |(_, after)| after.len());
    0.500_000_1 * 10_f64.powi(-i32::try_from(decimals).unwrap())
}

fn compare(place: &str, expected: &Value, computed: &Value, tolerance: f64) {
    match (expected, computed) {
        (Value::Null, Value::Null) => {}
        (Value::String(expected), Value::String(computed)) => {
            assert_eq!(expected, computed, "{place}");
        }
        (Value::Number(expected), Value::Number(computed)) => {
            let (expected, computed) = (expected.as_f64().unwrap(), computed.as_f64().unwrap());
            assert!(
                (expected - computed).abs() <= tolerance,
                "{place}: expected {expected}, computed {computed}, tolerance {tolerance}"
            );
        }
        (Value::Array(expected), Value::Array(computed)) => {
            assert_eq!(expected.len(), computed.len(), "{place}: length");
            for (position, (one, other)) in expected.iter().zip(computed).enumerate() {
                compare(&format!("{place}[{position}]"), one, other, tolerance);
            }
        }
        (Value::Object(expected), Value::Object(computed)) => {
            let names = |of: &serde_json::Map<String, Value>| -> BTreeSet<String> {
                of.keys().cloned().collect()
            };
            assert_eq!(names(expected), names(computed), "{place}: members");
            for (name, one) in expected {
                compare(&format!("{place}.{name}"), one, &computed[name], tolerance);
            }
        }
        _ => panic!("{place}: expected {expected}, computed {computed}"),
    }
}

/// Compares every record of a file. `compute` gives `None` for what is not built yet; such ids
/// must stand in `not_yet`, and an id in `not_yet` that is built (or unknown) fails.
pub fn check_file(name: &str, compute: impl Fn(&Figure) -> Option<Value>, not_yet: &[&str]) {
    check_file_with(name, compute, not_yet, &[]);
}

/// The same, with figures in print from which the record itself departs; one that does not depart
/// fails, as does one that is not there.
pub fn check_file_with(
    name: &str,
    compute: impl Fn(&Figure) -> Option<Value>,
    not_yet: &[&str],
    departures: &[Departure],
) {
    let mut departures: Vec<&Departure> = departures.iter().collect();
    let file = reference_json(&format!("examination-statistics/expected/{name}.json"));
    let mut left: BTreeSet<&str> = not_yet.iter().copied().collect();
    let mut compared = 0;
    for record in file.as_array().unwrap() {
        let figure = Figure::read(record);
        let listed = left.remove(figure.id.as_str());
        match (compute(&figure), listed) {
            (Some(_), true) => panic!("{}: built, but listed as not yet built", figure.id),
            (None, false) => panic!("{}: neither compared nor listed", figure.id),
            (None, true) => {}
            (Some(computed), false) => {
                figure.check(&computed, &mut departures);
                compared += 1;
            }
        }
    }
    assert!(left.is_empty(), "listed, but not in {name}: {left:?}");
    assert!(compared > 0, "{name}: nothing was compared");
    let unmet: Vec<_> = departures
        .iter()
        .map(|one| (one.figure, one.path))
        .collect();
    assert!(unmet.is_empty(), "departures from nothing: {unmet:?}");
}

#[test]
fn every_data_file_is_used_by_a_record() {
    let folder = reference_path("examination-statistics");
    let mut used = BTreeSet::from(["data/SOURCES.tsv".to_owned()]);
    for entry in std::fs::read_dir(folder.join("expected")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        let file = reference_json(&format!("examination-statistics/expected/{name}"));
        for record in file.as_array().unwrap() {
            used.extend(Figure::read(record).data);
        }
    }
    let mut there = BTreeSet::new();
    for entry in std::fs::read_dir(folder.join("data")).unwrap() {
        there.insert(format!(
            "data/{}",
            entry.unwrap().file_name().into_string().unwrap()
        ));
    }
    let unused: Vec<_> = there.difference(&used).collect();
    assert!(unused.is_empty(), "no record uses {unused:?}");
    let missing: Vec<_> = used.difference(&there).collect();
    assert!(missing.is_empty(), "records use {missing:?}");
}

#[test]
#[should_panic(expected = "expected 1.5, computed 1.6")]
fn a_difference_beyond_the_tolerance_fails() {
    let (expected, computed) = (serde_json::json!([1.5]), serde_json::json!([1.6]));
    compare("here", &expected, &computed, 0.01);
}

#[test]
fn printed_digits_give_the_tolerance() {
    assert!((half_unit(&serde_json::json!(0.743)) - 0.0005).abs() < 1e-9);
    assert!((half_unit(&serde_json::json!(12)) - 0.5).abs() < 1e-6);
}
