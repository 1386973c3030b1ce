//! Consistency and accuracy of decisions against t03_decision_consistency.json.

use crate::data::{Sheet, scores};
use crate::expected::{Figure, check_file};
use serde_json::{Value, json};
use statistics::Confidence;
use statistics::decision::bivariate_normal::normal_consistency;
use statistics::decision::decision_figures::DecisionFigures;
use statistics::decision::four_parameter_beta::FourParameterBeta;
use statistics::decision::hanson_brennan::hanson_brennan;
use statistics::decision::huynh::huynh;
use statistics::decision::livingston_lewis::{decisions_with_binomial_errors, livingston_lewis};
use statistics::decision::subkoviak::subkoviak;
use statistics::reliability::cronbach_alpha::cronbach_alpha;

#[test]
fn every_record_of_the_decision_file() {
    check_file("t03_decision_consistency", compute, &[]);
}

fn compute(figure: &Figure) -> Option<Value> {
    match figure.statistic.as_str() {
        "livingston_lewis" if figure.data.is_empty() => Some(from_parameters(figure)),
        "livingston_lewis" => {
            let (totals, reliability) = totals_and_reliability(figure);
            let (maximum, cut) = (figure.parameter("max"), figure.parameter("cut"));
            let made = livingston_lewis(&totals, reliability, 0.0, maximum, cut).unwrap();
            let mut value = with_shares(&made.true_shares, &made.decisions);
            value["etl"] = json!(made.effective_length);
            Some(value)
        }
        "hanson_brennan" => {
            let (totals, reliability) = totals_and_reliability(figure);
            let (items, cut) = (figure.parameter("max"), figure.parameter("cut"));
            let made = hanson_brennan(&totals, reliability, items as u32, cut as u32).unwrap();
            let mut value = with_shares(&made.true_shares, &made.decisions);
            value["lords_k"] = json!(made.lords_k);
            Some(value)
        }
        "huynh" => {
            let table = scores(&figure.data);
            assert_eq!(table.items() as f64, figure.parameter("max"));
            let made = huynh(&table, figure.parameter("cut") as u32).unwrap();
            Some(json!({
                "kr21": made.kr21,
                "alpha": made.alpha,
                "beta": made.beta,
                "p_pass": made.passing,
                "p": made.agreement,
                "kappa": made.kappa,
            }))
        }
        "subkoviak" => {
            let (totals, reliability) = totals_and_reliability(figure);
            let (items, cut) = (figure.parameter("max"), figure.parameter("cut"));
            let made = subkoviak(&totals, reliability, items as u32, cut as u32).unwrap();
            Some(json!({ "p": made.agreement, "kappa": made.kappa }))
        }
        "z0" => {
            let pair = |tenths: u32| {
                let reliability = f64::from(tenths) / 10.0;
                let made = normal_consistency(figure.parameter("z"), reliability).unwrap();
                json!([made.agreement, made.kappa])
            };
            Some((1..=9).map(pair).collect())
        }
        _ => None,
    }
}

fn from_parameters(figure: &Figure) -> Value {
    let shares = FourParameterBeta::given(
        figure.parameter("l"),
        figure.parameter("u"),
        figure.parameter("alpha"),
        figure.parameter("beta"),
    )
    .unwrap();
    let cut = figure.parameter("cut") / figure.parameter("max");
    let made = decisions_with_binomial_errors(&shares, figure.parameter("etl"), cut).unwrap();
    decisions(&made)
}

fn decisions(made: &DecisionFigures) -> Value {
    assert!((made.accuracy + made.wrongly_passed + made.wrongly_failed - 1.0).abs() < 1e-12);
    json!({
        "p": made.agreement,
        "p_c": made.by_chance,
        "kappa": made.kappa,
        "accuracy": made.accuracy,
    })
}

fn with_shares(shares: &FourParameterBeta, made: &DecisionFigures) -> Value {
    let mut value = decisions(made);
    value["l"] = json!(shares.lower);
    value["u"] = json!(shares.upper);
    value["alpha"] = json!(shares.alpha);
    value["beta"] = json!(shares.beta);
    value
}

/// The totals of a record with the reliability it states, or coefficient alpha of its scores.
fn totals_and_reliability(figure: &Figure) -> (Vec<f64>, f64) {
    if figure.data == ["data/actmath_freq.csv"] {
        let sheet = Sheet::read(&figure.data[0]);
        let counts = sheet.numbers("xcount");
        let mut totals = Vec::new();
        for (score, count) in sheet.numbers("scale").into_iter().zip(counts) {
            totals.extend(std::iter::repeat_n(score, count as usize));
        }
        return (totals, figure.parameter("reliability"));
    }
    let table = scores(&figure.data);
    let alpha = cronbach_alpha(&table, Confidence::P95).unwrap().alpha;
    (table.totals(), alpha)
}
