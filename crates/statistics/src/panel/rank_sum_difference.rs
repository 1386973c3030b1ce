//! By how much must two rank sums differ to be told apart after Friedman's test?
//!
//! Source: ISO 8587 (formula from memory): z √(n k (k+1)/6), z leaving half of the risk above it.
//! Invalid: ties; many comparisons at once (each has the risk by itself); before Friedman's test
//! has found a difference.

use crate::distribution::normal;
use crate::refusal::{Refusal, at_least};

/// The least significant difference of two rank sums.
///
/// # Errors
/// `Refusal::TooFew` below two assessors or samples, `Refusal::OutOfRange` for a risk not between 0
/// and 1.
pub fn rank_sum_difference(assessors: usize, samples: usize, risk: f64) -> Result<f64, Refusal> {
    at_least(2, assessors, "assessors", "a common order needs two")?;
    at_least(2, samples, "samples", "an order needs two")?;
    risk_between_zero_and_one(risk)?;
    let (n, k) = (assessors as f64, samples as f64);
    Ok(normal::quantile_of_upper_tail(risk / 2.0) * (n * k * (k + 1.0) / 6.0).sqrt())
}

/// Refuses a risk that is none.
pub(crate) fn risk_between_zero_and_one(risk: f64) -> Result<(), Refusal> {
    if risk > 0.0 && risk < 1.0 {
        Ok(())
    } else {
        Err(Refusal::OutOfRange {
            of: "risk",
            value: risk,
            allowed: "between 0 and 1",
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn grows_with_the_root_of_the_assessors() {
        let few = rank_sum_difference(7, 6, 0.05).unwrap();
        let many = rank_sum_difference(28, 6, 0.05).unwrap();
        assert!((many / few - 2.0).abs() < 1e-14);
        assert!(rank_sum_difference(7, 6, 0.0).is_err());
    }
}
