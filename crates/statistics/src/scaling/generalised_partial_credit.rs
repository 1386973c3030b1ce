//! Where does each next mark become likelier than the one before, with a slope for each question?
//!
//! Source: Muraki 1992, eq. 4: log P(h)/P(h-1) = a (θ - b(h)), θ ~ N(0, 1), marginal maximum
//! likelihood; errors of b by the delta method from a and c = -a b.
//! Invalid: a category given by fewer than about ten (common practice). Smallest n: 250 (Reise & Yu
//! 1990, from memory, for graded answers). Missing: a gap takes no part.

use super::curve_family::CurveFamily;
use super::estimate::Estimate;
use super::item_curve::ItemCurve;
use super::least_persons;
use super::marginal_design::{Slopes, estimate_at, location, marginal_design};
use super::response_table::ResponseTable;
use crate::refusal::Refusal;

/// The generalised partial credit model.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct GeneralisedPartialCredit {
    /// a of each question.
    pub slopes: Vec<Estimate>,
    /// b(1), b(2), ... of each question, in units of ability; they need not rise.
    pub thresholds: Vec<Vec<Estimate>>,
    /// Marginal log-likelihood.
    pub log_likelihood: f64,
    /// Candidates with answers.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

impl GeneralisedPartialCredit {
    /// The curves, for a population with mean 0 and variance 1.
    #[must_use]
    pub fn curves(&self) -> Vec<ItemCurve> {
        self.slopes
            .iter()
            .zip(&self.thresholds)
            .map(|(slope, thresholds)| ItemCurve::PartialCredit {
                slope: slope.value,
                intercepts: thresholds.iter().map(|b| -slope.value * b.value).collect(),
            })
            .collect()
    }
}

/// Estimates slopes and thresholds.
///
/// # Errors
/// `Refusal::ConstantColumn`, `Refusal::NotDefined` for an unused category, a slope of 0 or a
/// likelihood without top, `Refusal::TooFew`, `Refusal::NotSettled`.
pub fn generalised_partial_credit(
    table: &ResponseTable,
) -> Result<GeneralisedPartialCredit, Refusal> {
    let design = marginal_design(
        table,
        CurveFamily::Adjacent,
        Slopes::Own,
        least_persons::SEVERAL_CATEGORIES,
    )?;
    let top = design
        .likelihood
        .fit(design.start, "the generalised partial credit model")?;
    let mut slopes = Vec::with_capacity(table.items());
    let mut thresholds = Vec::with_capacity(table.items());
    let mut from = 0;
    for item in &design.likelihood.designs {
        slopes.push(estimate_at(&top, from));
        let steps: Result<Vec<Estimate>, Refusal> = (1..item.categories)
            .map(|h| location(&top, from, from + h))
            .collect();
        thresholds.push(steps?);
        from += item.categories;
    }
    Ok(GeneralisedPartialCredit {
        slopes,
        thresholds,
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
        let curves = [1.0, 1.4, 0.8].map(|slope| ItemCurve::PartialCredit {
            slope,
            intercepts: vec![slope, 0.0, -slope],
        });
        let made = generalised_partial_credit(&simulated(&curves, 2_500, 41)).unwrap();
        for (found, slope) in made.slopes.iter().zip([1.0, 1.4, 0.8]) {
            assert!((found.value - slope).abs() < 4.0 * found.standard_error);
        }
        for (found, b) in made
            .thresholds
            .iter()
            .flatten()
            .zip([-1.0, 0.0, 1.0].iter().cycle())
        {
            assert!((found.value - b).abs() < 4.0 * found.standard_error);
        }
    }

    #[test]
    fn a_middle_category_that_nobody_has_is_refused() {
        let rows: Vec<Vec<Option<u8>>> = (0..300_u32)
            .map(|place| {
                (1..4)
                    .map(|bit| Some(if (place >> bit) & 1 == 0 { 0 } else { 2 }))
                    .collect()
            })
            .collect();
        let table = ResponseTable::new(&rows).unwrap();
        assert!(matches!(
            generalised_partial_credit(&table),
            Err(Refusal::NotDefined {
                of: "a threshold",
                ..
            })
        ));
    }
}
