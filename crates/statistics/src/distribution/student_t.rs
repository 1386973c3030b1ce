//! Student's t distribution, each tail by itself.
//!
//! Source: DLMF 8.17 with x = ν/(ν + t²). Degrees of freedom above 0, whole or not.

use super::incomplete_beta::incomplete_beta;
use super::search::falling_crossing_above_zero;
use crate::p_value::{PValue, Side};

/// Probability of as far from 0 as t, or farther.
#[must_use]
pub fn two_sided(t: f64, degrees_of_freedom: f64) -> PValue {
    let square = t * t;
    let whole = degrees_of_freedom + square;
    PValue {
        probability: incomplete_beta(
            degrees_of_freedom / 2.0,
            0.5,
            degrees_of_freedom / whole,
            square / whole,
        ),
        side: Side::Both,
    }
}

/// Probability of t or more.
#[must_use]
pub fn upper_tail(t: f64, degrees_of_freedom: f64) -> f64 {
    let beyond = two_sided(t, degrees_of_freedom).probability / 2.0;
    if t >= 0.0 { beyond } else { 1.0 - beyond }
}

/// Probability of t or less.
#[must_use]
pub fn lower_tail(t: f64, degrees_of_freedom: f64) -> f64 {
    upper_tail(-t, degrees_of_freedom)
}

/// The t that leaves `probability` above it; not a number outside 0 to 1.
#[must_use]
pub fn quantile_of_upper_tail(probability: f64, degrees_of_freedom: f64) -> f64 {
    if !(0.0..=1.0).contains(&probability) {
        return f64::NAN;
    }
    if probability == 0.0 {
        return f64::INFINITY;
    }
    if probability == 0.5 {
        return 0.0;
    }
    if probability > 0.5 {
        return -quantile_of_upper_tail(1.0 - probability, degrees_of_freedom);
    }
    falling_crossing_above_zero(|t| upper_tail(t, degrees_of_freedom), probability)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_degree_of_freedom_is_the_cauchy_distribution() {
        for t in [0.1_f64, 1.0, 3.0, 1e6] {
            let expected = libm::atan(1.0 / t) / std::f64::consts::PI;
            let computed = upper_tail(t, 1.0);
            assert!(
                (computed - expected).abs() < 1e-14 * expected,
                "{t}: {computed}"
            );
        }
    }

    #[test]
    fn quantiles_of_the_printed_tables() {
        // Student's table: 2.228 at 10 degrees of freedom, 12.706 at 1.
        assert!((quantile_of_upper_tail(0.025, 10.0) - 2.228).abs() < 0.0005);
        assert!((quantile_of_upper_tail(0.025, 1.0) - 12.706).abs() < 0.0005);
        assert!((quantile_of_upper_tail(0.975, 10.0) + 2.228).abs() < 0.0005);
    }

    #[test]
    fn far_tails_do_not_vanish() {
        // With many degrees of freedom the tail at 9 approaches the normal 1.1286e-19.
        let p = upper_tail(9.0, 1e7);
        assert!(
            (p / super::super::normal::upper_tail(9.0) - 1.0).abs() < 1e-3,
            "{p}"
        );
    }
}
