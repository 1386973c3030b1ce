//! Where does each next mark become likelier than the one before, whoever sat the questions?
//!
//! Source: Masters 1982, eq. 3; Andersen 1995 for conditional maximum likelihood: log P(h)/P(h-1) =
//! θ - τ(h); all thresholds together sum to 0; errors from the conditional information.
//! Invalid: questions of different slope. Smallest n: 100 with neither nothing nor everything (common
//! practice). Ties: equal counts give equal thresholds. Missing: refused.

use super::conditional_likelihood::ConditionalLikelihood;
use super::estimate::Estimate;
use super::item_curve::ItemCurve;
use super::least_persons;
use super::response_table::ResponseTable;
use crate::refusal::Refusal;

/// Thresholds without any assumption about abilities.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct PartialCreditConditional {
    /// τ(1), τ(2), ... of each question, in logits; all together sum to 0. They need not rise.
    pub thresholds: Vec<Vec<Estimate>>,
    /// Conditional log-likelihood, without the constant of arrangements.
    pub log_likelihood: f64,
    /// Candidates with neither nothing nor everything.
    pub persons: usize,
    /// Candidates left out because they had nothing or everything.
    pub extreme: usize,
    /// Number of questions.
    pub items: usize,
}

impl PartialCreditConditional {
    /// The curves of the questions.
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
}

/// Estimates thresholds.
///
/// # Errors
/// `Refusal::ConstantColumn`, `Refusal::NotDefined` for an unused category or a likelihood without
/// top, `Refusal::TooFew`, `Refusal::NotANumber` at a gap, `Refusal::NotSettled`.
pub fn partial_credit_conditional(
    table: &ResponseTable,
) -> Result<PartialCreditConditional, Refusal> {
    let (least, reason) = least_persons::PARTIAL_CREDIT;
    let fit = ConditionalLikelihood::of(table, least, reason)?
        .fit("the conditional partial credit model")?;
    let thresholds = fit
        .thresholds
        .iter()
        .zip(&fit.standard_errors)
        .map(|(values, errors)| {
            values
                .iter()
                .zip(errors)
                .map(|(value, error)| Estimate {
                    value: *value,
                    standard_error: *error,
                })
                .collect()
        })
        .collect();
    Ok(PartialCreditConditional {
        thresholds,
        log_likelihood: fit.log_likelihood,
        persons: fit.persons,
        extreme: table.persons() - fit.persons,
        items: table.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::rasch_conditional::rasch_conditional;
    use super::super::simulated::simulated;
    use super::*;

    #[test]
    fn two_categories_are_the_rasch_model() {
        let table = simulated(&[-1.0, 0.0, 0.4, 1.0].map(ItemCurve::rasch), 300, 7);
        let one = partial_credit_conditional(&table).unwrap();
        let other = rasch_conditional(&table).unwrap();
        let flat: Vec<Estimate> = one.thresholds.into_iter().flatten().collect();
        assert_eq!(flat, other.difficulties);
    }

    #[test]
    fn finds_the_truth_within_its_errors() {
        let steps = [[-1.0, 0.5], [0.0, 1.0], [-1.5, 1.0]];
        let curves = steps.map(|steps| ItemCurve::PartialCredit {
            slope: 1.0,
            intercepts: steps.map(|tau| -tau).to_vec(),
        });
        let made = partial_credit_conditional(&simulated(&curves, 3_000, 19)).unwrap();
        for (found, tau) in made.thresholds.iter().flatten().zip(steps.as_flattened()) {
            assert!((found.value - tau).abs() < 4.0 * found.standard_error);
        }
    }
}
