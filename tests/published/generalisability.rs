//! Components of variance and decision studies against t09_g_theory.json.

use crate::data::{Sheet, scores};
use crate::expected::{Departure, Figure, check_file_with};
use serde_json::{Value, json};
use statistics::generalisability::crossed_scores::CrossedScores;
use statistics::generalisability::persons_by_items::{PersonsByItems, persons_by_items};
use statistics::generalisability::persons_by_items_by_markers::{
    PersonsByItemsByMarkers, persons_by_items_by_markers,
};
use statistics::generalisability::persons_by_raters_in_tasks::{
    PersonsByRatersInTasks, persons_by_raters_in_tasks,
};
use statistics::generalisability::restricted_likelihood::restricted_components;

/// The print cuts some coefficients off after three digits, where others are rounded.
const CUT_OFF: [Departure; 3] = [cut_off("[0][0]"), cut_off("[0][1]"), cut_off("[2][0]")];

const fn cut_off(path: &'static str) -> Departure {
    Departure {
        figure: "t9.synth1.d_study_grid",
        path,
        within: 0.001,
        reason: "cut off after three digits, not rounded",
    }
}

#[test]
fn every_record_of_the_generalisability_file() {
    check_file_with("t09_g_theory", compute, &[], &CUT_OFF);
}

fn compute(figure: &Figure) -> Option<Value> {
    match figure.statistic.as_str() {
        "p_x_i" => {
            let made = crossed(figure);
            Some(json!({
                "p": made.person_variance,
                "i": made.item_variance,
                "pi": made.residual_variance,
            }))
        }
        "d_study_12" => {
            let items = figure.parameter("n_i") as usize;
            let made = crossed(figure).decision_study(items).unwrap();
            Some(json!({
                "Erho2": made.generalisability,
                "Phi": made.dependability,
                "SEM_rel": made.relative_error,
                "SEM_abs": made.absolute_error,
            }))
        }
        "d_study_grid" => Some(
            [5, 10, 15, 20]
                .into_iter()
                .map(|items| {
                    let made = crossed(figure).decision_study(items).unwrap();
                    json!([made.generalisability, made.dependability])
                })
                .collect(),
        ),
        "phi_lambda" => {
            let made = crossed(figure);
            let study = made.decision_study(made.items).unwrap();
            let at = |cut| {
                study
                    .dependability_at_cut(cut, made.mean, made.variance_of_mean())
                    .unwrap()
            };
            Some([0.5, 0.6, 0.7, 0.8, 0.9].into_iter().map(at).collect())
        }
        "p_x_i_x_j_anova" => {
            let made = persons_by_items_by_markers(&gleser(figure)).unwrap();
            Some(seven(&made, ["p", "i", "j", "pi", "pj", "ij", "pij"]))
        }
        "p_x_i_x_j_reml" => {
            let made = restricted_components(&gleser(figure)).unwrap();
            assert_eq!(made.held_at_zero, 1);
            Some(seven(
                &made.components,
                ["p", "i", "j", "p:i", "p:j", "i:j", "Residual"],
            ))
        }
        "p_x_r_in_t" => {
            let made = nested(figure);
            Some(json!({
                "p": made.person,
                "t": made.task,
                "rt": made.rater_in_task,
                "pt": made.person_task,
                "prt": made.residual,
            }))
        }
        "d_study_3x4" => {
            let (tasks, raters) = (figure.parameter("n_t"), figure.parameter("n_r"));
            let made = nested(figure)
                .decision_study(tasks as usize, raters as usize)
                .unwrap();
            Some(json!({ "Erho2": made.generalisability, "Phi": made.dependability }))
        }
        _ => None,
    }
}

fn crossed(figure: &Figure) -> PersonsByItems {
    persons_by_items(&scores(&figure.data)).unwrap()
}

fn seven(made: &PersonsByItemsByMarkers, names: [&str; 7]) -> Value {
    let values = [
        made.person,
        made.item,
        made.marker,
        made.person_item,
        made.person_marker,
        made.item_marker,
        made.residual,
    ];
    let pairs = names.into_iter().zip(values);
    Value::Object(pairs.map(|(name, v)| (name.to_owned(), json!(v))).collect())
}

/// Columns J11, J12, J21 and so on: first digit of the item, second of the marker.
fn gleser(figure: &Figure) -> CrossedScores {
    let sheet = Sheet::read(&figure.data[0]);
    let cells = sheet.all_numbers().into_iter().flatten().collect();
    CrossedScores::new(12, 6, 2, cells).unwrap()
}

/// Lines of task, person, rater and score; the raters of each task count on from the last task's.
fn nested(figure: &Figure) -> PersonsByRatersInTasks {
    let sheet = Sheet::read(&figure.data[0]);
    let mut lines = sheet.all_numbers();
    let order = |line: &Vec<f64>| (line[1] as u32, line[0] as u32, line[2] as u32);
    lines.sort_by_key(order);
    let cells = lines.iter().map(|line| line[3]).collect();
    persons_by_raters_in_tasks(&CrossedScores::new(10, 3, 4, cells).unwrap()).unwrap()
}
