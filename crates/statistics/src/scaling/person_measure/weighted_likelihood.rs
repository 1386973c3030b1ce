//! Which ability is likeliest, with the outward bias of maximum likelihood taken off?
//!
//! Source: Warm 1989, eq. 9 and 15: the root of Σ P'(x)/P(x) + J/(2 I), J = Σ P' P''/P; error
//! 1/√information. No marks and all marks have a finite ability. Several roots (3PL): the one with the
//! greatest likelihood times √information.
//! Invalid: curves are taken as known; Warm's derivation is for logistic curves, with several
//! categories for partial credit (Penfield & Bergeron 2005); for graded curves it is an approximation.
//! Missing: a gap takes no part.

use super::likelihood::{Answers, error_from};
use super::person::PersonMeasure;
use crate::refusal::Refusal;
use crate::scaling::item_curve::ItemCurve;

/// Measures one candidate.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::TooFew`, `Refusal::OutOfRange` for answers that do not fit the
/// curves; `Refusal::NotDefined` where no root lies within ±20.
pub fn weighted_likelihood(
    curves: &[ItemCurve],
    answers: &[Option<u8>],
) -> Result<PersonMeasure, Refusal> {
    let answers = Answers::of(curves, answers)?;
    let ability = answers
        .top(
            |at, _| at.slope + 0.5 * at.skew / at.information.max(f64::MIN_POSITIVE),
            |at, _| at.log + 0.5 * libm::log(at.information.max(f64::MIN_POSITIVE)),
        )
        .ok_or(Refusal::NotDefined {
            of: "the weighted likeliest ability",
            because: "it lies beyond the scale that is searched (-20 to 20)",
        })?;
    Ok(PersonMeasure {
        ability,
        standard_error: error_from(answers.at(ability).information)?,
        answers: answers.count(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn equal_questions_have_jeffreys_log_odds() {
        // With equal Rasch questions: logit of (score + 1/2) / (k + 1).
        let curves = vec![ItemCurve::rasch(0.0); 5];
        for score in 0..=5 {
            let answers: Vec<Option<u8>> = (0..5).map(|k| Some(u8::from(k < score))).collect();
            let made = weighted_likelihood(&curves, &answers).unwrap();
            let share = (f64::from(score) + 0.5) / 6.0;
            let expected = libm::log(share / (1.0 - share));
            assert!(
                (made.ability - expected).abs() < 1e-10,
                "{score}: {}",
                made.ability
            );
        }
    }
}
