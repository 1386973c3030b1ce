//! How much does a descriptor belong to a sample, by how many said it and how strongly?
//!
//! Source: M = √(F·I) (ISO 11035:1994, formula from memory; Dravnieks 1985, modified frequency):
//! F = citations/possible citations, I = sum of intensities/possible sum. Not cited counts as
//! intensity 0. Invalid: assessors who did not use the same scale. Interval: Wilson of F.

use crate::descriptive::proportion::proportion;
use crate::interval::{Confidence, Interval};
use crate::refusal::{Refusal, at_least};

/// The weight of one descriptor.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct DescriptorWeight {
    /// Share of the possible citations, 0 to 1.
    pub frequency: f64,
    /// Interval of that share.
    pub frequency_interval: Interval,
    /// Share of the possible intensity, 0 to 1.
    pub intensity: f64,
    /// Geometric mean of both, 0 to 1.
    pub weight: f64,
    /// Possible citations: assessors times products.
    pub n: usize,
}

/// The weight of a descriptor that was cited `citations` times out of `possible` (assessors times
/// products), with intensities adding up to `intensity_sum` on a scale from 0 to `scale_maximum`.
///
/// # Errors
/// `Refusal::TooFew` for no possible citation; `Refusal::OutOfRange` for more citations than
/// possible, a scale that is not above 0, or a sum that so many citations cannot reach.
pub fn descriptor_weight(
    citations: usize,
    possible: usize,
    intensity_sum: f64,
    scale_maximum: f64,
    confidence: Confidence,
) -> Result<DescriptorWeight, Refusal> {
    at_least(1, possible, "possible citations", "a share needs one")?;
    if !(scale_maximum > 0.0 && scale_maximum.is_finite()) {
        return Err(Refusal::OutOfRange {
            of: "top of the intensity scale",
            value: scale_maximum,
            allowed: "above 0",
        });
    }
    let cited = proportion(citations, possible, confidence)?;
    let reachable = citations as f64 * scale_maximum;
    // A sum of fractions may pass the top by a rounding error of its last digits.
    if !(0.0..=reachable * (1.0 + 1e-12)).contains(&intensity_sum) {
        return Err(Refusal::OutOfRange {
            of: "sum of intensities",
            value: intensity_sum,
            allowed: "0 to citations times the top of the scale",
        });
    }
    let intensity = intensity_sum / (possible as f64 * scale_maximum);
    Ok(DescriptorWeight {
        frequency: cited.share,
        frequency_interval: cited.interval,
        intensity,
        weight: (cited.share * intensity).sqrt(),
        n: possible,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn everybody_at_full_strength_is_one_and_nobody_is_nothing() {
        let full = descriptor_weight(9, 9, 45.0, 5.0, Confidence::P95).unwrap();
        assert_eq!(
            (full.frequency, full.intensity, full.weight),
            (1.0, 1.0, 1.0)
        );
        let none = descriptor_weight(0, 9, 0.0, 5.0, Confidence::P95).unwrap();
        assert_eq!(none.weight, 0.0);
    }

    #[test]
    fn sums_that_cannot_be_are_refused() {
        assert!(descriptor_weight(2, 9, 11.0, 5.0, Confidence::P95).is_err());
        assert!(descriptor_weight(10, 9, 11.0, 5.0, Confidence::P95).is_err());
        assert!(descriptor_weight(2, 9, -1.0, 5.0, Confidence::P95).is_err());
        assert!(descriptor_weight(0, 0, 0.0, 5.0, Confidence::P95).is_err());
    }
}
