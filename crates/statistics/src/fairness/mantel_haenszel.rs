//! At equal scores, are the odds of a right answer the same in two groups?
//!
//! Sources: Mantel & Haenszel 1959 (common odds ratio α, χ² with one degree of freedom, with and
//! without the continuity correction of ½); Robins, Breslow & Greenland 1986 (variance of ln α);
//! Holland & Thayer 1985, 1988 (Δ = −2.35 ln α; negative: harder for the focal group); classes A, B
//! and C of Zieky 1993 (from memory). Invalid: differences that change direction with ability (see
//! [`super::logistic_dif`]); a matching score that is itself unfair throughout; very short tests.
//! Smallest groups: see [`super::strata`]. Ties: equal scores form a stratum. Missing: leave out
//! candidates who did not reach the question. Strata with one group only say nothing.

use crate::distribution::{chi_square, normal};
use crate::fairness::strata::{Groups, Stratum, groups};
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::p_value::{PValue, Side};
use crate::refusal::Refusal;
use crate::sums::sum;

/// How much a question differs, in the classes used by testing programmes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
pub enum DeltaClass {
    /// Negligible: |Δ| below 1, or not to be told from 0.
    A,
    /// Moderate: neither A nor C.
    B,
    /// Large: |Δ| at least 1.5 and clearly above 1.
    C,
}

/// A Mantel-Haenszel comparison.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct MantelHaenszel {
    /// χ² with continuity correction.
    pub chi_square: f64,
    /// Its upper tail at one degree of freedom.
    pub p_value: PValue,
    /// χ² without the correction.
    pub uncorrected: f64,
    /// Common odds ratio, the reference group in the numerator.
    pub odds_ratio: f64,
    /// Limits of the odds ratio.
    pub interval: Interval,
    /// Standard error of its logarithm.
    pub log_standard_error: f64,
    /// Δ: the effect on the scale of difficulty used by testing programmes.
    pub delta: f64,
    /// Its limits.
    pub delta_interval: Interval,
    /// Class of the effect.
    pub class: DeltaClass,
    /// Candidates that were compared.
    pub groups: Groups,
}

/// Compares two groups over strata.
///
/// # Errors
/// `Refusal::TooFew` for small groups; `Refusal::NotDefined` when every comparable stratum is all
/// right or all wrong, or when one group answers without exception.
pub fn mantel_haenszel(
    strata: &[Stratum],
    confidence: Confidence,
) -> Result<MantelHaenszel, Refusal> {
    let groups = groups(strata)?;
    let parts: Vec<Part> = strata
        .iter()
        .filter(|stratum| stratum.compares())
        .map(part)
        .collect();
    let total = |of: fn(&Part) -> f64| sum(parts.iter().map(of));
    let variance = total(|part| part.variance);
    if variance <= 0.0 {
        return Err(Refusal::NotDefined {
            of: "the Mantel-Haenszel comparison",
            because: "at every score all candidates answer alike",
        });
    }
    let (for_reference, for_focal) = (total(|part| part.r), total(|part| part.s));
    if for_reference <= 0.0 || for_focal <= 0.0 {
        return Err(Refusal::NotDefined {
            of: "the common odds ratio",
            because: "wherever the groups meet, one of them answers without exception",
        });
    }
    let apart = total(|part| part.seen_less_expected).abs();
    // As printed: a difference below one half is squared too, and stays far from any bound.
    let corrected = apart - 0.5;
    let odds_ratio = for_reference / for_focal;
    let log_variance = total(|part| part.p * part.r) / (2.0 * for_reference * for_reference)
        + total(|part| part.p * part.s + part.q * part.r) / (2.0 * for_reference * for_focal)
        + total(|part| part.q * part.s) / (2.0 * for_focal * for_focal);
    let log_standard_error = log_variance.sqrt();
    let log_ratio = libm::log(odds_ratio);
    let reach = normal::quantile_of_upper_tail(confidence.each_tail()) * log_standard_error;
    let chi = corrected * corrected / variance;
    let p_value = PValue {
        probability: chi_square::upper_tail(chi, 1.0),
        side: Side::Upper,
    };
    let delta = -2.35 * log_ratio;
    Ok(MantelHaenszel {
        chi_square: chi,
        p_value,
        uncorrected: apart * apart / variance,
        odds_ratio,
        interval: Interval {
            lower: libm::exp(log_ratio - reach),
            upper: libm::exp(log_ratio + reach),
            confidence,
            method: IntervalMethod::Normal,
        },
        log_standard_error,
        delta,
        delta_interval: Interval {
            lower: -2.35 * (log_ratio + reach),
            upper: -2.35 * (log_ratio - reach),
            confidence,
            method: IntervalMethod::Normal,
        },
        class: class(delta, 2.35 * log_standard_error, p_value),
        groups,
    })
}

