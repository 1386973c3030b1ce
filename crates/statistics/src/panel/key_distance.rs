//! How far apart do two samples lie for somebody who tastes as the panel's assessors do?
//!
//! Each assessor's note is set against both keys, his own note left out of his sample's: its
//! projection on the difference of the mean profiles (Fisher's linear discriminant with equal
//! variances; leaving one out after Lachenbruch & Mickey 1968). d′ is the difference of the mean
//! projections of the two panels in units of their pooled standard deviation, as in signal detection;
//! Φ(d′/√2) is then the share of pairs in which the two would be told apart (2-AFC). That a d′ below
//! 1 makes a twin pair is common practice, no source. Standard error: √((n₁+n₂)/(n₁n₂) + d²/2(n₁+n₂))
//! (Hedges 1981, large samples). Invalid: panels of fewer than three (refused); candidates who taste
//! unlike the panel. Notes that do not vary at all have no d′ (refused).

use crate::distribution::normal::lower_tail;
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::refusal::{Refusal, at_least};
use crate::sums::{mean, squares_about_mean, sum};

/// Below this distance two samples are hardly to be told apart.
pub const TWIN: f64 = 1.0;

/// The distance of two keys.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct KeyDistance {
    /// The distance; below 0 where notes lie nearer to the other key than to their own.
    pub d_prime: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// Its interval by the normal distribution.
    pub interval: Interval,
    /// Share of pairs told apart: .5 is guessing.
    pub share_told_apart: f64,
    /// Assessors of the first and second panel.
    pub n: [usize; 2],
}

impl KeyDistance {
    /// Whether candidates could hardly tell the two apart.
    #[must_use]
    pub fn is_twin(&self) -> bool {
        self.d_prime < TWIN
    }
}

/// The distance of two panels' notes: intensities by assessor, over the same descriptors.
///
/// # Errors
/// `Refusal::TooFew` below three assessors, `Refusal::UnevenRows`, `Refusal::NoVariance`.
pub fn key_distance(
    first: &[Vec<f64>],
    second: &[Vec<f64>],
    confidence: Confidence,
) -> Result<KeyDistance, Refusal> {
    for panel in [first, second] {
        at_least(
            3,
            panel.len(),
            "assessors",
            "a mean of the others needs two",
        )?;
    }
    let words = first.first().map_or(0, Vec::len);
    for (row, own) in first.iter().chain(second).enumerate() {
        if own.len() != words {
            return Err(Refusal::UnevenRows {
                row,
                have: own.len(),
                expected: words,
            });
        }
    }
    let (mean_first, mean_second) = (profile(first, None, words), profile(second, None, words));
    // The projection of each note on the line from the second key to the first, measured from the
    // middle between both.
    let of = |panel: &[Vec<f64>], other: &[f64], sign: f64| -> Vec<f64> {
        panel
            .iter()
            .enumerate()
            .map(|(place, own)| {
                let rest = profile(panel, Some(place), words);
                let length = sum(rest.iter().zip(other).map(|(a, b)| (a - b) * (a - b))).sqrt();
                if length == 0.0 {
                    return 0.0;
                }
                sign * sum(own
                    .iter()
                    .zip(rest.iter().zip(other))
                    .map(|(x, (a, b))| (x - f64::midpoint(*a, *b)) * (a - b)))
                    / length
            })
            .collect()
    };
    let near_first = of(first, &mean_second, 1.0);
    let near_second = of(second, &mean_first, -1.0);
    let (n1, n2) = (first.len() as f64, second.len() as f64);
    let pooled = ((squares_about_mean(&near_first)? + squares_about_mean(&near_second)?)
        / (n1 + n2 - 2.0))
        .sqrt();
    if pooled <= 0.0 {
        return Err(Refusal::NoVariance { of: "notes" });
    }
    let d_prime = (mean(&near_first)? - mean(&near_second)?) / pooled;
    let standard_error = ((n1 + n2) / (n1 * n2) + d_prime * d_prime / (2.0 * (n1 + n2))).sqrt();
    let reach = crate::distribution::normal::quantile_of_upper_tail(confidence.each_tail())
        * standard_error;
    Ok(KeyDistance {
        d_prime,
        standard_error,
        interval: Interval {
            lower: d_prime - reach,
            upper: d_prime + reach,
            confidence,
            method: IntervalMethod::Normal,
        },
        share_told_apart: lower_tail(d_prime / 2.0_f64.sqrt()),
        n: [first.len(), second.len()],
    })
}

/// The mean profile of a panel, one assessor left out if asked.
fn profile(panel: &[Vec<f64>], left_out: Option<usize>, words: usize) -> Vec<f64> {
    let kept = panel.len() - usize::from(left_out.is_some());
    let mut total = vec![0.0; words];
    for (_, row) in panel
        .iter()
        .enumerate()
        .filter(|(place, _)| Some(*place) != left_out)
    {
        for (sum, value) in total.iter_mut().zip(row) {
            *sum += value;
        }
    }
    total.iter().map(|sum| sum / kept.max(1) as f64).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::random_input::RandomInput;
    use crate::random_input::tests::Numbers;

    /// Notes that scatter about a profile by about 1 (sum of twelve uniforms less 6).
    fn notes(about: &[f64], assessors: usize, random: &mut Numbers) -> Vec<Vec<f64>> {
        (0..assessors)
            .map(|_| {
                about
                    .iter()
                    .map(|m| m + (0..12).map(|_| random.unit()).sum::<f64>() - 6.0)
                    .collect()
            })
            .collect()
    }

    #[test]
    fn a_known_distance_comes_back() {
        // Two words, 3 and 4 apart: 5 standard deviations. Large panels, so that little is left to chance.
        let mut random = Numbers(5);
        let one = notes(&[10.0, 10.0], 400, &mut random);
        let other = notes(&[13.0, 14.0], 400, &mut random);
        let made = key_distance(&one, &other, Confidence::P95).unwrap();
        assert!((made.d_prime - 5.0).abs() < 0.3, "{made:?}");
        assert!(!made.is_twin());
    }

    #[test]
    fn many_words_do_not_make_a_difference_out_of_chance() {
        // The same profile of sixty words twice: leaving one out keeps chance from looking like a
        // difference. Over many pairs of small panels the mean distance is not above 0.
        let mut random = Numbers(17);
        let about = vec![10.0; 60];
        let mut total = 0.0;
        for _ in 0..60 {
            let one = notes(&about, 10, &mut random);
            let other = notes(&about, 10, &mut random);
            let made = key_distance(&one, &other, Confidence::P95).unwrap();
            total += made.d_prime;
        }
        assert!(total / 60.0 < 0.3, "{}", total / 60.0);
    }

    #[test]
    fn the_order_of_samples_does_not_matter() {
        let mut random = Numbers(2);
        let one = notes(&[10.0, 12.0, 9.0], 8, &mut random);
        let other = notes(&[11.0, 10.0, 9.0], 9, &mut random);
        let there = key_distance(&one, &other, Confidence::P95).unwrap();
        let back = key_distance(&other, &one, Confidence::P95).unwrap();
        assert!((there.d_prime - back.d_prime).abs() < 1e-12);
        assert!(key_distance(&one[..2], &other, Confidence::P95).is_err());
    }
}
