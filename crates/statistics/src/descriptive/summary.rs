//! Where do the scores lie, how far do they spread, which way do they lean?
//!
//! Sources: mean and standard deviation by definition (divisor n − 1); skewness g₁ = m₃/m₂^1.5 with
//! divisor n and its adjusted form G₁ = g₁ √(n(n−1))/(n−2) (Joanes & Gill 1998); interval of the
//! mean by Student's t. Invalid: the interval where candidates did not answer independently.
//! Missing: not in the list.

use crate::descriptive::quantile::sorted_quantile;
use crate::distribution::student_t;
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, mean, sum, variance};

/// A summary of a set of numbers.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Summary {
    /// How many.
    pub n: usize,
    /// Arithmetic mean.
    pub mean: f64,
    /// Interval of the mean; a refusal for a single value.
    pub mean_interval: Result<Interval, Refusal>,
    /// Standard deviation with divisor n − 1; a refusal for a single value.
    pub standard_deviation: Result<f64, Refusal>,
    /// Smallest value.
    pub smallest: f64,
    /// First quartile.
    pub lower_quartile: f64,
    /// Median.
    pub median: f64,
    /// Third quartile.
    pub upper_quartile: f64,
    /// Largest value.
    pub largest: f64,
    /// Adjusted skewness G₁; a refusal below three values or without variance.
    pub skewness: Result<f64, Refusal>,
}

/// Summarises values.
///
/// # Errors
/// `Refusal::TooFew` for no values.
pub fn summary(values: &[f64], confidence: Confidence) -> Result<Summary, Refusal> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let standard_deviation = variance(values, Divisor::CountLessOne).map(f64::sqrt);
    Ok(Summary {
        n: values.len(),
        mean: mean(values)?,
        mean_interval: mean_interval(values, confidence),
        standard_deviation,
        smallest: sorted_quantile(&sorted, 0.0)?,
        lower_quartile: sorted_quantile(&sorted, 0.25)?,
        median: sorted_quantile(&sorted, 0.5)?,
        upper_quartile: sorted_quantile(&sorted, 0.75)?,
        largest: sorted_quantile(&sorted, 1.0)?,
        skewness: skewness(values),
    })
}

/// Interval of a mean by Student's t.
///
/// # Errors
/// `Refusal::TooFew` below two values.
pub fn mean_interval(values: &[f64], confidence: Confidence) -> Result<Interval, Refusal> {
    let spread = variance(values, Divisor::CountLessOne)?.sqrt();
    let n = values.len() as f64;
    let middle = mean(values)?;
    let reach =
        student_t::quantile_of_upper_tail(confidence.each_tail(), n - 1.0) * spread / n.sqrt();
    Ok(Interval {
        lower: middle - reach,
        upper: middle + reach,
        confidence,
        method: IntervalMethod::StudentT,
    })
}

/// Adjusted skewness G₁.
///
/// # Errors
/// `Refusal::TooFew` below three values, `Refusal::NoVariance` for equal ones.
pub fn skewness(values: &[f64]) -> Result<f64, Refusal> {
    at_least(
        3,
        values.len(),
        "values",
        "the adjusted skewness divides by n - 2",
    )?;
    let middle = mean(values)?;
    let second = variance(values, Divisor::Count)?;
    if second == 0.0 {
        return Err(Refusal::NoVariance { of: "values" });
    }
    let n = values.len() as f64;
    let cubes = values
        .iter()
        .map(|v| (v - middle) * (v - middle) * (v - middle));
    let third = sum(cubes) / n;
    Ok(third / (second * second.sqrt()) * (n * (n - 1.0)).sqrt() / (n - 2.0))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_small_set_by_hand() {
        let made = summary(&[1.0, 2.0, 3.0, 4.0, 10.0], Confidence::P95).unwrap();
        assert_eq!((made.n, made.mean, made.median), (5, 4.0, 3.0));
        assert!((made.standard_deviation.unwrap() - 12.5_f64.sqrt()).abs() < 1e-15);
        // m2 = 10, m3 = (-27 - 8 - 1 + 0 + 216) / 5 = 36; G1 = 36 / 10^1.5 * sqrt 20 / 3.
        let expected = 36.0 / (10.0 * 10.0_f64.sqrt()) * 20.0_f64.sqrt() / 3.0;
        assert!((made.skewness.unwrap() - expected).abs() < 1e-14);
        // t = 2.776 at 4 degrees of freedom.
        let reach = made.mean_interval.unwrap().upper - 4.0;
        assert!((reach - 2.776 * (12.5_f64 / 5.0).sqrt()).abs() < 0.001);
    }

    #[test]
    fn one_value_has_a_mean_and_nothing_else() {
        let made = summary(&[7.0], Confidence::P95).unwrap();
        assert_eq!(made.mean, 7.0);
        assert!(made.standard_deviation.is_err() && made.skewness.is_err());
        assert!(summary(&[], Confidence::P95).is_err());
    }
}
