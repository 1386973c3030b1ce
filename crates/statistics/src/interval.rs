//! What an interval is: two limits, the level of confidence, and the method that gave them.

use crate::refusal::Refusal;

/// A level of confidence, between 0 and 1, both left out.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize)]
pub struct Confidence(f64);

impl Confidence {
    /// 90 per cent.
    pub const P90: Self = Self(0.90);
    /// 95 per cent.
    pub const P95: Self = Self(0.95);
    /// 99 per cent.
    pub const P99: Self = Self(0.99);

    /// Takes a share between 0 and 1.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` for 0, 1, anything beyond, and what is not a number.
    pub fn new(share: f64) -> Result<Self, Refusal> {
        if share > 0.0 && share < 1.0 {
            Ok(Self(share))
        } else {
            Err(Refusal::OutOfRange {
                of: "confidence",
                value: share,
                allowed: "between 0 and 1",
            })
        }
    }

    /// The share, 0 to 1.
    #[must_use]
    pub const fn share(self) -> f64 {
        self.0
    }

    /// What is left out at each side by a two-sided interval.
    #[must_use]
    pub const fn each_tail(self) -> f64 {
        (1.0 - self.0) / 2.0
    }
}

/// How the limits were worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum IntervalMethod {
    /// Feldt 1965, for coefficient alpha and KR-20.
    Feldt,
    /// Wilson 1927, the score interval of a proportion.
    Wilson,
    /// Fisher's z of a correlation.
    FisherZ,
    /// Limits from the F distribution of a ratio of mean squares.
    MeanSquareRatio,
    /// The same with Satterthwaite's degrees of freedom.
    Satterthwaite,
    /// Estimate and standard error with the normal distribution.
    Normal,
    /// Estimate and standard error with Student's t.
    StudentT,
    /// Percentiles of resampled persons.
    BootstrapPercentile,
}

/// Two limits that know their level and their method.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Interval {
    /// Lower limit.
    pub lower: f64,
    /// Upper limit.
    pub upper: f64,
    /// Level.
    pub confidence: Confidence,
    /// Method.
    pub method: IntervalMethod,
}

impl Interval {
    /// Whether a value lies between the limits, limits included.
    #[must_use]
    pub fn contains(&self, value: f64) -> bool {
        self.lower <= value && value <= self.upper
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn certainty_is_no_confidence_level() {
        assert!(Confidence::new(1.0).is_err());
        assert!(Confidence::new(0.0).is_err());
        assert!(Confidence::new(f64::NAN).is_err());
        assert!(Confidence::new(0.8).is_ok_and(|level| (level.each_tail() - 0.1).abs() < 1e-15));
    }
}
