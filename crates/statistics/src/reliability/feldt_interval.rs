//! Between which limits does the alpha of such a test lie?
//!
//! Source: Feldt 1965; Feldt, Woodruff & Salih 1987: (1−α)/(1−α̂) is distributed as F with n−1 and
//! (n−1)(k−1) degrees of freedom; limits 1 − (1−α̂) F. Invalid: candidates who are not a sample,
//! questions with very unequal variances, scores far from normal (then too narrow).

use crate::distribution::f;
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::refusal::{Refusal, at_least};

/// The two-sided interval of a coefficient alpha (or KR-20).
///
/// # Errors
/// `Refusal::TooFew` below two candidates or two questions.
pub fn feldt_interval(
    alpha: f64,
    persons: usize,
    items: usize,
    confidence: Confidence,
) -> Result<Interval, Refusal> {
    at_least(
        2,
        persons,
        "candidates",
        "Feldt 1965: n - 1 degrees of freedom",
    )?;
    at_least(
        2,
        items,
        "questions",
        "Feldt 1965: k - 1 degrees of freedom",
    )?;
    let above = persons as f64 - 1.0;
    let below = above * (items as f64 - 1.0);
    let tail = confidence.each_tail();
    Ok(Interval {
        lower: 1.0 - (1.0 - alpha) * f::quantile_of_upper_tail(tail, above, below),
        upper: 1.0 - (1.0 - alpha) * f::quantile_of_lower_tail(tail, above, below),
        confidence,
        method: IntervalMethod::Feldt,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn surrounds_alpha_and_shrinks_with_candidates() {
        let few = feldt_interval(0.8, 12, 20, Confidence::P95).unwrap();
        let many = feldt_interval(0.8, 600, 20, Confidence::P95).unwrap();
        assert!(few.contains(0.8) && many.contains(0.8));
        assert!(many.upper - many.lower < (few.upper - few.lower) / 5.0);
        assert!(feldt_interval(0.8, 1, 20, Confidence::P95).is_err());
    }
}
