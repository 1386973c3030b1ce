//! A parameter with its standard error, on which the interval hangs.

use crate::distribution::normal;
use crate::interval::{Confidence, Interval, IntervalMethod};

/// An estimate by maximum likelihood.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Estimate {
    /// The estimate, in logits unless said otherwise.
    pub value: f64,
    /// Its standard error, in the same unit.
    pub standard_error: f64,
}

impl Estimate {
    /// Limits by the normal distribution.
    #[must_use]
    pub fn interval(&self, confidence: Confidence) -> Interval {
        let width = normal::quantile_of_upper_tail(confidence.each_tail()) * self.standard_error;
        Interval {
            lower: self.value - width,
            upper: self.value + width,
            confidence,
            method: IntervalMethod::Normal,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_interval_is_two_errors_wide_on_each_side() {
        let made = Estimate {
            value: 1.0,
            standard_error: 0.5,
        }
        .interval(Confidence::P95);
        assert!((made.upper - 1.979_982).abs() < 1e-6 && (made.lower - 0.020_018).abs() < 1e-6);
    }
}
