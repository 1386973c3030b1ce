//! How hard is each step of a graded mark, and how sharply does the question tell candidates apart?
//!
//! Source: Samejima 1969: P(X >= h) = logistic(a θ + d(h)), θ ~ N(0, 1), marginal maximum likelihood;
//! log-likelihood of Bock & Aitkin 1981 over 61 points.
//! Invalid: categories that are not ordered by ability; a category given by fewer than about ten
//! (common practice). Smallest n: 250 (Reise & Yu 1990, from memory). Missing: a gap takes no part.

use super::curve_family::CurveFamily;
use super::estimate::Estimate;
use super::item_curve::ItemCurve;
use super::least_persons;
use super::marginal_design::{Slopes, marginal_design, raw_estimate};
use super::response_table::ResponseTable;
use crate::refusal::Refusal;

/// The graded response model.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct GradedResponse {
    /// a of each question.
    pub slopes: Vec<Estimate>,
    /// d(1), d(2), ... of each question, falling.
    pub intercepts: Vec<Vec<Estimate>>,
    /// Marginal log-likelihood.
    pub log_likelihood: f64,
    /// Candidates with answers.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

impl GradedResponse {
    /// The curves, for a population with mean 0 and variance 1.
    #[must_use]
    pub fn curves(&self) -> Vec<ItemCurve> {
        self.slopes
            .iter()
            .zip(&self.intercepts)
            .map(|(slope, intercepts)| ItemCurve::Graded {
                slope: slope.value,
                intercepts: intercepts.iter().map(|intercept| intercept.value).collect(),
            })
            .collect()
    }
}

/// Estimates slopes and steps.
///
/// # Errors
/// `Refusal::ConstantColumn`, `Refusal::NotDefined` for an unused category or a likelihood without
/// top, `Refusal::TooFew`, `Refusal::NotSettled`.
pub fn graded_response(table: &ResponseTable) -> Result<GradedResponse, Refusal> {
    let design = marginal_design(
        table,
        CurveFamily::Cumulative,
        Slopes::Own,
        least_persons::SEVERAL_CATEGORIES,
    )?;
    let top = design
        .likelihood
        .fit(design.start, "the graded response model")?;
    let designs = &design.likelihood.designs;
    Ok(GradedResponse {
        slopes: designs
            .iter()
            .map(|item| raw_estimate(&top, item, 0))
            .collect(),
        intercepts: designs
            .iter()
            .map(|item| {
                (1..item.categories)
                    .map(|raw| raw_estimate(&top, item, raw))
                    .collect()
            })
            .collect(),
        log_likelihood: top.value,
        persons: design.persons,
        items: table.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::simulated::simulated;
    use super::super::two_parameter::two_parameter;
    use super::*;

    #[test]
    fn two_categories_are_the_two_parameter_model() {
        let curves = [0.5, -0.3, 0.1, 0.8].map(ItemCurve::rasch);
        let table = simulated(&curves, 400, 17);
        let (one, other) = (
            graded_response(&table).unwrap(),
            two_parameter(&table).unwrap(),
        );
        assert!((one.log_likelihood - other.log_likelihood).abs() < 1e-8);
        for (graded, plain) in one.slopes.iter().zip(&other.slopes) {
            assert!((graded.value - plain.value).abs() < 1e-5);
        }
    }

    #[test]
    fn finds_the_truth_within_its_errors() {
        let curves = [1.0, 1.4, 1.8, 0.8].map(|slope| ItemCurve::Graded {
            slope,
            intercepts: vec![1.5, 0.0, -1.2],
        });
        let made = graded_response(&simulated(&curves, 2_000, 23)).unwrap();
        for (found, slope) in made.slopes.iter().zip([1.0, 1.4, 1.8, 0.8]) {
            assert!((found.value - slope).abs() < 4.0 * found.standard_error);
        }
        for (found, d) in made
            .intercepts
            .iter()
            .flatten()
            .zip([1.5, 0.0, -1.2].iter().cycle())
        {
            assert!((found.value - d).abs() < 4.0 * found.standard_error);
        }
    }
}
