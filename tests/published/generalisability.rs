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
use statistics::generalisability::unbalanced_components::unbalanced_components;

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

/// The dyestuff of Davies 1947 (also Box & Tiao 1973, table 5.1.1): six batches, five preparations
/// of each. Published with CRAN's lme4: batch 1764.05, residual 2451.25, criterion 319.6543.
#[test]
fn yields_of_dyestuff_have_the_published_components() {
    let yields = [
        1545, 1440, 1440, 1520, 1580, 1540, 1555, 1490, 1560, 1495, 1595, 1550, 1605, 1510, 1560,
        1445, 1440, 1595, 1465, 1545, 1595, 1630, 1515, 1635, 1625, 1520, 1455, 1450, 1480, 1445,
    ];
    let batches = (0..30).map(|place| place / 5).collect();
    let made = unbalanced_components(&yields.map(f64::from), &[batches]).unwrap();
    assert!((made.effects[0].variance - 1764.05).abs() < 0.005);
    assert!((made.residual.variance - 2451.25).abs() < 0.005);
    assert!((made.criterion - 319.6543).abs() < 0.000_05);
}

/// Three full factors, which the closed form for full tables fits too: one component held at 0.
#[test]
fn a_full_table_of_three_factors_has_the_same_components_either_way() {
    let rows = Sheet::read("data/gleser_12x6x2.csv").all_numbers();
    let (values, effects) = gleser_long(&rows, |_, _, _| true);
    let [p, i, j] = &effects;
    let pair = |one: &[usize], other: &[usize]| -> Vec<usize> {
        one.iter().zip(other).map(|(a, b)| a * 100 + b).collect()
    };
    let all = [
        p.clone(),
        i.clone(),
        j.clone(),
        pair(p, i),
        pair(p, j),
        pair(i, j),
    ];
    let made = unbalanced_components(&values, &all).unwrap();
    let cells = rows.into_iter().flatten().collect();
    let full = restricted_components(&CrossedScores::new(12, 6, 2, cells).unwrap()).unwrap();
    let full = full.components;
    let expected = [
        full.person,
        full.item,
        full.marker,
        full.person_item,
        full.person_marker,
        full.item_marker,
    ];
    for (one, expected) in made.effects.iter().zip(expected) {
        assert!((one.variance - expected).abs() < 1e-5, "{made:?}, {full:?}");
    }
    assert!((made.residual.variance - full.residual).abs() < 1e-5);
    assert_eq!(made.held_at_zero, 1);
}

/// The same marks with a fifth of the cells empty: CRAN's lme4 1.1-31, `lmer(v ~ 1 + (1 | p) +
/// (1 | i) + (1 | p:i))` with the search run to 1e-10.
#[test]
fn a_table_with_gaps_has_the_components_of_lme4() {
    let rows = Sheet::read("data/gleser_12x6x2.csv").all_numbers();
    let (values, [p, i, _]) = gleser_long(&rows, |p, i, j| (p * 7 + i * 3 + j * 5) % 5 != 0);
    assert_eq!(values.len(), 114);
    let both = p.iter().zip(&i).map(|(p, i)| p * 6 + i).collect();
    let made = unbalanced_components(&values, &[p, i, both]).unwrap();
    let found = [
        made.effects[0].variance,
        made.effects[1].variance,
        made.effects[2].variance,
        made.residual.variance,
        made.criterion,
        made.mean,
    ];
    let theirs = [
        0.463_147_8,
        0.588_144_3,
        0.288_204_8,
        0.780_701_8,
        355.194_196_1,
        1.969_533_5,
    ];
    for (one, other) in found.iter().zip(theirs) {
        // Its search is without slopes and stops near the top; the criterion is flat there.
        assert!((one - other).abs() < 2e-6, "{found:?}");
    }
}

/// Marks with the place of person, item and marker, where `keep` says so.
fn gleser_long(
    rows: &[Vec<f64>],
    keep: impl Fn(usize, usize, usize) -> bool,
) -> (Vec<f64>, [Vec<usize>; 3]) {
    let (mut values, mut effects) = (Vec::new(), [Vec::new(), Vec::new(), Vec::new()]);
    for (p, row) in rows.iter().enumerate() {
        for (cell, value) in row.iter().enumerate() {
            let (i, j) = (cell / 2, cell % 2);
            if keep(p, i, j) {
                values.push(*value);
                for (list, place) in effects.iter_mut().zip([p, i, j]) {
                    list.push(place);
                }
            }
        }
    }
    (values, effects)
}
