//! Which ability makes a candidate's answers likeliest, without regard to other candidates?
//!
//! Source: Birnbaum 1968, ch. 20: the root of Σ P'(x)/P(x); error 1/√information. Several tops (3PL):
//! the highest. Invalid: no marks or all marks have no finite ability and are refused (see
//! weighted_likelihood); curves are taken as known. Smallest n: one question, but the error is honest
//! only from about twenty on (common practice). Missing: a gap takes no part.

use super::likelihood::{Answers, error_from};
use super::person::PersonMeasure;
use crate::refusal::Refusal;
use crate::scaling::item_curve::ItemCurve;

/// Measures one candidate.
///
/// # Errors
/// `Refusal::NotDefined` where no finite ability is likeliest; `Refusal::UnequalLengths`,
/// `Refusal::TooFew`, `Refusal::OutOfRange` for answers that do not fit the curves.
pub fn maximum_likelihood(
    curves: &[ItemCurve],
    answers: &[Option<u8>],
) -> Result<PersonMeasure, Refusal> {
    let answers = Answers::of(curves, answers)?;
    let ability = answers
        .top(|at, _| at.slope, |at, _| at.log)
        .ok_or(Refusal::NotDefined {
            of: "the likeliest ability",
            because: "the answers become likelier without end (no marks, or all)",
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
    fn equal_questions_have_the_log_odds_of_the_score() {
        let curves = vec![ItemCurve::rasch(0.5); 4];
        let made = maximum_likelihood(&curves, &[Some(1), Some(1), Some(1), Some(0)]).unwrap();
        assert!((made.ability - 0.5 - libm::log(3.0)).abs() < 1e-12);
        assert!((made.standard_error - 1.0 / 0.75_f64.sqrt()).abs() < 1e-12);
        assert_eq!(made.answers, 4);
    }

    #[test]
    fn everything_right_has_no_finite_ability() {
        let curves = vec![ItemCurve::rasch(0.5); 2];
        for answer in [0, 1] {
            assert!(matches!(
                maximum_likelihood(&curves, &[Some(answer), Some(answer)]),
                Err(Refusal::NotDefined { .. })
            ));
        }
        assert!(maximum_likelihood(&curves, &[None, None]).is_err());
        assert!(maximum_likelihood(&curves, &[Some(2), Some(0)]).is_err());
        assert!(maximum_likelihood(&curves, &[Some(1)]).is_err());
    }
}
