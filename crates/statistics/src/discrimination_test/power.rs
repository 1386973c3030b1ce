//! How probable is it that a test finds a difference that is there, and how many answers does it
//! need?
//!
//! Source: exact binomial: power is P(X ≥ critical number) at the share correct that is expected; the
//! number of answers is the smallest n with that power. It is not steady: a few more answers can
//! have less power, because the critical number steps. Invalid: several answers of one taster.

use crate::discrimination_test::critical_number::critical_number;
use crate::discrimination_test::method::Method;
use crate::distribution::binomial;
use crate::refusal::Refusal;

/// Most answers that are tried.
const MOST_ANSWERS: u32 = 5000;

/// The power of `answers` answers when `share_correct` are expected to be right.
///
/// # Errors
/// `Refusal::TooFew` for no answers, `Refusal::OutOfRange` for a risk or share that is none.
pub fn power(answers: u32, method: Method, share_correct: f64, risk: f64) -> Result<f64, Refusal> {
    share_allowed(share_correct)?;
    Ok(
        critical_number(answers, method, risk)?.map_or(0.0, |critical| {
            binomial::upper_tail(critical, answers, share_correct)
        }),
    )
}

/// The smallest number of answers with at least `wanted` power.
///
/// # Errors
/// As [`power`], and `Refusal::NotSettled` when 5000 answers are not enough.
pub fn answers_needed(
    method: Method,
    share_correct: f64,
    risk: f64,
    wanted: f64,
) -> Result<u32, Refusal> {
    share_allowed(wanted)?;
    for answers in 1..=MOST_ANSWERS {
        if power(answers, method, share_correct, risk)? >= wanted {
            return Ok(answers);
        }
    }
    Err(Refusal::NotSettled {
        of: "the number of answers",
        steps: MOST_ANSWERS as usize,
    })
}

fn share_allowed(share: f64) -> Result<(), Refusal> {
    if share > 0.0 && share < 1.0 {
        Ok(())
    } else {
        Err(Refusal::OutOfRange {
            of: "share",
            value: share,
            allowed: "between 0 and 1",
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_guesser_passes_as_often_as_the_risk_allows() {
        let made = power(30, Method::Triangle, 1.0 / 3.0, 0.05).unwrap();
        assert!(made <= 0.05 && made > 0.01);
        assert_eq!(power(2, Method::Triangle, 0.9, 0.05).unwrap(), 0.0);
        assert!(answers_needed(Method::Triangle, 1.0 / 3.0, 0.05, 0.9).is_err());
    }
}
