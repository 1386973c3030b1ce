//! Equating of two forms against t06_equating.json.

use crate::data::Sheet;
use crate::equating_by_curves;
use crate::expected::{Departure, Figure, check_file_with};
use crate::rasch_equating;
use serde_json::{Value, json};
use statistics::Confidence;
use statistics::equating::anchor_group::AnchorGroup;
use statistics::equating::chained_equipercentile::chained_equipercentile;
use statistics::equating::chained_linear::chained_linear;
use statistics::equating::circle_arc::{Equivalent, circle_arc};
use statistics::equating::conversion::LinearConversion;
use statistics::equating::equipercentile::{EquipercentileEquating, equipercentile_equating};
use statistics::equating::frequency_estimation::frequency_estimation;
use statistics::equating::levine::{AnchorPlace, levine_observed_score, levine_true_score};
use statistics::equating::linear::{LinearEquating, linear_equating};
use statistics::equating::mean::mean_equating;
use statistics::equating::nominal_weights::nominal_weights;
use statistics::equating::presmoothing::presmoothing;
use statistics::equating::score_distribution::ScoreDistribution;
use statistics::equating::synthetic_population::PopulationWeight;
use statistics::equating::tucker::tucker;

#[test]
fn every_record_of_the_equating_file() {
    check_file_with("t06_equating", compute, &[], &DEPARTURES);
}

const DEPARTURES: [Departure; 7] = [
    weeks("/mean_mean[1]", 2e-6, SIXTH_DIGIT),
    weeks("/mean_sigma[0]", 2e-6, SIXTH_DIGIT),
    weeks("/haebara[0]", 0.002, OTHER_RUN),
    weeks("/haebara[1]", 0.002, OTHER_RUN),
    weeks("/stocking_lord[0]", 0.002, OTHER_RUN),
    weeks("/stocking_lord[1]", 0.002, OTHER_RUN),
    Departure {
        figure: "t6.kb04.linking_D1.7_without27",
        path: "/mean_mean[0]",
        within: 0.0001,
        reason: "cut off after four digits, or remembered so",
    },
];

const SIXTH_DIGIT: &str = "differs by one in the sixth digit, reason unknown";
const OTHER_RUN: &str =
    "the record says that its run agrees with the print to its own tolerance only";

const fn weeks(path: &'static str, within: f64, reason: &'static str) -> Departure {
    Departure {
        figure: "t6.kb04.linking_D1",
        path,
        within,
        reason,
    }
}

fn compute(figure: &Figure) -> Option<Value> {
    if figure.id.starts_with("t6.actmath") {
        random_groups(figure)
    } else if figure.id.starts_with("t6.kbneat") {
        by_anchor(figure)
    } else if figure.id.starts_with("t6.kb36") {
        rasch_equating::compute(figure)
    } else {
        equating_by_curves::compute(figure)
    }
}

fn forms(figure: &Figure) -> (ScoreDistribution, ScoreDistribution) {
    let sheet = Sheet::read(&figure.data[0]);
    let counts = |name: &str| ScoreDistribution::new(sheet.numbers(name)).unwrap();
    (counts("xcount"), counts("ycount"))
}

fn random_groups(figure: &Figure) -> Option<Value> {
    let (x, y) = forms(figure);
    let moments = |form: &ScoreDistribution| {
        json!({
            "mean": form.mean(),
            "sd": form.standard_deviation(),
            "skew": form.skewness(),
            "kurt": form.kurtosis(),
        })
    };
    let smooth = |form: &ScoreDistribution| presmoothing(form, 6).unwrap().fitted;
    let linear = || -> LinearEquating { linear_equating(&x, &y) };
    let percentiles = || -> EquipercentileEquating { equipercentile_equating(&x, &y) };
    match figure.statistic.as_str() {
        "moments" => Some(json!({ "x": moments(&x), "y": moments(&y) })),
        "mean" => {
            let made = mean_equating(&x, &y, Confidence::P95);
            Some(json!(made.conversion.table(x.highest())))
        }
        "linear" => Some(json!(linear().conversion.table(x.highest()))),
        "linear_coef" => Some(line(linear().conversion)),
        "linear_se" => Some(json!(linear().standard_errors)),
        "equipercentile" => Some(json!(percentiles().equivalents)),
        "equipercentile_se" => Some(json!(percentiles().standard_errors)),
        "circle_arc" => Some(arc(x.mean(), y.mean(), x.highest())),
        "loglinear_deg6_fitted" => {
            Some(json!({ "x": smooth(&x).counts(), "y": smooth(&y).counts() }))
        }
        "equipercentile_loglinear_deg6" => {
            let made = equipercentile_equating(&smooth(&x), &smooth(&y));
            Some(json!(made.equivalents))
        }
        _ => None,
    }
}

fn line(made: LinearConversion) -> Value {
    json!({ "slope": made.slope, "intercept": made.intercept })
}

fn arc(x: f64, y: f64, highest: usize) -> Value {
    let end = Equivalent {
        x: highest as f64,
        y: highest as f64,
    };
    let start = Equivalent { x: 0.0, y: 0.0 };
    let made = circle_arc(start, Equivalent { x, y }, end).unwrap();
    json!(made.table(highest))
}

/// A form of 36 marks with an anchor of 12 inside it.
fn group(file: &str) -> AnchorGroup {
    let sheet = Sheet::read(file);
    let marks = |name: &str| -> Vec<usize> {
        let numbers = sheet.numbers(name);
        numbers.iter().map(|mark| *mark as usize).collect()
    };
    AnchorGroup::new(&marks("total"), &marks("anchor"), 36, 12).unwrap()
}

fn by_anchor(figure: &Figure) -> Option<Value> {
    let (x, y) = (group(&figure.data[0]), group(&figure.data[1]));
    let (alone, halves) = (PopulationWeight::X_ALONE, PopulationWeight::HALVES);
    let levine = |weight| {
        let made = levine_observed_score(&x, &y, AnchorPlace::Internal, weight).unwrap();
        line(made.conversion)
    };
    let chained = || chained_linear(&x, &y).unwrap();
    let mean = x.moments().total_mean;
    match figure.statistic.as_str() {
        "tucker_w1" => Some(line(tucker(&x, &y, alone).unwrap().conversion)),
        "tucker_w0.5" => Some(line(tucker(&x, &y, halves).unwrap().conversion)),
        "tucker_mean_w1" => {
            let made = tucker(&x, &y, alone).unwrap().mean_conversion();
            Some(json!(made.intercept))
        }
        "levine_w1" => Some(levine(alone)),
        "levine_w0.5" => Some(levine(halves)),
        "levine_true" => {
            let made = levine_true_score(&x, &y, AnchorPlace::Internal).unwrap();
            Some(line(made))
        }
        "chained_linear" => Some(line(chained())),
        "nominal_weights_mean_w1" => Some(json!(nominal_weights(&x, &y, alone).unwrap().intercept)),
        "circle_arc_chained" => Some(arc(mean, chained().at(mean), 36)),
        "circle_arc_tucker_w1" => {
            let made = tucker(&x, &y, alone).unwrap();
            Some(arc(made.x_mean, made.y_mean, 36))
        }
        "freq_estimation_equip_w1" => {
            let made = frequency_estimation(&x, &y, alone).unwrap();
            Some(json!(made.equipercentile()))
        }
        "chained_equip" => Some(json!(chained_equipercentile(&x, &y).unwrap())),
        _ => None,
    }
}
