//! How few must answer rightly before two samples are called similar?
//!
//! Sources: ISO 4120 and ISO 10399 in two published rules that can differ by one: exact, the largest x
//! with P(X ≤ x) ≤ β when a share p_d of tasters could tell; and by the upper limit of p_d,
//! [x/n − p_g + z√((n x − x²)/n³)]/(1 − p_g) ≤ p_d. Invalid: few answers (then no number is similar:
//! `None`); several answers of one taster.

use crate::discrimination_test::method::Method;
use crate::distribution::{binomial, normal};
use crate::panel::rank_sum_difference::risk_between_zero_and_one;
use crate::refusal::{Refusal, at_least};

/// The largest numbers of right answers that still speak for similarity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub struct SimilarityLimit {
    /// By the exact rule.
    pub exact: Option<u32>,
    /// By the confidence limit.
    pub confidence_limit: Option<u32>,
    /// Number of answers.
    pub n: u32,
}

/// The limits for `answers` answers, when at most a share `discriminators` may be able to tell, with
/// risk `risk` of calling similar what is not.
///
/// # Errors
/// `Refusal::TooFew` for no answers, `Refusal::OutOfRange`.
pub fn similarity_limit(
    answers: u32,
    method: Method,
    discriminators: f64,
    risk: f64,
) -> Result<SimilarityLimit, Refusal> {
    at_least(1, answers as usize, "answers", "a test needs one")?;
    risk_between_zero_and_one(risk)?;
    let share = method.share_correct_with_discriminators(discriminators)?;
    let z = normal::quantile_of_upper_tail(risk);
    let n = f64::from(answers);
    let upper = |right: u32| {
        let x = f64::from(right);
        let error = ((n * x - x * x) / (n * n * n)).sqrt();
        (x / n - method.guess() + z * error) / (1.0 - method.guess())
    };
    Ok(SimilarityLimit {
        exact: (0..=answers)
            .rev()
            .find(|x| binomial::lower_tail(*x, answers, share) <= risk),
        // The limit falls again towards all right answers, which are not similar: search from below.
        confidence_limit: (0..=answers)
            .take_while(|x| upper(*x) <= discriminators)
            .last(),
        n: answers,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn three_answers_cannot_show_similarity() {
        let made = similarity_limit(3, Method::Triangle, 0.2, 0.05).unwrap();
        assert_eq!(made.exact, None);
        assert!(similarity_limit(30, Method::Triangle, 1.2, 0.05).is_err());
    }
}
