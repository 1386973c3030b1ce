//! Reliability and errors of measurement against t02_reliability.json.

use crate::data::scores;
use crate::expected::{Figure, check_file};
use serde_json::{Value, json};
use statistics::reliability::alpha_if_deleted::alpha_if_deleted;
use statistics::reliability::cronbach_alpha::cronbach_alpha;
use statistics::reliability::guttman_lambdas::guttman_lambdas;
use statistics::reliability::keats_error::keats_error;
use statistics::reliability::kr20::kr20;
use statistics::reliability::kr21::kr21;
use statistics::reliability::lord_error::{ErrorAtTotal, lord_error};
use statistics::reliability::omega::omega;
use statistics::reliability::split_half::{Split, split_half};
use statistics::reliability::standard_error::standard_error_of_measurement;
use statistics::reliability::standardised_alpha::standardised_alpha;
use statistics::{Confidence, Interval, ScoreTable};

#[test]
fn every_record_of_the_reliability_file() {
    check_file("t02_reliability", compute, &[]);
}

fn compute(figure: &Figure) -> Option<Value> {
    let table = scores(&figure.data);
    let level = Confidence::P95;
    let items = u32::try_from(table.items()).unwrap();
    let limits = |interval: Interval| json!([interval.lower, interval.upper]);
    let marks =
        |errors: Vec<ErrorAtTotal>| -> Value { errors.iter().map(|at| json!(at.marks)).collect() };
    match figure.statistic.as_str() {
        "alpha" => Some(json!(cronbach_alpha(&table, level).unwrap().alpha)),
        "alpha_std" => Some(json!(standardised_alpha(&table).unwrap().alpha)),
        "alpha_ci95" => Some(limits(cronbach_alpha(&table, level).unwrap().interval)),
        "alpha_ci90" => {
            let made = cronbach_alpha(&table, Confidence::P90).unwrap();
            Some(limits(made.interval))
        }
        "alpha_if_deleted" => {
            let made = alpha_if_deleted(&table).unwrap().without;
            Some(made.iter().map(|alpha| json!(alpha.unwrap())).collect())
        }
        "lambda2" => Some(json!(guttman_lambdas(&table).unwrap().lambda2)),
        "kr20" => Some(json!(kr20(&table, level).unwrap().kr20)),
        "kr21" => Some(json!(kr21(&table).unwrap().kr21)),
        "sem" => {
            let reliability = kr20(&table, level).unwrap().kr20;
            let made = standard_error_of_measurement(&table.totals(), reliability).unwrap();
            Some(json!(made.marks))
        }
        "csem_lord" => Some(marks(lord_error(items).unwrap())),
        "csem_keats" => {
            let (twenty, twenty_one) = (kr20(&table, level).unwrap(), kr21(&table).unwrap());
            Some(marks(
                keats_error(items, twenty.kr20, twenty_one.kr21).unwrap(),
            ))
        }
        "split_half_odd_even_SB" => {
            let made = split_half(&table, Split::OddEven, level).unwrap();
            Some(json!(made.spearman_brown))
        }
        "omega_1factor" => Some(json!(omega(&table).unwrap().omega)),
        "omega_loadings" => Some(json!(omega(&table).unwrap().loadings)),
        _ => None,
    }
}

/// Guttman 1945's sixth bound of the attitude data: CRAN's psych 2.2.9, `alpha(attitude)$total`, the
/// column `G6(smc)`, which that package works out of correlations, hence the equal spreads here.
#[test]
fn the_sixth_bound_is_that_of_psych() {
    let rows = crate::data::Sheet::read("data/attitude.csv").all_numbers();
    let n = rows.len() as f64;
    let spreads: Vec<f64> = (0..rows[0].len())
        .map(|place| {
            let mean = rows.iter().map(|row| row[place]).sum::<f64>() / n;
            let squares = rows
                .iter()
                .map(|row| (row[place] - mean) * (row[place] - mean));
            (squares.sum::<f64>() / n).sqrt()
        })
        .collect();
    let equal: Vec<Vec<f64>> = rows
        .iter()
        .map(|row| {
            row.iter()
                .zip(&spreads)
                .map(|(value, spread)| value / spread)
                .collect()
        })
        .collect();
    let made = guttman_lambdas(&ScoreTable::new(&equal).unwrap()).unwrap();
    let sixth = made.lambda6.unwrap();
    assert!((sixth - 0.875_215_137_4).abs() < 1e-9, "{sixth}");
}
