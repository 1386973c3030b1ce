//! What is a score of choices worth once blind guessing is taken out?
//!
//! Source: the classical correction for guessing, R - W/(k - 1), and the credit for omissions,
//! R + O/k (Frary 1988). Both put who guesses blindly and who leaves out on one footing. Invalid:
//! where wrong answers come from half-knowledge, as most do; then the correction takes too little.
//! A mark is made of it only where the paper has said so before the candidate began.

use crate::refusal::Refusal;

/// A score of choices and what guessing makes of it.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct FormulaScore {
    /// Right answers.
    pub number_right: f64,
    /// Right answers less wrong ones over k - 1.
    pub formula: f64,
    /// Right answers and omissions over k.
    pub omission_credit: f64,
    /// What guessing at every question earns on average in right answers.
    pub number_right_by_chance: f64,
    /// What it earns on average by the formula: nothing.
    pub formula_by_chance: f64,
}

/// The score of so many right, wrong and omitted answers to questions of `options` options.
///
/// # Errors
/// `OutOfRange` for fewer than two options.
pub fn formula_score(
    right: u32,
    wrong: u32,
    omitted: u32,
    options: u32,
) -> Result<FormulaScore, Refusal> {
    let k = f64::from(options);
    if options < 2 {
        return Err(Refusal::OutOfRange {
            of: "options",
            value: k,
            allowed: "2 or more",
        });
    }
    let (right, wrong, omitted) = (f64::from(right), f64::from(wrong), f64::from(omitted));
    let questions = right + wrong + omitted;
    let by_chance = questions / k;
    Ok(FormulaScore {
        number_right: right,
        formula: right - wrong / (k - 1.0),
        omission_credit: right + omitted / k,
        number_right_by_chance: by_chance,
        formula_by_chance: by_chance - (questions - by_chance) / (k - 1.0),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_two_corrections_rank_alike(
            papers in prop::collection::vec((0_u32..=30, 0_u32..=30), 2..20),
            options in 2_u32..6,
        ) {
            // On a paper of 60 both are the same line: omission credit = 60/k + formula (k-1)/k.
            for (right, wrong) in papers {
                let score = formula_score(right, wrong, 60 - right - wrong, options).unwrap();
                let k = f64::from(options);
                let line = 60.0 / k + score.formula * (k - 1.0) / k;
                prop_assert!((score.omission_credit - line).abs() < 1e-9);
                prop_assert!(score.formula_by_chance.abs() < 1e-9);
            }
        }
    }

    #[test]
    fn one_option_is_no_choice() {
        assert!(formula_score(1, 0, 0, 1).is_err());
    }
}
