//! Questions that differ between groups against t08_dif.json.

use crate::data::Sheet;
use crate::expected::{Figure, check_file};
use serde_json::{Value, json};
use statistics::fairness::item_screen::{ItemScreen, Matching, item_screen};
use statistics::fairness::logistic_dif::{LogisticDif, logistic_dif};
use statistics::fairness::mantel_haenszel::{MantelHaenszel, mantel_haenszel};
use statistics::fairness::standardisation::standardised_difference;
use statistics::fairness::strata::{Stratum, strata_by_score};
use statistics::{Confidence, ScoreTable};

const LEVEL: Confidence = Confidence::P95;

#[test]
fn every_record_of_the_fairness_file() {
    check_file("t08_dif", compute, &[]);
}

fn compute(figure: &Figure) -> Option<Value> {
    match figure.statistic.as_str() {
        "mh_chisq" => Some(each(figure, Matching::Total, |made| made.chi_square)),
        "mh_chisq_nocorr" => Some(each(figure, Matching::Total, |made| made.uncorrected)),
        "mh_alpha" => Some(each(figure, Matching::Total, |made| made.odds_ratio)),
        "mh_delta" => Some(each(figure, Matching::Total, |made| made.delta)),
        "mh_se_log_alpha" => Some(each(figure, Matching::Total, |made| {
            made.log_standard_error
        })),
        "mh_chisq_purified" => Some(each(figure, Matching::Purified, |made| made.chi_square)),
        "mh_dif_items_purified" => {
            let flagged = screen(figure, Matching::Purified).flagged;
            // The record counts questions from 1.
            Some(flagged.iter().map(|place| place + 1).collect())
        }
        "logistic_lr_both" => Some(logistic(figure, |made| made.both.chi_square)),
        "logistic_lr_udif" => Some(logistic(figure, |made| made.uniform.chi_square)),
        "logistic_lr_nudif" => Some(logistic(figure, |made| made.non_uniform.chi_square)),
        "logistic_delta_R2_both" => Some(logistic(figure, |made| made.gain)),
        "std_p_dif" => Some(by_question(figure, |right, focal, totals| {
            let strata = strata_by_score(right, focal, totals).unwrap();
            standardised_difference(&strata).unwrap().difference
        })),
        "mh" => {
            let made = admissions(figure);
            Some(json!({
                "chisq": made.chi_square,
                "odds_ratio": made.odds_ratio,
                "ci_low": made.interval.lower,
                "ci_high": made.interval.upper,
            }))
        }
        _ => None,
    }
}

/// 24 questions, then anger and gender; the record's focal group is gender 1.
fn verbal(figure: &Figure) -> (ScoreTable, Vec<bool>) {
    assert_eq!(figure.params["focal"], "Gender = 1");
    let rows = Sheet::read(&figure.data[0]).all_numbers();
    let focal = rows.iter().map(|row| row[25] == 1.0).collect();
    let marks: Vec<&[f64]> = rows.iter().map(|row| &row[..24]).collect();
    (ScoreTable::new(&marks).unwrap(), focal)
}

fn screen(figure: &Figure, matching: Matching) -> ItemScreen {
    let (scores, focal) = verbal(figure);
    item_screen(&scores, &focal, matching, 0.05, LEVEL).unwrap()
}

fn each(figure: &Figure, matching: Matching, of: impl Fn(&MantelHaenszel) -> f64) -> Value {
    let items = screen(figure, matching).items;
    items
        .iter()
        .map(|made| of(made.as_ref().unwrap()))
        .collect()
}

fn by_question(figure: &Figure, of: impl Fn(&[bool], &[bool], &[f64]) -> f64) -> Value {
    let (scores, focal) = verbal(figure);
    let totals = scores.totals();
    (0..scores.items())
        .map(|item| {
            let right: Vec<bool> = scores
                .column(item)
                .iter()
                .map(|mark| *mark == 1.0)
                .collect();
            of(&right, &focal, &totals)
        })
        .collect()
}

fn logistic(figure: &Figure, of: impl Fn(&LogisticDif) -> f64) -> Value {
    by_question(figure, |right, focal, totals| {
        of(&logistic_dif(right, focal, totals).unwrap())
    })
}

/// Lines of decision, gender, department and count; men stand in the numerator.
fn admissions(figure: &Figure) -> MantelHaenszel {
    let sheet = Sheet::read(&figure.data[0]);
    let count = |decision: &str, gender: &str, department: &str| -> usize {
        let wanted = [decision, gender, department];
        let line = sheet.rows.iter().find(|row| row[..3] == wanted).unwrap();
        line[3].parse().unwrap()
    };
    let strata: Vec<Stratum> = ["A", "B", "C", "D", "E", "F"]
        .into_iter()
        .map(|department| Stratum {
            reference_right: count("Admitted", "Male", department),
            reference_wrong: count("Rejected", "Male", department),
            focal_right: count("Admitted", "Female", department),
            focal_wrong: count("Rejected", "Female", department),
        })
        .collect();
    mantel_haenszel(&strata, LEVEL).unwrap()
}
