//! Checks stated probabilities: between 0 and 1, together 1, with the outcome among them.

use crate::refusal::{Refusal, at_least};

/// How far a sum of written decimals may lie from 1.
const SUM_TOLERANCE: f64 = 1e-9;

/// The probability that was stated for the outcome.
///
/// # Errors
/// `TooFew` for fewer than two, `OutOfRange` for a probability, a sum or an outcome that cannot be.
pub(super) fn stated_for(probabilities: &[f64], outcome: usize) -> Result<f64, Refusal> {
    at_least(
        2,
        probabilities.len(),
        "possible outcomes",
        "one outcome leaves nothing to foresee",
    )?;
    for value in probabilities {
        if !(0.0..=1.0).contains(value) {
            return Err(Refusal::OutOfRange {
                of: "probability",
                value: *value,
                allowed: "0 to 1",
            });
        }
    }
    let sum: f64 = probabilities.iter().sum();
    if (sum - 1.0).abs() > SUM_TOLERANCE {
        return Err(Refusal::OutOfRange {
            of: "sum of the probabilities",
            value: sum,
            allowed: "1",
        });
    }
    probabilities
        .get(outcome)
        .copied()
        .ok_or(Refusal::OutOfRange {
            of: "outcome, counted from 0",
            #[allow(clippy::cast_precision_loss)]
            value: outcome as f64,
            allowed: "below the number of probabilities",
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_forecast_is_refused() {
        assert_eq!(stated_for(&[0.25, 0.75], 1), Ok(0.75));
        for (probabilities, outcome) in [
            (&[1.0][..], 0),
            (&[0.5, 0.6], 0),
            (&[-0.1, 1.1], 0),
            (&[f64::NAN, 1.0], 0),
            (&[0.5, 0.5], 2),
        ] {
            assert!(
                stated_for(probabilities, outcome).is_err(),
                "{probabilities:?}"
            );
        }
    }
}
