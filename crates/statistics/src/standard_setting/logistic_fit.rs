//! Straight-line logistic regression by Newton's steps, for the cuts that use it.

use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, is_constant, mean, sum, variance};

/// Steps after which the search is given up.
const STEPS: usize = 200;

/// The two coefficients: log odds = intercept + slope x.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct LogisticFit {
    pub(crate) intercept: f64,
    pub(crate) slope: f64,
}

/// Fits log odds of `yes` on `x`.
pub(crate) fn logistic_fit(x: &[f64], yes: &[bool]) -> Result<LogisticFit, Refusal> {
    if x.len() != yes.len() {
        return Err(Refusal::UnequalLengths {
            of: "judgements beside values",
            have: yes.len(),
            expected: x.len(),
        });
    }
    at_least(
        3,
        x.len(),
        "judgements",
        "two coefficients need more than two",
    )?;
    if is_constant(x) {
        return Err(Refusal::NoVariance { of: "values" });
    }
    separated(x, yes)?;
    // Centred and scaled, so that the steps are well behaved for any unit.
    let middle = mean(x)?;
    let spread = variance(x, Divisor::Count)?.sqrt();
    let scaled: Vec<f64> = x.iter().map(|value| (value - middle) / spread).collect();
    let (mut intercept, mut slope) = (0.0, 0.0);
    for _ in 0..STEPS {
        let fitted: Vec<f64> = scaled
            .iter()
            .map(|value| 1.0 / (1.0 + libm::exp(-(intercept + slope * value))))
            .collect();
        let residuals: Vec<f64> = yes
            .iter()
            .zip(&fitted)
            .map(|(yes, p)| f64::from(u8::from(*yes)) - p)
            .collect();
        let weights: Vec<f64> = fitted.iter().map(|p| p * (1.0 - p)).collect();
        let first = sum(residuals.iter().copied());
        let second = sum(residuals.iter().zip(&scaled).map(|(r, v)| r * v));
        let a = sum(weights.iter().copied());
        let b = sum(weights.iter().zip(&scaled).map(|(w, v)| w * v));
        let c = sum(weights.iter().zip(&scaled).map(|(w, v)| w * v * v));
        let determinant = a * c - b * b;
        if determinant.is_nan() || determinant <= 0.0 {
            break;
        }
        let intercept_step = (c * first - b * second) / determinant;
        let slope_step = (a * second - b * first) / determinant;
        intercept += intercept_step;
        slope += slope_step;
        if intercept_step.abs() < 1e-13 * (1.0 + intercept.abs())
            && slope_step.abs() < 1e-13 * (1.0 + slope.abs())
        {
            return Ok(LogisticFit {
                intercept: intercept - slope * middle / spread,
                slope: slope / spread,
            });
        }
    }
    Err(Refusal::NotSettled {
        of: "the logistic regression",
        steps: STEPS,
    })
}

/// Refuses data that a threshold separates: the slope would run to infinity.
fn separated(x: &[f64], yes: &[bool]) -> Result<(), Refusal> {
    let ends = |wanted: bool| {
        x.iter()
            .zip(yes)
            .filter(|(_, yes)| **yes == wanted)
            .map(|(value, _)| *value)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
                (low.min(value), high.max(value))
            })
    };
    let ((yes_low, yes_high), (no_low, no_high)) = (ends(true), ends(false));
    // One group empty leaves infinite ends, which are apart too.
    if yes_low >= no_high || no_low >= yes_high {
        return Err(Refusal::NotDefined {
            of: "the logistic regression",
            because: "the two groups do not overlap (or one is empty)",
        });
    }
    Ok(())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn two_values_give_the_observed_odds() {
        // 1 of 4 at 0, 3 of 4 at 1: log odds -ln 3 and ln 3.
        let x = [0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0];
        let yes = [true, false, false, false, true, true, true, false];
        let made = logistic_fit(&x, &yes).unwrap();
        assert!((made.intercept + libm::log(3.0)).abs() < 1e-12);
        assert!((made.slope - 2.0 * libm::log(3.0)).abs() < 1e-12);
    }

    #[test]
    fn separated_groups_are_refused() {
        let made = logistic_fit(&[1.0, 2.0, 3.0, 4.0], &[false, false, true, true]);
        assert!(matches!(made, Err(Refusal::NotDefined { .. })));
        assert!(logistic_fit(&[1.0, 2.0, 3.0], &[true, true, true]).is_err());
    }
}
