//! Where does each next mark become likelier than the one before, in a normal population?
//!
//! Source: Masters 1982, eq. 3, with the marginal maximum likelihood of Bock & Aitkin 1981:
//! log P(h)/P(h-1) = θ - τ(h), θ ~ N(0, σ²); errors from the observed information.
//! Invalid: questions of different slope (see generalised_partial_credit); abilities far from normal.
//! Smallest n: 100 (common practice). Missing: a gap takes no part.

use super::ability_prior::AbilityPrior;
use super::curve_family::CurveFamily;
use super::estimate::Estimate;
use super::item_curve::ItemCurve;
use super::least_persons;
use super::marginal_design::{Slopes, ability_variance, marginal_design, raw_estimate};
use super::response_table::ResponseTable;
use crate::refusal::Refusal;

/// The partial credit model in a normal population.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct PartialCreditMarginal {
    /// τ(1), τ(2), ... of each question, in logits from the mean ability. They need not rise.
    pub thresholds: Vec<Vec<Estimate>>,
    /// σ², in squared logits.
    pub ability_variance: Estimate,
    /// Marginal log-likelihood.
    pub log_likelihood: f64,
    /// Candidates with answers.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

impl PartialCreditMarginal {
    /// The curves, on the scale on which the population has variance σ².
    #[must_use]
    pub fn curves(&self) -> Vec<ItemCurve> {
        self.thresholds
            .iter()
            .map(|thresholds| ItemCurve::PartialCredit {
                slope: 1.0,
                intercepts: thresholds.iter().map(|tau| -tau.value).collect(),
            })
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

/// Estimates thresholds and the spread of abilities.
///
/// # Errors
/// `Refusal::ConstantColumn`, `Refusal::NotDefined` for an unused category or a likelihood without
/// top, `Refusal::TooFew`, `Refusal::NoVariance`, `Refusal::NotSettled`.
pub fn partial_credit_marginal(table: &ResponseTable) -> Result<PartialCreditMarginal, Refusal> {
    let design = marginal_design(
        table,
        CurveFamily::Adjacent,
        Slopes::Shared,
        least_persons::PARTIAL_CREDIT,
    )?;
    let top = design
        .likelihood
        .fit(design.start, "the marginal partial credit model")?;
    let thresholds = design
        .likelihood
        .designs
        .iter()
        .map(|item| {
            (1..item.categories)
                .map(|raw| {
                    let intercept = raw_estimate(&top, item, raw);
                    Estimate {
                        value: -intercept.value,
                        standard_error: intercept.standard_error,
                    }
                })
                .collect()
        })
        .collect();
    Ok(PartialCreditMarginal {
        thresholds,
        ability_variance: ability_variance(&top)?,
        log_likelihood: top.value,
        persons: design.persons,
        items: table.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::rasch_marginal::rasch_marginal;
    use super::super::simulated::simulated;
    use super::*;

    #[test]
    fn two_categories_are_the_rasch_model() {
        let table = simulated(&[-1.0, 0.0, 0.4, 1.0].map(ItemCurve::rasch), 300, 7);
        let one = partial_credit_marginal(&table).unwrap();
        let other = rasch_marginal(&table).unwrap();
        assert_eq!(one.ability_variance, other.ability_variance);
        assert_eq!(one.log_likelihood, other.log_likelihood);
        assert_eq!(one.thresholds[0][0].value, -other.intercepts[0].value);
        assert!(one.population().is_ok());
    }
}
