//! Small assembly and seating problems against assessment-standards/forms.json, whose answers were
//! found by trying everything.

use std::collections::BTreeSet;

use crate::record::{Record, reference_json};
use assembler::colouring::{colour, evenly};
use assembler::form_explain::{Reason, explain};
use assembler::form_feasible::{Feasible, clauses, feasible};
use assembler::form_model::{FormModel, ModelItem, ModelLine, ModelSum, ModelTarget, WHOLE};
use assembler::form_search::{Effort, search_forms};
use base::{ExamSeed, Purpose, Stream};
use serde_json::Value;

fn whole(value: &Value) -> usize {
    usize::try_from(value.as_u64().unwrap()).unwrap()
}

/// The case as a program of ours: information as near as possible to more than there can be.
fn program(record: &Record) -> FormModel {
    let items = record.value("items").as_array().unwrap();
    let topics = record.value("topics").as_object().unwrap();
    let names: Vec<&String> = topics.keys().collect();
    let all = items.len();
    let info: Vec<i64> = items
        .iter()
        .map(|item| (item["info"].as_f64().unwrap() * WHOLE as f64 / 100.0).round() as i64)
        .collect();
    let line_of = |item: &Value| {
        let topic = item["topic"].as_str().unwrap();
        names
            .iter()
            .position(|name| *name == topic)
            .unwrap_or(names.len())
    };
    let mut lines: Vec<ModelLine> = topics
        .iter()
        .map(|(name, bounds)| ModelLine {
            words: format!("topic {name}"),
            place: None,
            least: whole(&bounds[0]),
            most: whole(&bounds[1]),
        })
        .collect();
    // Topics that the case does not bound.
    lines.push(ModelLine {
        words: "other topics".to_owned(),
        place: None,
        least: 0,
        most: all,
    });
    FormModel {
        items: items
            .iter()
            .enumerate()
            .map(|(number, item)| ModelItem {
                name: number.to_string(),
                line: line_of(item),
                shared_counts: true,
            })
            .collect(),
        lines,
        forms: 1,
        length: whole(record.value("length")),
        anchors: Vec::new(),
        enemies: record
            .value("enemies")
            .as_array()
            .unwrap()
            .iter()
            .map(|pair| (whole(&pair[0]), whole(&pair[1])))
            .collect(),
        overlap: None,
        sums: vec![ModelSum {
            words: "words".to_owned(),
            place: None,
            weights: items
                .iter()
                .map(|item| item["words"].as_i64().unwrap())
                .collect(),
            least: None,
            most: record.value("max_words").as_i64(),
        }],
        sets: Vec::new(),
        targets: vec![ModelTarget {
            words: "information".to_owned(),
            wanted: info.iter().sum(),
            weights: info,
        }],
    }
}

#[test]
fn assembly_cases() {
    let file = reference_json("assessment-standards/forms.json");
    assert!(file["assembly"]["definition"].is_string());
    let cases = file["assembly"]["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 2);
    for (number, case) in cases.iter().enumerate() {
        let record = Record::new(format!("forms.json assembly {number}"), case);
        let model = program(&record);
        let all: BTreeSet<_> = clauses(&model).into_iter().collect();
        let effort = Effort::usual(&model);
        let found = search_forms(&model, &ExamSeed::from_bytes([2; 32]), &effort);
        record.compare("feasible_forms", count_by_trying(&model) as f64, 0.0);
        let best = record.value("best_info");
        let forms = record.value("best_forms").as_array().unwrap();
        if let Some(best) = best.as_f64() {
            assert_eq!(feasible(&model, &all), Feasible::Yes);
            let found = found.unwrap();
            let info: i64 = found.forms[0]
                .iter()
                .map(|i| model.targets[0].weights[*i])
                .sum();
            assert!(
                (info as f64 * 100.0 / WHOLE as f64 - best).abs() < 1e-9,
                "{info}"
            );
            let form: Vec<Value> = found.forms[0].iter().map(|&i| Value::from(i)).collect();
            assert!(forms.contains(&Value::from(form)), "{found:?}");
        } else {
            assert!(forms.is_empty());
            assert_eq!(found, None);
            assert_eq!(feasible(&model, &all), Feasible::No);
            let Reason::Impossible(why) = explain(&model) else {
                panic!("an impossible case is explained");
            };
            assert!(
                why.words.contains("topic A") && !why.remedies.is_empty(),
                "{why:?}"
            );
        }
        record.finish();
    }
}

/// The number of sound forms, counted one by one.
fn count_by_trying(model: &FormModel) -> usize {
    (0..1_u32 << model.items.len())
        .filter(|set| {
            let on: Vec<usize> = (0..model.items.len())
                .filter(|i| set & (1 << i) != 0)
                .collect();
            let words: i64 = on.iter().map(|i| model.sums[0].weights[*i]).sum();
            on.len() == model.length
                && words <= model.sums[0].most.unwrap()
                && model
                    .enemies
                    .iter()
                    .all(|(a, b)| !(on.contains(a) && on.contains(b)))
                && model.lines.iter().enumerate().all(|(line, bounds)| {
                    let has = on.iter().filter(|i| model.items[**i].line == line).count();
                    (bounds.least..=bounds.most).contains(&has)
                })
        })
        .count()
}

#[test]
fn seating_cases() {
    let file = reference_json("assessment-standards/forms.json");
    assert!(file["seating"]["definition"].is_string());
    let cases = file["seating"]["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 4);
    for case in cases {
        let record = Record::new(format!("forms.json seating {}", case["name"]), case);
        assert!(!record.text("name").is_empty());
        let seats = whole(record.value("seats"));
        let neighbours: Vec<(usize, usize)> = record
            .value("neighbours")
            .as_array()
            .unwrap()
            .iter()
            .map(|pair| (whole(&pair[0]), whole(&pair[1])))
            .collect();
        // The fewest forms with which neighbours all differ, dealt as evenly as our colouring does
        // or unevenly where that needs fewer.
        let mut fewest = 0;
        for forms in 1..=seats {
            let mut stream = Stream::new(&ExamSeed::from_bytes([4; 32]), Purpose::Seats, 0);
            let dealt = colour(seats, &neighbours, &evenly(seats, forms), &mut stream);
            if dealt.conflicts.is_empty() {
                fewest = forms;
                break;
            }
            // With one form any two neighbours collide; nothing need be tried.
            assert!(
                forms == 1 || dealt.shown_impossible,
                "{forms} forms were not shown to be too few"
            );
        }
        record.compare("min_forms", fewest as f64, 0.0);
        record.finish();
    }
}
