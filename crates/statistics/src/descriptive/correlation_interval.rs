//! How sure is a correlation?
//!
//! Source: Fisher 1921: atanh r ± z/√(n−3). Invalid: fewer than four pairs (refused); r of ±1, where
//! the interval closes on r; a rough guide only for questions marked 0 or 1, whose scores are not
//! normal.

use crate::distribution::normal;
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::refusal::{Refusal, at_least};
use crate::sums;

/// A product-moment correlation.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Correlation {
    /// Pearson's r.
    pub r: f64,
    /// Number of pairs.
    pub n: usize,
    /// Fisher's interval; a refusal below four pairs.
    pub interval: Result<Interval, Refusal>,
}

/// Pearson's correlation with its interval.
///
/// # Errors
/// `Refusal::NoVariance`, `Refusal::UnequalLengths`, `Refusal::TooFew` below two pairs.
pub fn correlation(
    first: &[f64],
    second: &[f64],
    confidence: Confidence,
) -> Result<Correlation, Refusal> {
    let r = sums::correlation(first, second)?;
    Ok(Correlation {
        r,
        n: first.len(),
        interval: fisher_interval(r, first.len(), confidence),
    })
}

/// Fisher's interval of a correlation.
///
/// # Errors
/// `Refusal::TooFew` below four pairs.
pub fn fisher_interval(r: f64, n: usize, confidence: Confidence) -> Result<Interval, Refusal> {
    at_least(4, n, "pairs", "Fisher 1921 divides by n - 3")?;
    let middle = libm::atanh(r);
    let reach = normal::quantile_of_upper_tail(confidence.each_tail()) / (n as f64 - 3.0).sqrt();
    Ok(Interval {
        lower: libm::tanh(middle - reach),
        upper: libm::tanh(middle + reach),
        confidence,
        method: IntervalMethod::FisherZ,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_interval_surrounds_r_and_closes_at_one() {
        let made = fisher_interval(0.5, 28, Confidence::P95).unwrap();
        // atanh 0.5 = 0.549306, reach 1.959964 / 5.
        assert!((made.lower - libm::tanh(0.549_306_144 - 0.391_992_797)).abs() < 1e-8);
        assert!(made.contains(0.5));
        let closed = fisher_interval(1.0, 28, Confidence::P95).unwrap();
        assert_eq!((closed.lower, closed.upper), (1.0, 1.0));
        assert!(fisher_interval(0.5, 3, Confidence::P95).is_err());
    }
}
