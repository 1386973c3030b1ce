//! Would the key be another without any one of the assessors, and how many more would settle it?
//!
//! Leaving one out (jackknife; Efron & Tibshirani 1993, ch. 11): the key of required descriptors is
//! drawn anew without each assessor; what it loses and gains is listed, and how much is common
//! (words in both / words in either; Jaccard 1901). How many would settle a word whose interval
//! straddles the threshold: the half-width of its interval falls with the root of the number, so
//! n (half-width / distance to the threshold)², rounded up; a rough forecast that takes new assessors
//! to be like the old. Invalid: a word at the threshold itself, which no number settles (`None`).

use crate::panel::key_weights::KeyWeight;
use crate::refusal::{Refusal, at_least};

/// The key without one assessor. Descriptors and assessors by their places in the data.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LeftOut {
    /// Who was left out.
    pub assessor: usize,
    /// Required with everybody, and not without this one.
    pub lost: Vec<usize>,
    /// Not required with everybody, but without this one.
    pub gained: Vec<usize>,
    /// Share in common of both keys, 0 to 1; 1 where both are empty.
    pub common: f64,
}

/// How the key stands without each assessor.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct KeyStability {
    /// One entry for each assessor.
    pub left_out: Vec<LeftOut>,
    /// The smallest share in common.
    pub least_common: f64,
    /// Number of assessors.
    pub n: usize,
}

/// Draws the key anew without each assessor. `required` says of a column of intensities whether its
/// descriptor is required of candidates.
///
/// # Errors
/// `Refusal::TooFew` below three assessors.
pub fn key_stability(
    intensities: &[Vec<f64>],
    required: &dyn Fn(&[f64]) -> bool,
) -> Result<KeyStability, Refusal> {
    at_least(
        3,
        intensities.len(),
        "assessors",
        "a panel less one needs two",
    )?;
    let words = intensities.first().map_or(0, Vec::len);
    let key = |left_out: Option<usize>| -> Vec<bool> {
        (0..words)
            .map(|word| {
                let column: Vec<f64> = intensities
                    .iter()
                    .enumerate()
                    .filter(|(place, _)| Some(*place) != left_out)
                    .map(|(_, row)| row.get(word).copied().unwrap_or(0.0))
                    .collect();
                required(&column)
            })
            .collect()
    };
    let whole = key(None);
    let left_out: Vec<LeftOut> = (0..intensities.len())
        .map(|assessor| {
            let without = key(Some(assessor));
            let places = |rule: &dyn Fn(bool, bool) -> bool| -> Vec<usize> {
                (0..words)
                    .zip(whole.iter().zip(&without))
                    .filter(|(_, (before, after))| rule(**before, **after))
                    .map(|(word, _)| word)
                    .collect()
            };
            let both = places(&|before, after| before && after).len();
            let either = places(&|before, after| before || after).len();
            LeftOut {
                assessor,
                lost: places(&|before, after| before && !after),
                gained: places(&|before, after| !before && after),
                common: if either == 0 {
                    1.0
                } else {
                    both as f64 / either as f64
                },
            }
        })
        .collect();
    Ok(KeyStability {
        least_common: left_out.iter().map(|l| l.common).fold(1.0, f64::min),
        n: intensities.len(),
        left_out,
    })
}

/// How many assessors in all would put this word's interval on one side of the threshold: those
/// there are where it stands there already; none where no number is likely to.
#[must_use]
pub fn assessors_to_settle(word: &KeyWeight, threshold: f64) -> Option<usize> {
    let interval = word.interval?;
    if !(interval.lower < threshold && threshold <= interval.upper) {
        return Some(word.n);
    }
    let (distance, half_width) = if word.weight >= threshold {
        (word.weight - threshold, word.weight - interval.lower)
    } else {
        (threshold - word.weight, interval.upper - word.weight)
    };
    // Nearer than a fiftieth of the scale, chance alone decides for any panel that can be had.
    if distance < 0.02 {
        return None;
    }
    let ratio = half_width / distance;
    let wanted = (word.n as f64 * ratio * ratio).ceil();
    Some((wanted as usize).max(word.n + 1))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::interval::{Confidence, Interval, IntervalMethod};

    fn half(column: &[f64]) -> bool {
        let cited = column.iter().filter(|v| **v > 0.0).count();
        cited * 2 >= column.len()
    }

    #[test]
    fn a_key_that_hangs_on_one_is_shown() {
        // The second word is cited by two of four: without either of them by one of three.
        let table = vec![
            vec![1.0, 1.0],
            vec![1.0, 1.0],
            vec![1.0, 0.0],
            vec![1.0, 0.0],
        ];
        let made = key_stability(&table, &half).unwrap();
        assert_eq!(made.left_out[0].lost, [1]);
        assert!(made.left_out[2].lost.is_empty());
        assert_eq!(made.least_common, 0.5);
        assert!(key_stability(&table[..2], &half).is_err());
    }

    #[test]
    fn twice_as_near_needs_four_times_as_many() {
        let word = |weight: f64, lower: f64, upper: f64| KeyWeight {
            weight,
            interval: Some(Interval {
                lower,
                upper,
                confidence: Confidence::P95,
                method: IntervalMethod::BootstrapPercentile,
            }),
            cited_by: 5,
            n: 10,
        };
        assert_eq!(assessors_to_settle(&word(0.5, 0.3, 0.7), 0.25), Some(10));
        assert_eq!(assessors_to_settle(&word(0.5, 0.1, 0.7), 0.25), Some(26));
        assert_eq!(
            assessors_to_settle(&word(0.375, -0.025, 0.7), 0.25),
            Some(103)
        );
        assert_eq!(assessors_to_settle(&word(0.26, 0.1, 0.7), 0.25), None);
    }
}
