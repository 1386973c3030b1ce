//! Item analysis against t01_item_analysis.json.

use crate::data::{Sheet, scores};
use crate::expected::{Figure, check_file};
use serde_json::{Value, json};
use statistics::descriptive::correlation_interval::Correlation;
use statistics::items::difficulty::difficulty;
use statistics::items::item_rest_correlation::item_rest_correlations;
use statistics::items::item_total_correlation::item_total_correlations;
use statistics::items::option_table::{OptionTable, option_table};
use statistics::items::upper_lower_groups::upper_lower_groups;
use statistics::{Confidence, Refusal};
use std::collections::BTreeSet;

#[test]
fn every_record_of_the_item_analysis_file() {
    check_file("t01_item_analysis", compute, &[]);
}

fn compute(figure: &Figure) -> Option<Value> {
    let table = scores(&figure.data);
    let level = Confidence::P95;
    // A record says null where a figure is refused.
    let all = |made: Vec<Result<Correlation, Refusal>>| -> Value {
        made.iter()
            .map(|one| or_null(&one.as_ref().map(|c| c.r)))
            .collect()
    };
    match figure.statistic.as_str() {
        "p" => {
            let columns = table.item_columns();
            let share = |column: &Vec<f64>| difficulty(column, 1.0, level).unwrap().share;
            Some(columns.iter().map(|column| json!(share(column))).collect())
        }
        "r_item_total" => Some(all(item_total_correlations(&table, level))),
        "r_item_rest" => Some(all(item_rest_correlations(&table, level))),
        "D27" => Some(json!(upper_lower_groups(&table).unwrap().differences)),
        "option_counts" => {
            let line = |made: &OptionTable| -> Value {
                let counts = made.options.iter().map(|row| row.chosen);
                counts
                    .chain([made.blank])
                    .map(|count| json!(count))
                    .collect()
            };
            Some(options(figure).iter().map(line).collect())
        }
        "option_rest_r" => {
            let line = |made: &OptionTable| -> Value {
                let r = |with: &Result<Correlation, Refusal>| or_null(&with.as_ref().map(|c| c.r));
                made.options.iter().map(|row| r(&row.with_rest)).collect()
            };
            Some(options(figure).iter().map(line).collect())
        }
        "option_mean_total" => {
            let line = |made: &OptionTable| -> Value {
                let means = made
                    .options
                    .iter()
                    .map(|row| or_null(&row.mean_total.as_ref().copied()));
                means.collect()
            };
            Some(options(figure).iter().map(line).collect())
        }
        _ => None,
    }
}

fn or_null<E>(figure: &Result<f64, E>) -> Value {
    figure.as_ref().map_or(Value::Null, |figure| json!(figure))
}

/// The option table of each question; options are the codes of the whole sheet in rising order.
fn options(figure: &Figure) -> Vec<OptionTable> {
    let sheet = Sheet::read(&figure.data[0]);
    let table = scores(&figure.data);
    let totals = table.totals();
    let codes: BTreeSet<&String> = sheet
        .rows
        .iter()
        .flatten()
        .filter(|c| !c.is_empty())
        .collect();
    let printed = figure.params["options"].as_array().unwrap();
    let names: Vec<&str> = codes
        .iter()
        .map(|code| code.as_str())
        .chain(["blank"])
        .collect();
    assert_eq!(json!(names), json!(printed), "{}: options", figure.id);
    (0..table.items())
        .map(|item| {
            let choices: Vec<Option<usize>> = sheet
                .rows
                .iter()
                .map(|row| codes.iter().position(|code| **code == row[item]))
                .collect();
            let rest = table.totals_without(item);
            option_table(&choices, codes.len(), &rest, &totals, Confidence::P95).unwrap()
        })
        .collect()
}
