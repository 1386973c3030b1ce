//! The chi-square distribution, each tail by itself.
//!
//! Source: DLMF 8.2.4 with a = ν/2, x = χ²/2. Degrees of freedom above 0.

use super::incomplete_gamma::{lower_gamma, upper_gamma};
use super::search::falling_crossing_above_zero;

/// Probability of `chi_square` or more.
#[must_use]
pub fn upper_tail(chi_square: f64, degrees_of_freedom: f64) -> f64 {
    upper_gamma(degrees_of_freedom / 2.0, chi_square / 2.0)
}

/// Probability of `chi_square` or less.
#[must_use]
pub fn lower_tail(chi_square: f64, degrees_of_freedom: f64) -> f64 {
    lower_gamma(degrees_of_freedom / 2.0, chi_square / 2.0)
}

/// The value that leaves `probability` above it; not a number outside 0 to 1.
#[must_use]
pub fn quantile_of_upper_tail(probability: f64, degrees_of_freedom: f64) -> f64 {
    if !(0.0..=1.0).contains(&probability) {
        return f64::NAN;
    }
    if probability == 0.0 {
        return f64::INFINITY;
    }
    if probability == 1.0 {
        return 0.0;
    }
    falling_crossing_above_zero(|x| upper_tail(x, degrees_of_freedom), probability)
}

#[cfg(test)]
mod tests {
    use super::super::normal;
    use super::*;

    #[test]
    fn one_degree_of_freedom_is_the_square_of_a_normal() {
        for z in [0.5, 1.96, 9.0] {
            let expected = normal::two_sided(z).probability;
            let computed = upper_tail(z * z, 1.0);
            assert!(
                (computed - expected).abs() < 1e-13 * expected,
                "{z}: {computed}"
            );
        }
    }

    #[test]
    fn quantiles_of_the_printed_tables() {
        // 5 % points: 3.841 at 1, 18.307 at 10 degrees of freedom.
        assert!((quantile_of_upper_tail(0.05, 1.0) - 3.841).abs() < 0.0005);
        assert!((quantile_of_upper_tail(0.05, 10.0) - 18.307).abs() < 0.0005);
        assert!((lower_tail(18.307, 10.0) - 0.95).abs() < 1e-5);
    }
}
