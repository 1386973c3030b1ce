//! How many candidates have each mark of a form, from 0 to the highest.
//!
//! Moments: mean; variance with divisor n − 1; skewness m₃/s³ and kurtosis m₄/s⁴ with m of divisor n
//! and s of divisor n − 1, as the error formulas of Kolen & Brennan 2004, ch. 7 are used. Counts may
//! be fractions, as smoothing and weighting yield them.

use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// Counts of the marks 0, 1, 2 and so on.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ScoreDistribution {
    counts: Vec<f64>,
}

impl ScoreDistribution {
    /// Takes the counts of the marks 0, 1, 2 and so on.
    ///
    /// # Errors
    /// `Refusal::TooFew` below two marks or two candidates; `Refusal::OutOfRange` for a count that
    /// is negative or no number; `Refusal::NoVariance` when all candidates have one mark.
    pub fn new(counts: Vec<f64>) -> Result<Self, Refusal> {
        at_least(2, counts.len(), "possible marks", "a scale needs two")?;
        if let Some(count) = counts
            .iter()
            .find(|count| !(count.is_finite() && **count >= 0.0))
        {
            return Err(Refusal::OutOfRange {
                of: "count of a mark",
                value: *count,
                allowed: "0 or more",
            });
        }
        let n = sum(counts.iter().copied());
        if n < 1.999_999 {
            return Err(Refusal::TooFew {
                of: "candidates",
                have: n as usize,
                need: 2,
                reason: "a spread needs two",
            });
        }
        if counts.iter().filter(|count| **count > 0.0).count() < 2 {
            return Err(Refusal::NoVariance { of: "marks" });
        }
        Ok(Self { counts })
    }

    /// Counts marks.
    ///
    /// # Errors
    /// As [`Self::new`], and `Refusal::OutOfRange` for a mark above the highest.
    pub fn from_marks(marks: &[usize], highest: usize) -> Result<Self, Refusal> {
        let mut counts = vec![0.0; highest + 1];
        for mark in marks {
            match counts.get_mut(*mark) {
                Some(count) => *count += 1.0,
                None => {
                    return Err(Refusal::OutOfRange {
                        of: "a mark",
                        value: *mark as f64,
                        allowed: "up to the highest of the form",
                    });
                }
            }
        }
        Self::new(counts)
    }

    /// The counts.
    #[must_use]
    pub fn counts(&self) -> &[f64] {
        &self.counts
    }

    /// The highest possible mark.
    #[must_use]
    pub fn highest(&self) -> usize {
        self.counts.len() - 1
    }

    /// Number of candidates.
    #[must_use]
    pub fn n(&self) -> f64 {
        sum(self.counts.iter().copied())
    }

    /// Mean mark.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.moment(1, 0.0) / self.n()
    }

    /// Variance with divisor n − 1.
    #[must_use]
    pub fn variance(&self) -> f64 {
        self.moment(2, self.mean()) / (self.n() - 1.0)
    }

    /// Standard deviation with divisor n − 1.
    #[must_use]
    pub fn standard_deviation(&self) -> f64 {
        self.variance().sqrt()
    }

    /// Skewness.
    #[must_use]
    pub fn skewness(&self) -> f64 {
        let spread = self.standard_deviation();
        self.moment(3, self.mean()) / self.n() / (spread * spread * spread)
    }

    /// Kurtosis; about 3 for a normal distribution.
    #[must_use]
    pub fn kurtosis(&self) -> f64 {
        let variance = self.variance();
        self.moment(4, self.mean()) / self.n() / (variance * variance)
    }

    /// Share of candidates at each mark.
    #[must_use]
    pub fn shares(&self) -> Vec<f64> {
        let n = self.n();
        self.counts.iter().map(|count| count / n).collect()
    }

    fn moment(&self, power: u32, about: f64) -> f64 {
        sum(self.counts.iter().enumerate().map(|(mark, count)| {
            let away = mark as f64 - about;
            (0..power).fold(*count, |product, _| product * away)
        }))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn moments_of_a_small_set() {
        let made = ScoreDistribution::from_marks(&[1, 2, 2, 3], 4).unwrap();
        assert_eq!((made.n(), made.mean(), made.highest()), (4.0, 2.0, 4));
        assert!((made.variance() - 2.0 / 3.0).abs() < 1e-15);
        assert!(made.skewness().abs() < 1e-15);
    }

    #[test]
    fn nothing_to_match_is_refused() {
        assert!(matches!(
            ScoreDistribution::from_marks(&[2, 2, 2], 4),
            Err(Refusal::NoVariance { .. })
        ));
        assert!(ScoreDistribution::from_marks(&[2], 4).is_err());
        assert!(ScoreDistribution::from_marks(&[5, 1], 4).is_err());
        assert!(ScoreDistribution::new(vec![1.0, f64::NAN]).is_err());
    }
}
