//! What share succeeded, and how sure is that share?
//!
//! Source: Wilson 1927, the score interval (Newcombe 1998, method 3):
//! [p + z²/2n ± z √(p(1−p)/n + z²/4n²)] / (1 + z²/n). Fit for small n and for shares of 0 and 1.
//! Invalid: trials that hang together (several answers of one candidate).

use crate::distribution::normal;
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::refusal::{Refusal, at_least};

/// A share with its interval.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Proportion {
    /// Successes over trials.
    pub share: f64,
    /// Successes.
    pub successes: usize,
    /// Trials.
    pub n: usize,
    /// Wilson's interval.
    pub interval: Interval,
}

/// The share of successes.
///
/// # Errors
/// `Refusal::TooFew` for no trials, `Refusal::OutOfRange` for more successes than trials.
pub fn proportion(
    successes: usize,
    trials: usize,
    confidence: Confidence,
) -> Result<Proportion, Refusal> {
    at_least(1, trials, "trials", "a share needs one")?;
    if successes > trials {
        return Err(Refusal::OutOfRange {
            of: "number of successes",
            value: successes as f64,
            allowed: "up to the number of trials",
        });
    }
    let n = trials as f64;
    let share = successes as f64 / n;
    let z = normal::quantile_of_upper_tail(confidence.each_tail());
    let square = z * z / n;
    let middle = share + square / 2.0;
    let reach = z * (share * (1.0 - share) / n + square / (4.0 * n)).sqrt();
    Ok(Proportion {
        share,
        successes,
        n: trials,
        interval: Interval {
            lower: ((middle - reach) / (1.0 + square)).max(0.0),
            upper: ((middle + reach) / (1.0 + square)).min(1.0),
            confidence,
            method: IntervalMethod::Wilson,
        },
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn newcombes_examples() {
        // Newcombe 1998, table I, method 3 (from memory): 81/263 and 15/148, 0/20 and 1/29.
        for (successes, trials, lower, upper) in [
            (81, 263, 0.2553, 0.3662),
            (15, 148, 0.0624, 0.1605),
            (0, 20, 0.0000, 0.1611),
            (1, 29, 0.0061, 0.1718),
        ] {
            let made = proportion(successes, trials, Confidence::P95)
                .unwrap()
                .interval;
            assert!(
                (made.lower - lower).abs() < 0.000_051,
                "{successes}/{trials}: {made:?}"
            );
            assert!(
                (made.upper - upper).abs() < 0.000_051,
                "{successes}/{trials}: {made:?}"
            );
        }
    }

    #[test]
    fn the_limits_solve_the_score_equation() {
        // The identity behind the interval: (p - limit)² = z² limit (1 - limit) / n.
        let made = proportion(7, 25, Confidence::P90).unwrap();
        let z = normal::quantile_of_upper_tail(0.05);
        for limit in [made.interval.lower, made.interval.upper] {
            let left = (made.share - limit) * (made.share - limit);
            let right = z * z * limit * (1.0 - limit) / 25.0;
            assert!((left - right).abs() < 1e-15);
        }
        assert!(proportion(3, 2, Confidence::P95).is_err());
    }
}
