//! A mean difference with its interval by Student's t, and its spread with one by chi-square.
//!
//! Source: textbook (Student 1908 for the mean; n - 1 times the variance over the true one is
//! chi-square for normal differences). The interval of the spread is wrong for differences that are
//! far from normal; with few scripts nobody can tell.

use statistics::distribution::{chi_square, student_t};

/// Each tail of 95 per cent.
const TAIL: f64 = 0.025;

/// A mean difference.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct MeanDifference {
    /// The mean.
    pub(super) mean: f64,
    /// Its limits.
    pub(super) limits: [f64; 2],
    /// The standard deviation of the differences.
    pub(super) spread: f64,
    /// Its limits.
    pub(super) spread_limits: [f64; 2],
}

impl MeanDifference {
    /// Of these differences; none below so many.
    pub(super) fn of(differences: &[f64], fewest: usize) -> Option<Self> {
        let n = differences.len();
        if n < fewest.max(2) {
            return None;
        }
        let count = n as f64;
        let mean = differences.iter().sum::<f64>() / count;
        let squares: f64 = differences.iter().map(|d| (d - mean) * (d - mean)).sum();
        let spread = (squares / (count - 1.0)).sqrt();
        let half = student_t::quantile_of_upper_tail(TAIL, count - 1.0) * spread / count.sqrt();
        let limit =
            |tail: f64| (squares / chi_square::quantile_of_upper_tail(tail, count - 1.0)).sqrt();
        Some(Self {
            mean,
            limits: [mean - half, mean + half],
            spread,
            spread_limits: [limit(TAIL), limit(1.0 - TAIL)],
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_hand_example() {
        // 1, 2, 3, 4, 5: mean 3, spread sqrt(2.5); t(.975; 4) = 2.776445, chi-square(4) .025 and
        // .975: 11.14329, .4844186 (printed tables).
        let made = MeanDifference::of(&[1.0, 2.0, 3.0, 4.0, 5.0], 5).unwrap();
        let half = 2.776_445 * 2.5_f64.sqrt() / 5.0_f64.sqrt();
        assert!((made.mean - 3.0).abs() < 1e-12);
        assert!((made.limits[0] - (3.0 - half)).abs() < 1e-5);
        assert!((made.spread_limits[0] - (10.0_f64 / 11.143_29).sqrt()).abs() < 1e-5);
        assert!((made.spread_limits[1] - (10.0_f64 / 0.484_418_6).sqrt()).abs() < 1e-5);
        assert_eq!(MeanDifference::of(&[1.0; 4], 5), None);
    }
}
