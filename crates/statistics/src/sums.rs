//! Sums, means and moments: compensated, in two passes, always in the order of the data.

use crate::refusal::{Refusal, at_least};

/// What the sum of squares is divided by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Divisor {
    /// The number of values: the variance of just these.
    Count,
    /// One less: the estimate for those from whom they were drawn.
    CountLessOne,
}

/// The sum, with the rounding errors carried along (Neumaier 1974), each taken exactly without asking
/// which of the two numbers is larger (Knuth 1969, 4.2.2; Ogita, Rump and Oishi 2005, Sum2).
#[must_use]
pub fn sum(values: impl IntoIterator<Item = f64>) -> f64 {
    let mut running = RunningSum::default();
    for value in values {
        running.take(value);
    }
    running.total()
}

/// A sum under way: what is there, and what rounding has taken from it.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct RunningSum {
    so_far: f64,
    lost: f64,
}

impl RunningSum {
    /// The sum of no values.
    pub(crate) const NOTHING: Self = Self {
        so_far: 0.0,
        lost: 0.0,
    };

    /// Takes one more value.
    #[inline]
    pub(crate) fn take(&mut self, value: f64) {
        let next = self.so_far + value;
        let taken = next - self.so_far;
        self.lost += (self.so_far - (next - taken)) + (value - taken);
        self.so_far = next;
    }

    /// The sum of all that was taken.
    #[inline]
    pub(crate) fn total(self) -> f64 {
        self.so_far + self.lost
    }
}

/// The arithmetic mean.
///
/// # Errors
/// `Refusal::TooFew` for no values.
pub fn mean(values: &[f64]) -> Result<f64, Refusal> {
    at_least(1, values.len(), "values", "a mean needs one")?;
    Ok(sum(values.iter().copied()) / values.len() as f64)
}

/// Sum of squared deviations from the mean.
///
/// # Errors
/// `Refusal::TooFew` for no values.
pub fn squares_about_mean(values: &[f64]) -> Result<f64, Refusal> {
    let middle = mean(values)?;
    Ok(sum(values.iter().map(|v| (v - middle) * (v - middle))))
}

/// Sum of products of deviations from the two means.
///
/// # Errors
/// `Refusal::UnequalLengths`, or `Refusal::TooFew` for no values.
pub fn products_about_means(first: &[f64], second: &[f64]) -> Result<f64, Refusal> {
    if first.len() != second.len() {
        return Err(Refusal::UnequalLengths {
            of: "paired values",
            have: second.len(),
            expected: first.len(),
        });
    }
    let (one, other) = (mean(first)?, mean(second)?);
    Ok(sum(first
        .iter()
        .zip(second)
        .map(|(a, b)| (a - one) * (b - other))))
}

/// The variance.
///
/// # Errors
/// `Refusal::TooFew` below one value, or below two for `Divisor::CountLessOne`.
pub fn variance(values: &[f64], divisor: Divisor) -> Result<f64, Refusal> {
    Ok(squares_about_mean(values)? / divided_by(values.len(), divisor)?)
}

/// The covariance.
///
/// # Errors
/// As [`variance`], and `Refusal::UnequalLengths`.
pub fn covariance(first: &[f64], second: &[f64], divisor: Divisor) -> Result<f64, Refusal> {
    Ok(products_about_means(first, second)? / divided_by(first.len(), divisor)?)
}

fn divided_by(count: usize, divisor: Divisor) -> Result<f64, Refusal> {
    match divisor {
        Divisor::Count => {
            at_least(1, count, "values", "a variance needs one")?;
            Ok(count as f64)
        }
        Divisor::CountLessOne => {
            at_least(
                2,
                count,
                "values",
                "a variance with divisor n - 1 needs two",
            )?;
            Ok(count as f64 - 1.0)
        }
    }
}

/// Pearson's product-moment correlation.
///
/// # Errors
/// `Refusal::NoVariance` when either list is constant; otherwise as [`covariance`].
pub fn correlation(first: &[f64], second: &[f64]) -> Result<f64, Refusal> {
    at_least(2, first.len(), "pairs", "a correlation needs two")?;
    let together = products_about_means(first, second)?;
    if is_constant(first) || is_constant(second) {
        return Err(Refusal::NoVariance {
            of: "values of one of the two lists",
        });
    }
    let apart = squares_about_mean(first)?.sqrt() * squares_about_mean(second)?.sqrt();
    Ok((together / apart).clamp(-1.0, 1.0))
}

/// Whether all values are the same number.
#[must_use]
pub fn is_constant(values: &[f64]) -> bool {
    values.windows(2).all(|pair| match pair {
        [one, next] => one == next,
        _ => true,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn small_values_survive_beside_large_ones() {
        assert_eq!(sum([1.0, 1e100, 1.0, -1e100]), 2.0);
    }

    #[test]
    fn a_variance_far_from_zero_is_not_lost() {
        let values = [1e9 + 4.0, 1e9 + 7.0, 1e9 + 13.0, 1e9 + 16.0];
        assert_eq!(variance(&values, Divisor::CountLessOne).unwrap(), 30.0);
    }

    #[test]
    fn constant_values_have_no_correlation() {
        assert!(matches!(
            correlation(&[1.0, 1.0], &[1.0, 2.0]),
            Err(Refusal::NoVariance { .. })
        ));
        assert!((correlation(&[0.1, 0.2], &[0.3, 0.1]).unwrap() + 1.0).abs() < 1e-15);
    }
}
