//! Agreement of raters against t04_agreement.json.

use crate::data::Sheet;
use crate::expected::{Figure, check_file};
use serde_json::{Value, json};
use statistics::Confidence;
use statistics::agreement::bland_altman::bland_altman;
use statistics::agreement::category_table::{CategoryTable, Weighting};
use statistics::agreement::cohen_kappa::{CohenKappa, cohen_kappa};
use statistics::agreement::conger_kappa::conger_kappa;
use statistics::agreement::fleiss_kappa::fleiss_kappa;
use statistics::agreement::gwet_coefficient::{GwetCoefficient, GwetWeights, gwet_coefficient};
use statistics::agreement::intraclass_correlation::{
    IntraclassCorrelation, IntraclassForm, intraclass_correlation,
};
use statistics::agreement::kendall_w::kendall_w;
use statistics::agreement::krippendorff_alpha::{Scale, krippendorff_alpha};
use statistics::agreement::light_kappa::light_kappa;
use statistics::agreement::rating_table::RatingTable;

const LEVEL: Confidence = Confidence::P95;

#[test]
fn every_record_of_the_agreement_file() {
    check_file("t04_agreement", compute, &[]);
}

fn compute(figure: &Figure) -> Option<Value> {
    let sheet = Sheet::read(&figure.data[0]);
    match figure.statistic.as_str() {
        "kappa" => Some(json!(kappa(&sheet, Weighting::Unweighted).kappa)),
        "kappa_linear" => Some(json!(kappa(&sheet, Weighting::Linear).kappa)),
        "kappa_quadratic" => Some(json!(kappa(&sheet, Weighting::Quadratic).kappa)),
        "kappa_se" => Some(json!(kappa(&sheet, Weighting::Unweighted).standard_error)),
        "kappa_linear_se" => Some(json!(kappa(&sheet, Weighting::Linear).standard_error)),
        "kappa_quadratic_se" => Some(json!(kappa(&sheet, Weighting::Quadratic).standard_error)),
        // The weights stand in the records' formulas.
        "kappa_w_cohen" => {
            let weights = table([[0.0, 1.0, 3.0], [1.0, 0.0, 6.0], [3.0, 6.0, 0.0]]);
            Some(json!(
                kappa(&sheet, Weighting::Disagreements(weights)).kappa
            ))
        }
        "kappa_w_asym" => {
            let weights = table([[0.0, 1.0, 4.0], [1.0, 0.0, 6.0], [2.0, 2.0, 0.0]]);
            Some(json!(
                kappa(&sheet, Weighting::Disagreements(weights)).kappa
            ))
        }
        "kappa_w" => {
            let weights = table([
                [1.0, 0.0, 0.4444],
                [0.0, 1.0, 0.6667],
                [0.4444, 0.6667, 1.0],
            ]);
            Some(json!(kappa(&sheet, Weighting::Agreements(weights)).kappa))
        }
        "ac1" => Some(of_counts(&sheet, GwetWeights::Unweighted)),
        "ac2_linear" => Some(of_counts(&sheet, GwetWeights::Linear)),
        "ac2_quadratic" => Some(of_counts(&sheet, GwetWeights::Quadratic)),
        "fleiss_kappa" => {
            let made = fleiss_kappa(&sheet.named_ratings()).unwrap();
            Some(json!({ "kappa": made.kappa, "z": made.against_chance.unwrap().z }))
        }
        "fleiss_kappa_only" => Some(json!(fleiss_kappa(&sheet.named_ratings()).unwrap().kappa)),
        "fleiss_kappa_by_category" => {
            let made = fleiss_kappa(&sheet.named_ratings()).unwrap();
            Some(json!(made.by_category.unwrap()))
        }
        "fleiss_generalised" => Some(json!(fleiss_kappa(&sheet.ratings()).unwrap().kappa)),
        "conger_kappa" => Some(json!(conger_kappa(&sheet.named_ratings()).unwrap().kappa)),
        "light_kappa" => Some(json!(light_kappa(&sheet.named_ratings()).unwrap().kappa)),
        "kripp_nominal" => Some(krippendorff(&sheet, Scale::Nominal)),
        "kripp_ordinal" => Some(krippendorff(&sheet, Scale::Ordinal)),
        "kripp_interval" => Some(krippendorff(&sheet, Scale::Interval)),
        "kripp_ratio" => Some(krippendorff(&sheet, Scale::Ratio)),
        "gwet_unweighted" => Some(with_error(&gwet(&sheet.ratings(), GwetWeights::Unweighted))),
        "gwet_linear" => Some(with_error(&gwet(&sheet.ratings(), GwetWeights::Linear))),
        "gwet_quadratic" => Some(with_error(&gwet(&sheet.ratings(), GwetWeights::Quadratic))),
        "gwet_ordinal" => Some(with_error(&gwet(&sheet.ratings(), GwetWeights::Ordinal))),
        "gwet_coef_unweighted" => {
            let made = gwet(&sheet.ratings(), GwetWeights::Unweighted);
            Some(json!(made.coefficient))
        }
        "gwet_coef_linear" => {
            let made = gwet(&sheet.ratings(), GwetWeights::Linear);
            Some(json!(made.coefficient))
        }
        "gwet_coef_quadratic" => {
            let made = gwet(&sheet.ratings(), GwetWeights::Quadratic);
            Some(json!(made.coefficient))
        }
        "gwet_ac1" => {
            let made = gwet(&sheet.named_ratings(), GwetWeights::Unweighted);
            Some(json!(made.coefficient))
        }
        "icc" => Some(six_forms(&intraclass(&sheet))),
        "icc_ci95" => Some(limits(&intraclass(&sheet))),
        "anova_ms" => {
            let squares = intraclass(&sheet).mean_squares;
            Some(json!({
                "MSR": squares.rows,
                "MSC": squares.columns,
                "MSE": squares.error,
                "MSW": squares.within,
            }))
        }
        "kendall_w" => {
            let made = kendall_w(&without_names(&sheet)).unwrap();
            Some(json!({ "W": made.w, "chisq": made.chi_square }))
        }
        "bland_altman_first" => Some(limits_of_agreement(&sheet, "bigger.first", "smaller.first")),
        "bland_altman_repeat_large" => {
            Some(limits_of_agreement(&sheet, "bigger.first", "bigger.second"))
        }
        _ => None,
    }
}

