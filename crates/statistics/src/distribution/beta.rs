//! The beta distribution on 0 to 1, each tail by itself.
//!
//! Source: DLMF 8.17. Both shapes above 0.

use super::incomplete_beta::incomplete_beta;
use super::saddle_point::binomial_term;
use super::search::falling_crossing;

/// Probability of x or less.
#[must_use]
pub fn lower_tail(x: f64, a: f64, b: f64) -> f64 {
    incomplete_beta(a, b, x, 1.0 - x)
}

/// Probability of x or more.
#[must_use]
pub fn upper_tail(x: f64, a: f64, b: f64) -> f64 {
    incomplete_beta(b, a, 1.0 - x, x)
}

/// Height of the curve inside 0 to 1; 0 outside and at the ends.
#[must_use]
pub fn density(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 || x >= 1.0 {
        return 0.0;
    }
    binomial_term(a, a + b, x, 1.0 - x) * a * b / ((a + b) * x * (1.0 - x))
}

/// The x that leaves `probability` below it; not a number outside 0 to 1.
#[must_use]
pub fn quantile_of_lower_tail(probability: f64, a: f64, b: f64) -> f64 {
    if !(0.0..=1.0).contains(&probability) {
        return f64::NAN;
    }
    falling_crossing(|x| -lower_tail(x, a, b), -probability, 0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_arcsine_distribution() {
        // Shapes ½, ½: P(X <= x) = 2/π arcsin √x.
        for x in [0.01_f64, 0.25, 0.5, 0.99] {
            let expected = 2.0 / std::f64::consts::PI * libm::asin(x.sqrt());
            assert!((lower_tail(x, 0.5, 0.5) - expected).abs() < 1e-14);
            assert!((quantile_of_lower_tail(expected, 0.5, 0.5) - x).abs() < 1e-13);
        }
        assert!((density(0.3, 2.0, 3.0) - 12.0 * 0.3 * 0.7 * 0.7).abs() < 1e-13);
    }
}
