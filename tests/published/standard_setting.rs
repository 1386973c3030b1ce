//! Cut scores against t07_standard_setting.json.

use crate::data::Sheet;
use crate::expected::{Figure, check_file};
use serde_json::{Value, json};
use statistics::agreement::fleiss_kappa::fleiss_kappa;
use statistics::agreement::intraclass_correlation::intraclass_correlation;
use statistics::agreement::krippendorff_alpha::{Scale, krippendorff_alpha};
use statistics::agreement::rating_table::RatingTable;
use statistics::reliability::cronbach_alpha::cronbach_alpha;
use statistics::standard_setting::angoff::{AngoffCut, angoff};
use statistics::standard_setting::angoff_consistency::{JudgeConsistency, angoff_consistency};
use statistics::standard_setting::bookmark::bookmark;
use statistics::standard_setting::borderline_group::borderline_group;
use statistics::standard_setting::borderline_regression::borderline_regression;
use statistics::standard_setting::contrasting_fewest_errors::contrasting_fewest_errors;
use statistics::standard_setting::contrasting_logistic::contrasting_logistic;
use statistics::standard_setting::contrasting_normal::contrasting_normal;
use statistics::standard_setting::ebel::{EbelCell, ebel};
use statistics::standard_setting::hofstee::{HofsteeJudgement, hofstee};
use statistics::standard_setting::item_descriptor_matching::level_boundary;
use statistics::{Confidence, ScoreTable};

const LEVEL: Confidence = Confidence::P95;

#[test]
fn every_record_of_the_standard_setting_file() {
    check_file("t07_standard_setting", compute, &[]);
}

fn compute(figure: &Figure) -> Option<Value> {
    match figure.statistic.as_str() {
        "angoff_cut_by_judge" => Some(json!(cut(figure).by_judge)),
        "angoff_cut" => Some(json!(cut(figure).cut)),
        "angoff_se_judges" => Some(json!(cut(figure).standard_error)),
        "angoff_variance_components" => {
            let made = cut(figure);
            Some(json!({
                "judge": made.judge_variance,
                "item": made.item_variance,
                "residual": made.residual_variance,
            }))
        }
        "angoff_se_gtheory_fixed_items" => Some(json!(cut(figure).error_same_items)),
        "angoff_se_gtheory_random_items" => Some(json!(cut(figure).error_other_items)),
        "angoff_interjudge_icc" => {
            let table = from_column(&Sheet::read(&figure.data[0]), 1);
            let forms = intraclass_correlation(&rated(&table), LEVEL).unwrap();
            let alpha = cronbach_alpha(&table, LEVEL).unwrap().alpha;
            Some(json!({
                "ICC2": forms.random_single.value,
                "ICC2k": forms.random_mean,
                "alpha_over_judges": alpha,
            }))
        }
        "angoff_theta_cut" => {
            let table = from_column(&Sheet::read(&figure.data[0]), 1);
            let made = angoff_consistency(&table, &difficulties(figure)).unwrap();
            Some(json!(made.ability))
        }
        "angoff_intrajudge_r" => Some(by_judge(figure, &|judge| judge.correlation.unwrap())),
        "angoff_intrajudge_mad" => Some(by_judge(figure, &|judge| judge.mean_difference)),
        "angoff_intrajudge_rmse" => Some(by_judge(figure, &|judge| judge.root_mean_square)),
        "hofstee" => Some(hofstee_cut(figure)),
        "ebel" => {
            let sheet = Sheet::read(&figure.data[0]);
            let shares = sheet.numbers("borderline_pct_correct");
            let cells: Vec<EbelCell> = sheet
                .numbers("n_items")
                .into_iter()
                .zip(shares)
                .map(|(items, percent)| EbelCell {
                    items: items as usize,
                    borderline_share: percent / 100.0,
                })
                .collect();
            let made = ebel(&cells).unwrap();
            Some(json!({ "cut": made.cut, "cut_pct": 100.0 * made.share }))
        }
        "borderline_group" => {
            let sheet = Sheet::read(&figure.data[0]);
            let grades = sheet.numbers("global_grade");
            let borderline: Vec<f64> = sheet
                .numbers("score")
                .into_iter()
                .zip(grades)
                .filter(|(_, grade)| *grade == 2.0)
                .map(|(score, _)| score)
                .collect();
            let made = borderline_group(&borderline, LEVEL).unwrap();
            Some(json!({
                "n": made.n,
                "median": made.median,
                "mean": made.mean,
                "se_mean": made.standard_error,
            }))
        }
        "borderline_regression" => {
            let sheet = Sheet::read(&figure.data[0]);
            let (scores, grades) = (sheet.numbers("score"), sheet.numbers("global_grade"));
            let made = borderline_regression(&scores, &grades, 2.0, LEVEL).unwrap();
            Some(json!({
                "cut": made.cut,
                "se": made.standard_error,
                "slope": made.slope,
                "r2": made.explained,
                "rmse": made.residual,
            }))
        }
        "contrasting_logistic" => {
            let (scores, competent) = judged(figure);
            let made = contrasting_logistic(&scores, &competent).unwrap();
            Some(json!({ "cut": made.cut, "b0": made.intercept, "b1": made.slope }))
        }
        "contrasting_min_errors" => {
            let (scores, competent) = judged(figure);
            let made = contrasting_fewest_errors(&scores, &competent).unwrap();
            Some(json!({ "errors": made.errors, "cuts": made.cuts }))
        }
        "contrasting_normal_intersection" => {
            let (scores, competent) = judged(figure);
            let of = |wanted: bool| -> Vec<f64> {
                let both = scores.iter().zip(&competent);
                both.filter(|(_, own)| **own == wanted)
                    .map(|(score, _)| *score)
                    .collect()
            };
            Some(json!(
                contrasting_normal(&of(false), &of(true)).unwrap().cut
            ))
        }
        // The record rounds the response probability of two thirds in its name only.
        "bookmark_rp67" => Some(bookmark_cut(figure, 2.0 / 3.0)),
        "bookmark_rp50" => Some(bookmark_cut(figure, 0.5)),
        "logistic_cut_2" => Some(boundary(figure, 2.0)),
        "logistic_cut_3" => Some(boundary(figure, 3.0)),
        "fleiss_kappa" => Some(json!(fleiss_kappa(&levels(figure)).unwrap().kappa)),
        "icc" => {
            let made = intraclass_correlation(&levels(figure), LEVEL).unwrap();
            Some(json!({
                "ICC1": made.one_way_single.value,
                "ICC2": made.random_single.value,
                "ICC3": made.fixed_single.value,
                "ICC1k": made.one_way_mean.value,
                "ICC2k": made.random_mean,
                "ICC3k": made.fixed_mean.value,
            }))
        }
        "kripp_ordinal" => {
            let made = krippendorff_alpha(&levels(figure), Scale::Ordinal).unwrap();
            Some(json!(made.alpha))
        }
        _ => None,
    }
}