/// What one stratum adds.
struct Part {
    seen_less_expected: f64,
    variance: f64,
    /// Share of agreeing with "reference right, focal wrong", and of the opposite.
    p: f64,
    q: f64,
    r: f64,
    s: f64,
}

fn part(stratum: &Stratum) -> Part {
    let [a, b, c, d] = [
        stratum.reference_right,
        stratum.reference_wrong,
        stratum.focal_right,
        stratum.focal_wrong,
    ]
    .map(|count| count as f64);
    let n = a + b + c + d;
    let expected = (a + b) * (a + c) / n;
    let variance = (a + b) * (c + d) * (a + c) * (b + d) / (n * n * (n - 1.0));
    Part {
        seen_less_expected: a - expected,
        variance,
        p: (a + d) / n,
        q: (b + c) / n,
        r: a * d / n,
        s: b * c / n,
    }
}

fn class(delta: f64, standard_error: f64, p_value: PValue) -> DeltaClass {
    let size = delta.abs();
    if size < 1.0 || p_value.probability >= 0.05 {
        DeltaClass::A
    } else if size >= 1.5 && normal::upper_tail((size - 1.0) / standard_error) < 0.05 {
        DeltaClass::C
    } else {
        DeltaClass::B
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    const ONE: Stratum = Stratum {
        reference_right: 60,
        reference_wrong: 40,
        focal_right: 30,
        focal_wrong: 70,
    };

    #[test]
    fn one_stratum_gives_the_plain_odds_ratio_and_woolf_s_error() {
        let made = mantel_haenszel(&[ONE], Confidence::P95).unwrap();
        assert!((made.odds_ratio - 3.5).abs() < 1e-14);
        let woolf = (1.0 / 60.0 + 1.0 / 40.0 + 1.0 / 30.0 + 1.0 / 70.0_f64).sqrt();
        assert!((made.log_standard_error - woolf).abs() < 1e-14);
        assert_eq!(made.class, DeltaClass::C);
        assert!(made.chi_square < made.uncorrected);
    }

    #[test]
    fn exchanging_the_groups_turns_the_sign() {
        let turned = Stratum {
            reference_right: ONE.focal_right,
            reference_wrong: ONE.focal_wrong,
            focal_right: ONE.reference_right,
            focal_wrong: ONE.reference_wrong,
        };
        let one = mantel_haenszel(&[ONE, turned, ONE], Confidence::P95).unwrap();
        let other = mantel_haenszel(&[turned, ONE, turned], Confidence::P95).unwrap();
        assert!((one.delta + other.delta).abs() < 1e-13);
        assert!((one.chi_square - other.chi_square).abs() < 1e-12);
    }

    #[test]
    fn no_overlap_and_no_variance_are_named() {
        let all_right = Stratum {
            reference_right: 80,
            focal_right: 60,
            ..Stratum::default()
        };
        let apart = Stratum {
            reference_right: 80,
            focal_wrong: 60,
            ..Stratum::default()
        };
        for stratum in [all_right, apart] {
            assert!(matches!(
                mantel_haenszel(&[stratum], Confidence::P95),
                Err(Refusal::NotDefined { .. })
            ));
        }
    }
}
