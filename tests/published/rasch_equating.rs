//! Calibrations of two forms on one scale, for the records of t06_equating.json that ask it.

use crate::data::Sheet;
use crate::expected::Figure;
use serde_json::{Map, Value, json};
use statistics::ScoreTable;
use statistics::equating::moment_linking::mean_mean;
use statistics::equating::rasch_calibration::{concurrent_calibration, fixed_anchor_calibration};
use statistics::equating::three_parameter_curve::ThreeParameterCurve;
use statistics::scaling::rasch_conditional::rasch_conditional;
use statistics::scaling::response_table::ResponseTable;

/// The third, sixth and so on of 36 questions are shared.
fn shared() -> Vec<(usize, usize)> {
    (2..36).step_by(3).map(|place| (place, place)).collect()
}

fn form(file: &str) -> ScoreTable {
    ScoreTable::new(&Sheet::read(file).all_numbers()).unwrap()
}

pub fn compute(figure: &Figure) -> Option<Value> {
    let [x, y] = [0, 1].map(|file| form(&figure.data[file]));
    match figure.statistic.as_str() {
        "rasch_concurrent" => {
            let made = concurrent_calibration(&x, &y, &shared()).unwrap();
            let mut difficulties = Map::new();
            for (place, difficulty) in made.y_difficulties.iter().enumerate() {
                let letter = if place % 3 == 2 { 'c' } else { 'y' };
                difficulties.insert(format!("{letter}{}", place + 1), json!(difficulty));
            }
            for (place, difficulty) in made.x_difficulties.iter().enumerate() {
                if place % 3 != 2 {
                    difficulties.insert(format!("x{}", place + 1), json!(difficulty));
                }
            }
            Some(json!({
                "b_by_item": difficulties,
                "mean_X": made.x_mean,
                "var_Y": made.y_variance,
                "var_X": made.x_variance,
                "loglik": made.log_likelihood,
            }))
        }
        "rasch_fixed_anchor" => {
            let made = fixed_anchor_calibration(&x, &y, &shared()).unwrap();
            Some(json!({
                "b_x": made.x_difficulties,
                "mean_X": made.x_mean,
                "var_X": made.x_variance,
                "loglik": made.log_likelihood,
            }))
        }
        "rasch_cml_anchor_shift" => {
            let [of_x, of_y] = [x, y].map(|form| anchors(&form));
            Some(json!(mean_mean(&of_x, &of_y).unwrap().intercept))
        }
        _ => None,
    }
}

/// The shared questions of a form, calibrated by itself with difficulties that sum to 0.
fn anchors(form: &ScoreTable) -> Vec<ThreeParameterCurve> {
    let made = rasch_conditional(&ResponseTable::from_scores(form).unwrap()).unwrap();
    shared()
        .into_iter()
        .map(|(place, _)| {
            let difficulty = made.difficulties[place].value;
            ThreeParameterCurve::new(1.0, difficulty, 0.0).unwrap()
        })
        .collect()
}
