//! The two-parameter question with a normal in place of a logistic curve: factor loadings of answers.
//!
//! Source: Lord 1952; Bock & Lieberman 1970; Bock & Aitkin 1981: P = Φ(a θ + d), θ ~ N(0, 1), marginal
//! maximum likelihood; loading a/√(1+a²), threshold -d/√(1+a²).
//! Invalid: as two_parameter. Smallest n: 200 (Drasgow 1989, from memory, for the logistic curve).
//! Missing: a gap takes no part.

use super::curve_family::CurveFamily;
use super::estimate::Estimate;
use super::item_curve::ItemCurve;
use super::least_persons;
use super::marginal_design::{Slopes, estimate_at, marginal_design};
use super::response_table::ResponseTable;
use crate::refusal::Refusal;

/// The two-parameter normal ogive.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct NormalOgive {
    /// a of each question, in probits per unit of ability.
    pub slopes: Vec<Estimate>,
    /// d of each question, in probits.
    pub intercepts: Vec<Estimate>,
    /// Loading of each question on the common factor.
    pub loadings: Vec<f64>,
    /// Threshold of each question on its latent answer.
    pub thresholds: Vec<f64>,
    /// Marginal log-likelihood.
    pub log_likelihood: f64,
    /// Candidates with answers.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

impl NormalOgive {
    /// The curves, for a population with mean 0 and variance 1.
    #[must_use]
    pub fn curves(&self) -> Vec<ItemCurve> {
        self.slopes
            .iter()
            .zip(&self.intercepts)
            .map(|(slope, intercept)| ItemCurve::NormalOgive {
                slope: slope.value,
                intercept: intercept.value,
            })
            .collect()
    }
}

/// Estimates slopes, intercepts and loadings.
///
/// # Errors
/// `Refusal::NotDefined` for marks other than 0 and 1 or a likelihood without top,
/// `Refusal::ConstantColumn`, `Refusal::TooFew`, `Refusal::NotSettled`.
pub fn normal_ogive(table: &ResponseTable) -> Result<NormalOgive, Refusal> {
    table.right_or_wrong_only("the normal ogive")?;
    let design = marginal_design(
        table,
        CurveFamily::Ogive,
        Slopes::Own,
        least_persons::TWO_PARAMETER,
    )?;
    let top = design.likelihood.fit(design.start, "the normal ogive")?;
    let every = |raw: usize| -> Vec<Estimate> {
        (0..table.items())
            .map(|item| estimate_at(&top, 2 * item + raw))
            .collect()
    };
    let (slopes, intercepts) = (every(0), every(1));
    let length = |slope: &Estimate| (1.0 + slope.value * slope.value).sqrt();
    Ok(NormalOgive {
        loadings: slopes
            .iter()
            .map(|slope| slope.value / length(slope))
            .collect(),
        thresholds: slopes
            .iter()
            .zip(&intercepts)
            .map(|(slope, intercept)| -intercept.value / length(slope))
            .collect(),
        slopes,
        intercepts,
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
    fn is_near_the_logistic_divided_by_1_7() {
        // Haley 1952: the two curves differ by less than 0.01 with the factor 1.702.
        let curves = [0.3, -0.2, 0.5, 0.0].map(|intercept| ItemCurve::NormalOgive {
            slope: 0.7,
            intercept,
        });
        let table = simulated(&curves, 1_500, 31);
        let (one, other) = (
            normal_ogive(&table).unwrap(),
            two_parameter(&table).unwrap(),
        );
        for (ogive, logistic) in one.slopes.iter().zip(&other.slopes) {
            assert!((ogive.value - logistic.value / 1.702).abs() < 0.06);
            assert!((ogive.value - 0.7).abs() < 4.0 * ogive.standard_error);
        }
    }
}
