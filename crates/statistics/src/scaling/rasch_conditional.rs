//! How hard are questions marked right or wrong, whoever happened to sit them?
//!
//! Source: Andersen 1972; Fischer & Molenaar 1995, ch. 3: conditional maximum likelihood, difficulties
//! sum to 0, standard errors from the conditional information.
//! Invalid: curves of different slope or guessing (see andersen_test, item_fit). Smallest n: 30 with
//! neither no marks nor all (Linacre 1994, from memory). Ties: equal counts give equal difficulties.
//! Missing: refused.

use super::conditional_likelihood::ConditionalLikelihood;
use super::estimate::Estimate;
use super::item_curve::ItemCurve;
use super::least_persons;
use super::response_table::ResponseTable;
use crate::refusal::Refusal;

/// Difficulties without any assumption about abilities.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct RaschConditional {
    /// Difficulty of each question, in logits; they sum to 0.
    pub difficulties: Vec<Estimate>,
    /// Conditional log-likelihood, without the constant of arrangements.
    pub log_likelihood: f64,
    /// Candidates who tell something: neither no marks nor all.
    pub persons: usize,
    /// Candidates left out because they had no marks or all.
    pub extreme: usize,
    /// Number of questions.
    pub items: usize,
}

impl RaschConditional {
    /// The curves of the questions.
    #[must_use]
    pub fn curves(&self) -> Vec<ItemCurve> {
        self.difficulties
            .iter()
            .map(|difficulty| ItemCurve::rasch(difficulty.value))
            .collect()
    }
}

/// Estimates difficulties.
///
/// # Errors
/// `Refusal::NotDefined` for marks other than 0 and 1 or sets of questions that are infinitely apart,
/// `Refusal::ConstantColumn`, `Refusal::TooFew`, `Refusal::NotANumber` at a gap, `Refusal::NotSettled`.
pub fn rasch_conditional(table: &ResponseTable) -> Result<RaschConditional, Refusal> {
    table.right_or_wrong_only("a Rasch difficulty")?;
    let (least, reason) = least_persons::RASCH;
    let fit =
        ConditionalLikelihood::of(table, least, reason)?.fit("the conditional Rasch model")?;
    let difficulties = fit
        .thresholds
        .iter()
        .flatten()
        .zip(fit.standard_errors.iter().flatten())
        .map(|(value, standard_error)| Estimate {
            value: *value,
            standard_error: *standard_error,
        })
        .collect();
    Ok(RaschConditional {
        difficulties,
        log_likelihood: fit.log_likelihood,
        persons: fit.persons,
        extreme: table.persons() - fit.persons,
        items: table.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::simulated::simulated;
    use super::*;

    #[test]
    fn finds_the_difficulties_of_simulated_answers() {
        let truth = [-1.5, -0.5, 0.0, 0.5, 1.5];
        let curves: Vec<ItemCurve> = truth.iter().map(|b| ItemCurve::rasch(*b)).collect();
        let made = rasch_conditional(&simulated(&curves, 3_000, 11)).unwrap();
        for (found, true_value) in made.difficulties.iter().zip(truth) {
            assert!((found.value - true_value).abs() < 4.0 * found.standard_error);
            assert!(found.standard_error > 0.0 && found.standard_error < 0.06);
        }
        let whole: f64 = made.difficulties.iter().map(|b| b.value).sum();
        assert!(whole.abs() < 1e-12);
    }

    #[test]
    fn too_few_and_constant_are_refused() {
        let few = simulated(&[ItemCurve::rasch(0.0), ItemCurve::rasch(0.1)], 20, 3);
        assert!(matches!(
            rasch_conditional(&few),
            Err(Refusal::TooFew { need: 30, .. })
        ));
        let all_right = ResponseTable::new(&vec![[Some(1), Some(1)]; 60]).unwrap();
        assert_eq!(
            rasch_conditional(&all_right),
            Err(Refusal::ConstantColumn { column: 0 })
        );
    }
}
