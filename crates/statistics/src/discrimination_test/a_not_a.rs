//! Do tasters call the known sample "A" more often than the other one?
//!
//! Sources: d′ = z(hits) − z(false alarms) with standard error √Σ p(1−p)/(n φ(z)²) (Brockhoff &
//! Christensen 2010); χ² of the four counts without correction; Fisher's exact one-sided
//! probability. Invalid: several answers of one taster; counts of none or all (d′ infinite,
//! refused); the χ² with expected counts below 5, where Fisher's figure is the one to use.

use crate::distribution::{chi_square, normal};
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::p_value::{PValue, Side};
use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// Counts of an A–not A test.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AnswerCounts {
    /// Samples of A called A.
    pub hits: u32,
    /// Samples of A served.
    pub a_served: u32,
    /// Other samples called A.
    pub false_alarms: u32,
    /// Other samples served.
    pub others_served: u32,
}

/// An A–not A test.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct ANotA {
    /// The distance.
    pub d_prime: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// Its interval by the normal distribution.
    pub interval: Interval,
    /// χ² with one degree of freedom.
    pub chi_square: f64,
    /// Its p-value.
    pub chi_square_p: PValue,
    /// Fisher's exact probability of so many hits, or more.
    pub fisher_p: PValue,
    /// Number of answers.
    pub n: u32,
}

/// Works out an A–not A test.
///
/// # Errors
/// `Refusal::TooFew` when one kind was not served, `Refusal::OutOfRange` for more answers than
/// samples, `Refusal::NotDefined` for none or all called A.
pub fn a_not_a(counts: AnswerCounts, confidence: Confidence) -> Result<ANotA, Refusal> {
    at_least(
        1,
        counts.a_served as usize,
        "samples of A",
        "a share needs one",
    )?;
    at_least(
        1,
        counts.others_served as usize,
        "other samples",
        "a share needs one",
    )?;
    for (called, served) in [
        (counts.hits, counts.a_served),
        (counts.false_alarms, counts.others_served),
    ] {
        if called > served {
            return Err(Refusal::OutOfRange {
                of: "number called A",
                value: f64::from(called),
                allowed: "up to the number served",
            });
        }
        if called == 0 || called == served {
            return Err(Refusal::NotDefined {
                of: "d-prime",
                because: "none or all samples of one kind were called A",
            });
        }
    }
    let (a, others) = (f64::from(counts.a_served), f64::from(counts.others_served));
    let (hits, alarms) = (f64::from(counts.hits), f64::from(counts.false_alarms));
    let score = |share: f64| normal::quantile_of_lower_tail(share);
    let part = |share: f64, n: f64| {
        let height = normal::density(score(share));
        share * (1.0 - share) / (n * height * height)
    };
    let d_prime = score(hits / a) - score(alarms / others);
    let standard_error = (part(hits / a, a) + part(alarms / others, others)).sqrt();
    let reach = normal::quantile_of_upper_tail(confidence.each_tail()) * standard_error;
    let (n, called) = (a + others, hits + alarms);
    let cross = hits * (others - alarms) - (a - hits) * alarms;
    let chi_square = n * cross * cross / (a * others * called * (n - called));
    Ok(ANotA {
        d_prime,
        standard_error,
        interval: Interval {
            lower: d_prime - reach,
            upper: d_prime + reach,
            confidence,
            method: IntervalMethod::Normal,
        },
        chi_square,
        chi_square_p: PValue {
            probability: chi_square::upper_tail(chi_square, 1.0),
            side: Side::Both,
        },
        fisher_p: PValue {
            probability: fisher_upper(counts),
            side: Side::Upper,
        },
        n: counts.a_served + counts.others_served,
    })
}

/// Hypergeometric probability of so many hits, or more, with all margins as they are.
fn fisher_upper(counts: AnswerCounts) -> f64 {
    let ways =
        |n: f64, k: f64| libm::lgamma(n + 1.0) - libm::lgamma(k + 1.0) - libm::lgamma(n - k + 1.0);
    let called = counts.hits + counts.false_alarms;
    let (a, others) = (f64::from(counts.a_served), f64::from(counts.others_served));
    let most = counts.a_served.min(called);
    let all = ways(a + others, f64::from(called));
    let terms = (counts.hits..=most)
        .filter(|hits| called - hits <= counts.others_served)
        .map(|hits| {
            libm::exp(ways(a, f64::from(hits)) + ways(others, f64::from(called - hits)) - all)
        });
    sum(terms).min(1.0)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_lady_tasting_tea() {
        // Fisher 1935: 3 of 4 hits with margins of 4: 17/70.
        let counts = AnswerCounts {
            hits: 3,
            a_served: 4,
            false_alarms: 1,
            others_served: 4,
        };
        let made = a_not_a(counts, Confidence::P95).unwrap();
        assert!((made.fisher_p.probability - 17.0 / 70.0).abs() < 1e-13);
        assert!((made.chi_square - 2.0).abs() < 1e-14);
        let all = AnswerCounts { hits: 4, ..counts };
        assert!(a_not_a(all, Confidence::P95).is_err());
    }
}
