//! How many must answer rightly before guessing is no longer believed?
//!
//! Sources: ISO 4120 (triangle), ISO 10399 (duo-trio): the smallest x with P(X ≥ x) ≤ α for n answers at
//! the chance of guessing; ISO 5495, two-sided paired comparison: half of α at each side. Invalid:
//! several answers of one taster are not independent. Tail by the incomplete beta function.

use crate::discrimination_test::method::Method;
use crate::distribution::binomial;
use crate::p_value::{PValue, Side};
use crate::panel::rank_sum_difference::risk_between_zero_and_one;
use crate::refusal::{Refusal, at_least};

/// The smallest number of right answers that is significant at `risk`; `None` when not even all
/// would be.
///
/// # Errors
/// `Refusal::TooFew` for no answers, `Refusal::OutOfRange` for a risk that is none.
pub fn critical_number(answers: u32, method: Method, risk: f64) -> Result<Option<u32>, Refusal> {
    smallest(answers, method.guess(), risk)
}

/// The smallest number on the larger side of a two-sided paired comparison.
///
/// # Errors
/// As [`critical_number`].
pub fn critical_number_two_sided(answers: u32, risk: f64) -> Result<Option<u32>, Refusal> {
    risk_between_zero_and_one(risk)?;
    smallest(answers, 0.5, risk / 2.0)
}

/// Probability of so many right answers, or more, by guessing.
///
/// # Errors
/// `Refusal::TooFew` for no answers, `Refusal::OutOfRange` for more right answers than answers.
pub fn guessing_probability(right: u32, answers: u32, method: Method) -> Result<PValue, Refusal> {
    at_least(1, answers as usize, "answers", "a test needs one")?;
    if right > answers {
        return Err(Refusal::OutOfRange {
            of: "number of right answers",
            value: f64::from(right),
            allowed: "up to the number of answers",
        });
    }
    Ok(PValue {
        probability: binomial::upper_tail(right, answers, method.guess()),
        side: Side::Upper,
    })
}

fn smallest(answers: u32, guess: f64, risk: f64) -> Result<Option<u32>, Refusal> {
    at_least(1, answers as usize, "answers", "a test needs one")?;
    risk_between_zero_and_one(risk)?;
    if binomial::upper_tail(answers, answers, guess) > risk {
        return Ok(None);
    }
    // The tail falls with x, so the bracket can be halved.
    let (mut low, mut high) = (0, answers);
    while low < high {
        let middle = low + (high - low) / 2;
        if binomial::upper_tail(middle, answers, guess) <= risk {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    Ok(Some(low))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn too_few_answers_can_never_be_significant() {
        // Two of two by guessing has probability 1/9.
        assert_eq!(critical_number(2, Method::Triangle, 0.05).unwrap(), None);
        assert_eq!(critical_number(3, Method::Triangle, 0.05).unwrap(), Some(3));
        let p = guessing_probability(2, 2, Method::Triangle).unwrap();
        assert!((p.probability - 1.0 / 9.0).abs() < 1e-15);
        assert!(guessing_probability(3, 2, Method::Triangle).is_err());
        assert!(critical_number(0, Method::Triangle, 0.05).is_err());
    }
}