/// The numbers from one column on.
fn from_column(sheet: &Sheet, first: usize) -> ScoreTable {
    let cells = |row: &Vec<String>| -> Vec<f64> {
        row.iter()
            .skip(first)
            .map(|cell| cell.parse().unwrap())
            .collect()
    };
    ScoreTable::new(&sheet.rows.iter().map(cells).collect::<Vec<_>>()).unwrap()
}

fn rated(table: &ScoreTable) -> RatingTable {
    let rows = table
        .rows()
        .map(|row| row.iter().copied().map(Some).collect::<Vec<_>>());
    RatingTable::new(rows).unwrap()
}

fn levels(figure: &Figure) -> RatingTable {
    rated(&from_column(&Sheet::read(&figure.data[0]), 2))
}

fn boundary(figure: &Figure, level: f64) -> Value {
    let sheet = Sheet::read(&figure.data[0]);
    let made = level_boundary(&from_column(&sheet, 2), &sheet.numbers("itemdiff"), level);
    json!(made.unwrap().difficulty)
}

fn cut(figure: &Figure) -> AngoffCut {
    angoff(&from_column(&Sheet::read(&figure.data[0]), 1), LEVEL).unwrap()
}

fn difficulties(figure: &Figure) -> Vec<f64> {
    Sheet::read(&figure.data[1]).numbers("b")
}

fn by_judge(figure: &Figure, of: &dyn Fn(&JudgeConsistency) -> f64) -> Value {
    let table = from_column(&Sheet::read(&figure.data[0]), 1);
    let made = angoff_consistency(&table, &difficulties(figure)).unwrap();
    made.judges.iter().map(|judge| json!(of(judge))).collect()
}

fn judged(figure: &Figure) -> (Vec<f64>, Vec<bool>) {
    let sheet = Sheet::read(&figure.data[0]);
    let competent = sheet.numbers("judged_competent");
    (
        sheet.numbers("score"),
        competent.iter().map(|one| *one == 1.0).collect(),
    )
}

fn hofstee_cut(figure: &Figure) -> Value {
    let sheet = Sheet::read(&figure.data[0]);
    let judgements: Vec<HofsteeJudgement> = from_column(&sheet, 1)
        .rows()
        .map(|row| HofsteeJudgement {
            lowest_cut: row[0],
            highest_cut: row[1],
            lowest_fail: row[2],
            highest_fail: row[3],
        })
        .collect();
    let scores = Sheet::read(&figure.data[1]).numbers("score");
    let made = hofstee(&judgements, &scores, 30).unwrap();
    json!({ "cut": made.cut, "cut_pct": made.cut_percent, "fail_pct": made.fail_percent })
}

fn bookmark_cut(figure: &Figure, response_probability: f64) -> Value {
    let pages = Sheet::read(&figure.data[0]).numbers("page");
    let pages: Vec<usize> = pages.iter().map(|page| *page as usize).collect();
    let made = bookmark(&pages, &difficulties(figure), response_probability).unwrap();
    json!({
        "theta_median": made.median,
        "theta_mean": made.mean,
        "raw_at_median_theta": made.total_at_median,
        "theta_median_midpoint": made.median_of_midpoints,
        "se_judges": made.standard_error,
    })
}
