//! The normal distribution: the only way to a normal p-value in this house.
//!
//! Source: definition through the complementary error function (DLMF 7.2), each tail by itself.

use super::search::falling_crossing;
use crate::p_value::{PValue, Side};
use std::f64::consts::{PI, SQRT_2};

/// Probability of z or more.
#[must_use]
pub fn upper_tail(z: f64) -> f64 {
    0.5 * libm::erfc(z / SQRT_2)
}

/// Probability of z or less.
#[must_use]
pub fn lower_tail(z: f64) -> f64 {
    0.5 * libm::erfc(-z / SQRT_2)
}

/// Probability of as far from 0 as z, or farther.
#[must_use]
pub fn two_sided(z: f64) -> PValue {
    PValue {
        probability: libm::erfc(z.abs() / SQRT_2),
        side: Side::Both,
    }
}

/// Height of the curve.
#[must_use]
pub fn density(z: f64) -> f64 {
    libm::exp(-0.5 * z * z) / (2.0 * PI).sqrt()
}

/// The z that leaves `probability` above it; infinite at 0 and 1, not a number beyond.
#[must_use]
pub fn quantile_of_upper_tail(probability: f64) -> f64 {
    if !(0.0..=1.0).contains(&probability) {
        return f64::NAN;
    }
    if probability == 0.0 {
        return f64::INFINITY;
    }
    if probability == 1.0 {
        return f64::NEG_INFINITY;
    }
    if probability == 0.5 {
        return 0.0;
    }
    falling_crossing(upper_tail, probability, -40.0, 40.0)
}

/// The z that leaves `probability` below it.
#[must_use]
pub fn quantile_of_lower_tail(probability: f64) -> f64 {
    -quantile_of_upper_tail(probability)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tail_at_nine_is_a_tail() {
        // 2.257176811907681e-19 by erfc(9 / sqrt 2); one minus the distribution function gives 0.
        let p = two_sided(9.0).probability;
        assert!((p - 2.257_176_811_907_681e-19).abs() < 1e-31, "{p}");
        assert!((upper_tail(9.0) - 1.128_588_405_953_840_4e-19).abs() < 1e-31);
        assert!((lower_tail(-9.0) - upper_tail(9.0)).abs() < 1e-35);
    }

    #[test]
    fn quantiles_that_every_table_prints() {
        assert!((quantile_of_upper_tail(0.025) - 1.959_963_984_540_054).abs() < 1e-14);
        assert!((quantile_of_lower_tail(0.05) + 1.644_853_626_951_472_2).abs() < 1e-14);
        assert!((quantile_of_upper_tail(upper_tail(9.0)) - 9.0).abs() < 1e-13);
        assert!(quantile_of_upper_tail(1.5).is_nan());
    }
}
