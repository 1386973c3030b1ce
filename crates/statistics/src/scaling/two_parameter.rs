//! How hard are questions, and how sharply does each tell strong from weak?
//!
//! Source: Birnbaum 1968; Bock & Aitkin 1981: P = logistic(a θ + d), θ ~ N(0, 1), marginal maximum
//! likelihood over 61 points; errors from the observed information, that of b = -d/a by delta method.
//! Invalid: guessing, abilities far from normal. A negative slope is a question to read again (wrong
//! key?), not a fault of the fit. Smallest n: 200 (Drasgow 1989, from memory). Missing: a gap takes no
//! part.

use super::curve_family::CurveFamily;
use super::estimate::Estimate;
use super::item_curve::ItemCurve;
use super::least_persons;
use super::marginal_design::{Slopes, estimate_at, location, marginal_design};
use super::response_table::ResponseTable;
use crate::refusal::Refusal;

/// The two-parameter logistic model.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct TwoParameter {
    /// a of each question, per logit of ability.
    pub slopes: Vec<Estimate>,
    /// d of each question, in logits.
    pub intercepts: Vec<Estimate>,
    /// b = -d/a: the ability at which half answer right.
    pub difficulties: Vec<Estimate>,
    /// Marginal log-likelihood.
    pub log_likelihood: f64,
    /// Candidates with answers.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

impl TwoParameter {
    /// The curves, for a population with mean 0 and variance 1.
    #[must_use]
    pub fn curves(&self) -> Vec<ItemCurve> {
        self.slopes
            .iter()
            .zip(&self.intercepts)
            .map(|(slope, intercept)| ItemCurve::Logistic {
                slope: slope.value,
                intercept: intercept.value,
                guessing: 0.0,
            })
            .collect()
    }
}

/// Estimates slopes and difficulties.
///
/// # Errors
/// `Refusal::NotDefined` for marks other than 0 and 1, a slope of 0 or a likelihood without top,
/// `Refusal::ConstantColumn`, `Refusal::TooFew`, `Refusal::NotSettled`.
pub fn two_parameter(table: &ResponseTable) -> Result<TwoParameter, Refusal> {
    table.right_or_wrong_only("the two-parameter model")?;
    let design = marginal_design(
        table,
        CurveFamily::Adjacent,
        Slopes::Own,
        least_persons::TWO_PARAMETER,
    )?;
    let top = design
        .likelihood
        .fit(design.start, "the two-parameter model")?;
    let every = |raw: usize| {
        (0..table.items())
            .map(|item| estimate_at(&top, 2 * item + raw))
            .collect()
    };
    Ok(TwoParameter {
        slopes: every(0),
        intercepts: every(1),
        difficulties: (0..table.items())
            .map(|item| location(&top, 2 * item, 2 * item + 1))
            .collect::<Result<_, _>>()?,
        log_likelihood: top.value,
        persons: design.persons,
        items: table.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::simulated::simulated;
    use super::*;

    #[test]
    fn finds_the_truth_within_its_errors() {
        let truth = [
            (0.8, 1.0),
            (1.2, 0.3),
            (1.6, -0.4),
            (1.0, -1.1),
            (1.3, 0.0),
            (0.7, 0.6),
        ];
        let curves = truth.map(|(slope, intercept)| ItemCurve::Logistic {
            slope,
            intercept,
            guessing: 0.0,
        });
        let made = two_parameter(&simulated(&curves, 3_000, 21)).unwrap();
        for (item, (slope, intercept)) in truth.into_iter().enumerate() {
            let (a, d) = (made.slopes[item], made.intercepts[item]);
            assert!((a.value - slope).abs() < 4.0 * a.standard_error, "{item}");
            assert!(
                (d.value - intercept).abs() < 4.0 * d.standard_error,
                "{item}"
            );
            assert!((made.difficulties[item].value + d.value / a.value).abs() < 1e-12);
        }
    }

    #[test]
    fn turning_a_question_round_turns_its_slope() {
        let curves = [0.9, 1.2, 1.5, 1.0].map(|slope| ItemCurve::Logistic {
            slope,
            intercept: 0.2,
            guessing: 0.0,
        });
        let table = simulated(&curves, 600, 4);
        let turned: Vec<Vec<Option<u8>>> = table
            .rows()
            .map(|row| {
                let mut row = row.to_vec();
                row[0] = row[0].map(|answer| 1 - answer);
                row
            })
            .collect();
        let one = two_parameter(&table).unwrap();
        let other = two_parameter(&ResponseTable::new(&turned).unwrap()).unwrap();
        assert!((one.slopes[0].value + other.slopes[0].value).abs() < 1e-5);
        assert!((one.slopes[2].value - other.slopes[2].value).abs() < 1e-5);
        assert!((one.log_likelihood - other.log_likelihood).abs() < 1e-8);
    }

    #[test]
    fn a_class_of_25_is_refused() {
        let curves = [0.0, 0.5, 1.0].map(ItemCurve::rasch);
        assert!(matches!(
            two_parameter(&simulated(&curves, 25, 2)),
            Err(Refusal::TooFew { need: 200, .. })
        ));
    }
}
