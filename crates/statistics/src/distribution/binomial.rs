//! The binomial distribution, each tail by itself.
//!
//! Source: terms as Loader 2000; tails by the incomplete beta function, DLMF 8.17.5.

use super::incomplete_beta::incomplete_beta;
use super::saddle_point::binomial_term;

/// Probability of exactly `successes` out of `trials`.
#[must_use]
pub fn probability(successes: u32, trials: u32, chance: f64) -> f64 {
    if successes > trials {
        return 0.0;
    }
    binomial_term(
        f64::from(successes),
        f64::from(trials),
        chance,
        1.0 - chance,
    )
}

/// Probability of `successes` or more.
#[must_use]
pub fn upper_tail(successes: u32, trials: u32, chance: f64) -> f64 {
    if successes == 0 {
        return 1.0;
    }
    if successes > trials {
        return 0.0;
    }
    let (k, n) = (f64::from(successes), f64::from(trials));
    incomplete_beta(k, n - k + 1.0, chance, 1.0 - chance)
}

/// Probability of `successes` or fewer.
#[must_use]
pub fn lower_tail(successes: u32, trials: u32, chance: f64) -> f64 {
    if successes >= trials {
        return 1.0;
    }
    let (k, n) = (f64::from(successes), f64::from(trials));
    incomplete_beta(n - k, k + 1.0, 1.0 - chance, chance)
}

/// The smallest number of successes whose lower tail reaches `probability`.
#[must_use]
pub fn quantile_of_lower_tail(probability: f64, trials: u32, chance: f64) -> u32 {
    let (mut left, mut right) = (0, trials);
    while left < right {
        let middle = left + (right - left) / 2;
        if lower_tail(middle, trials, chance) >= probability {
            right = middle;
        } else {
            left = middle + 1;
        }
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tails_are_sums_of_terms() {
        for chance in [0.0, 1.0 / 3.0, 0.5, 0.97, 1.0] {
            for k in 0..=24 {
                let above: f64 = (k..=24).map(|i| probability(i, 24, chance)).sum();
                let below: f64 = (0..=k).map(|i| probability(i, 24, chance)).sum();
                assert!(
                    (upper_tail(k, 24, chance) - above).abs() < 1e-13,
                    "{k} at {chance}"
                );
                assert!(
                    (lower_tail(k, 24, chance) - below).abs() < 1e-13,
                    "{k} at {chance}"
                );
            }
        }
    }

    #[test]
    fn a_far_tail_is_not_rounded_away() {
        // 100 of 100 by tossing coins: 2^-100.
        let expected = libm::pow(0.5, 100.0);
        assert!((upper_tail(100, 100, 0.5) - expected).abs() < 1e-12 * expected);
        assert_eq!(quantile_of_lower_tail(0.5, 10, 0.5), 5);
    }
}
