//! What is known of a candidate's ability before the answers: the population it comes from.

use crate::refusal::Refusal;

/// A normal population of abilities, in logits.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct AbilityPrior {
    mean: f64,
    standard_deviation: f64,
}

impl AbilityPrior {
    /// Mean 0, standard deviation 1.
    pub const STANDARD: Self = Self {
        mean: 0.0,
        standard_deviation: 1.0,
    };

    /// Takes a mean and a standard deviation above 0.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` for what is not finite, or a deviation of 0 or less.
    pub fn new(mean: f64, standard_deviation: f64) -> Result<Self, Refusal> {
        if !mean.is_finite() {
            return Err(Refusal::OutOfRange {
                of: "mean ability",
                value: mean,
                allowed: "a finite number",
            });
        }
        if !(standard_deviation > 0.0 && standard_deviation.is_finite()) {
            return Err(Refusal::OutOfRange {
                of: "standard deviation of abilities",
                value: standard_deviation,
                allowed: "above 0",
            });
        }
        Ok(Self {
            mean,
            standard_deviation,
        })
    }

    /// The mean.
    #[must_use]
    pub const fn mean(self) -> f64 {
        self.mean
    }

    /// The standard deviation.
    #[must_use]
    pub const fn standard_deviation(self) -> f64 {
        self.standard_deviation
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_population_has_spread() {
        assert!(AbilityPrior::new(0.0, 0.0).is_err());
        assert!(AbilityPrior::new(f64::NAN, 1.0).is_err());
        assert!(AbilityPrior::new(0.5, 1.5).is_ok());
    }
}