fn table(rows: [[f64; 3]; 3]) -> Vec<Vec<f64>> {
    rows.iter().map(|row| row.to_vec()).collect()
}

fn kappa(sheet: &Sheet, weighting: Weighting) -> CohenKappa {
    let counts = CategoryTable::new(&sheet.all_numbers()).unwrap();
    cohen_kappa(&counts, &weighting, LEVEL).unwrap()
}

fn gwet(ratings: &RatingTable, weights: GwetWeights) -> GwetCoefficient {
    gwet_coefficient(ratings, weights, LEVEL).unwrap()
}

/// A table of counts written out as two ratings per subject.
fn of_counts(sheet: &Sheet, weights: GwetWeights) -> Value {
    let mut rows = Vec::new();
    for (row, line) in sheet.all_numbers().iter().enumerate() {
        for (column, count) in line.iter().enumerate() {
            let pair = vec![Some(row as f64), Some(column as f64)];
            rows.extend(std::iter::repeat_n(pair, *count as usize));
        }
    }
    json!(gwet(&RatingTable::new(rows).unwrap(), weights).coefficient)
}

fn with_error(made: &GwetCoefficient) -> Value {
    json!({ "coef": made.coefficient, "se": made.standard_error.unwrap() })
}

fn krippendorff(sheet: &Sheet, scale: Scale) -> Value {
    json!(krippendorff_alpha(&sheet.ratings(), scale).unwrap().alpha)
}

/// Ratings without the column that names the person, where there is one.
fn without_names(sheet: &Sheet) -> RatingTable {
    let named = sheet.heading.first().is_some_and(|name| name == "pid");
    let rows = sheet
        .rows
        .iter()
        .map(|row| row.iter().skip(usize::from(named)).cloned().collect())
        .collect();
    let heading = sheet.heading.clone();
    Sheet { heading, rows }.ratings()
}

fn intraclass(sheet: &Sheet) -> IntraclassCorrelation {
    intraclass_correlation(&without_names(sheet), LEVEL).unwrap()
}

fn six_forms(made: &IntraclassCorrelation) -> Value {
    json!({
        "ICC1": made.one_way_single.value,
        "ICC2": made.random_single.value,
        "ICC3": made.fixed_single.value,
        "ICC1k": made.one_way_mean.value,
        "ICC2k": made.random_mean,
        "ICC3k": made.fixed_mean.value,
    })
}

fn limits(made: &IntraclassCorrelation) -> Value {
    let pair = |form: IntraclassForm| json!([form.interval.lower, form.interval.upper]);
    json!({
        "ICC1": pair(made.one_way_single),
        "ICC2": pair(made.random_single),
        "ICC3": pair(made.fixed_single),
        "ICC1k": pair(made.one_way_mean),
        "ICC3k": pair(made.fixed_mean),
    })
}

fn limits_of_agreement(sheet: &Sheet, first: &str, second: &str) -> Value {
    let made = bland_altman(&sheet.numbers(first), &sheet.numbers(second), LEVEL).unwrap();
    json!({
        "mean_diff": made.mean_difference,
        "sd_diff": made.standard_deviation,
        "lower": made.lower_limit,
        "upper": made.upper_limit,
    })
}
