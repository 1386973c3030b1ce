//! The F distribution of a ratio of mean squares, each tail by itself.
//!
//! Source: DLMF 8.17 with x = d₁f/(d₁f + d₂). Degrees of freedom above 0, whole or not.

use super::incomplete_beta::incomplete_beta;
use super::search::falling_crossing_above_zero;

/// Probability of f or more.
#[must_use]
pub fn upper_tail(f: f64, above: f64, below: f64) -> f64 {
    if f <= 0.0 {
        return 1.0;
    }
    let whole = above * f + below;
    incomplete_beta(below / 2.0, above / 2.0, below / whole, above * f / whole)
}

/// Probability of f or less.
#[must_use]
pub fn lower_tail(f: f64, above: f64, below: f64) -> f64 {
    if f <= 0.0 {
        return 0.0;
    }
    let whole = above * f + below;
    incomplete_beta(above / 2.0, below / 2.0, above * f / whole, below / whole)
}

/// The f that leaves `probability` above it; not a number outside 0 to 1.
#[must_use]
pub fn quantile_of_upper_tail(probability: f64, above: f64, below: f64) -> f64 {
    if !(0.0..=1.0).contains(&probability) {
        return f64::NAN;
    }
    if probability == 0.0 {
        return f64::INFINITY;
    }
    if probability == 1.0 {
        return 0.0;
    }
    falling_crossing_above_zero(|f| upper_tail(f, above, below), probability)
}

/// The f that leaves `probability` below it: the reciprocal of the upper quantile of 1/F.
#[must_use]
pub fn quantile_of_lower_tail(probability: f64, above: f64, below: f64) -> f64 {
    1.0 / quantile_of_upper_tail(probability, below, above)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_with_two_degrees_above() {
        // P(F >= f) = (1 + 2 f / d)^(-d/2) for (2, d) degrees of freedom.
        for (f, d) in [(1.0, 10.0), (4.1, 10.0), (50.0, 30.0)] {
            let expected = libm::pow(1.0 + 2.0 * f / d, -d / 2.0);
            let computed = upper_tail(f, 2.0, d);
            assert!((computed - expected).abs() < 1e-13 * expected, "{computed}");
            assert!((lower_tail(f, 2.0, d) + computed - 1.0).abs() < 1e-14);
        }
    }

    #[test]
    fn quantiles_of_the_printed_tables() {
        // 5 % points: 4.96 at (1, 10), 3.33 at (5, 10).
        assert!((quantile_of_upper_tail(0.05, 1.0, 10.0) - 4.96).abs() < 0.005);
        assert!((quantile_of_upper_tail(0.05, 5.0, 10.0) - 3.33).abs() < 0.005);
        let lower = quantile_of_lower_tail(0.01, 5.0, 10.0);
        assert!((lower_tail(lower, 5.0, 10.0) - 0.01).abs() < 1e-14);
    }
}
