//! By how much do two ways of marking (or measuring) differ, and how far apart can they be?
//!
//! Source: Bland & Altman 1986: mean difference d̄, its standard deviation s (divisor n−1), limits of
//! agreement d̄ ∓ 1.96 s. Interval of d̄ by Student's t. Invalid: differences that grow with the size
//! of the mark; differences far from normal. Missing: pairs with a gap are left out before.

use crate::descriptive::summary::mean_interval;
use crate::interval::{Confidence, Interval};
use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, mean, variance};

/// Bland and Altman's multiplier, as they print it.
const MULTIPLIER: f64 = 1.96;

/// Limits of agreement.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct BlandAltman {
    /// Mean of first less second.
    pub mean_difference: f64,
    /// Interval of that mean.
    pub interval: Interval,
    /// Standard deviation of the differences.
    pub standard_deviation: f64,
    /// Lower limit of agreement.
    pub lower_limit: f64,
    /// Upper limit of agreement.
    pub upper_limit: f64,
    /// Number of pairs.
    pub n: usize,
}

/// Limits of agreement of paired values.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::TooFew` below two pairs.
pub fn bland_altman(
    first: &[f64],
    second: &[f64],
    confidence: Confidence,
) -> Result<BlandAltman, Refusal> {
    if first.len() != second.len() {
        return Err(Refusal::UnequalLengths {
            of: "paired values",
            have: second.len(),
            expected: first.len(),
        });
    }
    at_least(2, first.len(), "pairs", "a standard deviation needs two")?;
    let differences: Vec<f64> = first.iter().zip(second).map(|(a, b)| a - b).collect();
    let mean_difference = mean(&differences)?;
    let standard_deviation = variance(&differences, Divisor::CountLessOne)?.sqrt();
    Ok(BlandAltman {
        mean_difference,
        interval: mean_interval(&differences, confidence)?,
        standard_deviation,
        lower_limit: mean_difference - MULTIPLIER * standard_deviation,
        upper_limit: mean_difference + MULTIPLIER * standard_deviation,
        n: first.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_constant_shift_has_no_spread() {
        let made = bland_altman(&[3.0, 5.0, 9.0], &[1.0, 3.0, 7.0], Confidence::P95).unwrap();
        assert_eq!((made.mean_difference, made.standard_deviation), (2.0, 0.0));
        assert_eq!(made.lower_limit, made.upper_limit);
        assert!(bland_altman(&[1.0], &[], Confidence::P95).is_err());
    }
}
