//! How hard are questions, and how far do candidates from a normal population lie apart?
//!
//! Source: Thissen 1982; Bock & Aitkin 1981: P = logistic(θ + d), θ ~ N(0, σ²), marginal maximum
//! likelihood over 61 points; errors from the observed information.
//! Invalid: abilities far from normal (two schools in one table); different slopes. Smallest n: 30
//! (Linacre 1994, from memory). Ties: none matter. Missing: a gap takes no part.

use super::ability_prior::AbilityPrior;
use super::curve_family::CurveFamily;
use super::estimate::Estimate;
use super::item_curve::ItemCurve;
use super::least_persons;
use super::marginal_design::{Slopes, ability_variance, estimate_at, marginal_design};
use super::response_table::ResponseTable;
use crate::refusal::Refusal;

/// The Rasch model in a normal population.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct RaschMarginal {
    /// d of each question: easiness, in logits; difficulty is -d.
    pub intercepts: Vec<Estimate>,
    /// σ², in squared logits.
    pub ability_variance: Estimate,
    /// Marginal log-likelihood.
    pub log_likelihood: f64,
    /// Candidates with answers.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

impl RaschMarginal {
    /// The curves, on the scale on which the population has variance σ².
    #[must_use]
    pub fn curves(&self) -> Vec<ItemCurve> {
        self.intercepts
            .iter()
            .map(|intercept| ItemCurve::rasch(-intercept.value))
            .collect()
    }

    /// The population.
    ///
    /// # Errors
    /// As [`AbilityPrior::new`].
    pub fn population(&self) -> Result<AbilityPrior, Refusal> {
        AbilityPrior::new(0.0, self.ability_variance.value.sqrt())
    }
}

/// Estimates difficulties and the spread of abilities.
///
/// # Errors
/// `Refusal::NotDefined` for marks other than 0 and 1 or a likelihood without top,
/// `Refusal::ConstantColumn`, `Refusal::TooFew`, `Refusal::NoVariance`, `Refusal::NotSettled`.
pub fn rasch_marginal(table: &ResponseTable) -> Result<RaschMarginal, Refusal> {
    table.right_or_wrong_only("the marginal Rasch model")?;
    let design = marginal_design(
        table,
        CurveFamily::Adjacent,
        Slopes::Shared,
        least_persons::RASCH,
    )?;
    let top = design
        .likelihood
        .fit(design.start, "the marginal Rasch model")?;
    Ok(RaschMarginal {
        intercepts: (1..=table.items())
            .map(|place| estimate_at(&top, place))
            .collect(),
        ability_variance: ability_variance(&top)?,
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

    fn truth() -> Vec<ItemCurve> {
        [-1.5, -0.5, 0.0, 0.5, 1.5].map(ItemCurve::rasch).to_vec()
    }

    #[test]
    fn finds_the_truth_within_its_errors() {
        let made = rasch_marginal(&simulated(&truth(), 2_000, 5)).unwrap();
        for (found, b) in made.intercepts.iter().zip([-1.5, -0.5, 0.0, 0.5, 1.5]) {
            assert!((found.value + b).abs() < 4.0 * found.standard_error);
        }
        let variance = made.ability_variance;
        assert!((variance.value - 1.0).abs() < 4.0 * variance.standard_error);
    }

    #[test]
    fn a_gap_takes_no_part() {
        let whole = simulated(&truth(), 400, 9);
        let mut rows: Vec<Vec<Option<u8>>> = whole.rows().map(<[_]>::to_vec).collect();
        rows.push(vec![None; 5]);
        let gaps = ResponseTable::new(&rows).unwrap();
        let (one, other) = (
            rasch_marginal(&whole).unwrap(),
            rasch_marginal(&gaps).unwrap(),
        );
        assert_eq!(one, other);
    }

    #[test]
    fn answers_without_common_ability_have_no_variance() {
        // Every pattern of three questions equally often: nothing in common.
        let rows: Vec<Vec<Option<u8>>> = (0..80_u8)
            .map(|place| (0..3).map(|bit| Some((place >> bit) & 1)).collect())
            .collect();
        let table = ResponseTable::new(&rows).unwrap();
        assert!(rasch_marginal(&table).is_err());
    }
}
