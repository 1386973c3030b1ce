//! Which mark lies as many standard deviations from the mean on the other form?
//!
//! Source: Kolen & Brennan 2004, eq. 2.9, for two random groups of one population; standard error by
//! the delta method with skewness and kurtosis (ch. 7; Braun & Holland 1982). Invalid: groups that
//! differ in ability (see [`super::tucker`], [`super::levine`], [`super::chained_linear`]); forms
//! whose marks are skewed in different ways. Smallest: see [`super::advice`]; refused below two
//! candidates or without variance. Ties and missing: do not arise.

use crate::equating::conversion::LinearConversion;
use crate::equating::score_distribution::ScoreDistribution;

/// A linear equating.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LinearEquating {
    /// The line.
    pub conversion: LinearConversion,
    /// Standard error at the marks 0 to the highest of form X.
    pub standard_errors: Vec<f64>,
    /// Candidates on the form that is converted, and on the other.
    pub n: [f64; 2],
}

/// Equates form X to form Y by mean and standard deviation.
#[must_use]
pub fn linear_equating(x: &ScoreDistribution, y: &ScoreDistribution) -> LinearEquating {
    let slope = y.standard_deviation() / x.standard_deviation();
    let conversion = LinearConversion {
        slope,
        intercept: y.mean() - slope * x.mean(),
    };
    let (n, m) = (x.n(), y.n());
    let (mean, spread) = (x.mean(), x.standard_deviation());
    let level = 1.0 / n + 1.0 / m;
    let lean = x.skewness() / n + y.skewness() / m;
    let width = (x.kurtosis() - 1.0) / (4.0 * n) + (y.kurtosis() - 1.0) / (4.0 * m);
    let standard_errors = (0..=x.highest())
        .map(|mark| {
            let z = (mark as f64 - mean) / spread;
            // A variance; with very few candidates the estimate can fall a hair below 0.
            (y.variance() * (level + lean * z + width * z * z))
                .max(0.0)
                .sqrt()
        })
        .collect();
    LinearEquating {
        conversion,
        standard_errors,
        n: [n, m],
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back_is_the_identity() {
        let x = ScoreDistribution::new(vec![1.0, 4.0, 6.0, 2.0]).unwrap();
        let y = ScoreDistribution::new(vec![3.0, 5.0, 4.0, 1.0, 1.0]).unwrap();
        let there = linear_equating(&x, &y).conversion;
        let back = linear_equating(&y, &x).conversion;
        let both = there.then(&back);
        assert!((both.slope - 1.0).abs() < 1e-14 && both.intercept.abs() < 1e-14);
        let itself = linear_equating(&x, &x).conversion;
        assert!((itself.at(2.0) - 2.0).abs() < 1e-15);
    }

    #[test]
    fn errors_are_smallest_near_the_mean() {
        let x = ScoreDistribution::new(vec![1.0, 4.0, 6.0, 4.0, 1.0]).unwrap();
        let made = linear_equating(&x, &x).standard_errors;
        assert!(made[2] < made[0] && made[2] < made[4]);
    }
}
