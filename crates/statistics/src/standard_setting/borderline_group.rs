//! What did those score whom the examiners called borderline?
//!
//! Source: Livingston & Zieky 1982: the median of their scores (the mean beside it). Interval of the
//! mean by Student's t. Invalid: a handful of borderline candidates (the interval says so); grades
//! given with the score in view. Missing: candidates without a grade are left out before.

use crate::descriptive::quantile::median;
use crate::descriptive::summary::mean_interval;
use crate::interval::{Confidence, Interval};
use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, mean, variance};

/// The borderline group.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct BorderlineGroup {
    /// The cut: their median.
    pub median: f64,
    /// Their mean.
    pub mean: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// Its interval.
    pub interval: Interval,
    /// How many they are.
    pub n: usize,
}

/// The cut from the scores of borderline candidates.
///
/// # Errors
/// `Refusal::TooFew` below two borderline candidates.
pub fn borderline_group(
    scores: &[f64],
    confidence: Confidence,
) -> Result<BorderlineGroup, Refusal> {
    at_least(
        2,
        scores.len(),
        "borderline candidates",
        "a standard error needs two",
    )?;
    let spread = variance(scores, Divisor::CountLessOne)?;
    Ok(BorderlineGroup {
        median: median(scores)?,
        mean: mean(scores)?,
        standard_error: (spread / scores.len() as f64).sqrt(),
        interval: mean_interval(scores, confidence)?,
        n: scores.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn median_and_mean_of_the_group() {
        let made = borderline_group(&[4.0, 6.0, 11.0], Confidence::P95).unwrap();
        assert_eq!((made.median, made.mean, made.n), (6.0, 7.0, 3));
        assert!((made.standard_error - (13.0_f64 / 3.0).sqrt()).abs() < 1e-15);
        assert!(borderline_group(&[4.0], Confidence::P95).is_err());
    }
}
