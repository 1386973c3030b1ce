//! How heavy is each descriptor in a panel's notes on one sample, and how sure is that weight?
//!
//! Source: weights as in [`super::descriptor_weight`] (ISO 11035:1994, from memory; Dravnieks 1985):
//! √(share of assessors who cite × share of the possible intensity). Intervals: percentiles of
//! weights over assessors drawn with replacement (Efron & Tibshirani 1993, ch. 13). Not cited counts
//! as 0. Invalid: assessors on different scales; one assessor only. Below five assessors no interval
//! is given (the resamples repeat each other; common practice, no source); the weight itself is.

use crate::descriptive::quantile::sorted_quantile;
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::random_input::RandomInput;
use crate::refusal::{Refusal, at_least};

/// Fewer assessors than this give no interval.
pub const FEWEST_FOR_INTERVAL: usize = 5;

/// The weight of one descriptor.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct KeyWeight {
    /// The weight, 0 to 1.
    pub weight: f64,
    /// Its interval; none for a small panel.
    pub interval: Option<Interval>,
    /// How many assessors cited it.
    pub cited_by: usize,
    /// Number of assessors.
    pub n: usize,
}

/// The weights of all descriptors from intensities by assessor and descriptor, 0 where not cited.
///
/// # Errors
/// `Refusal::TooFew` without assessors or with fewer than 200 resamples, `Refusal::UnevenRows`,
/// `Refusal::NotANumber`, and `Refusal::OutOfRange` for intensities outside 0 to the scale's top.
pub fn key_weights(
    intensities: &[Vec<f64>],
    scale_maximum: f64,
    confidence: Confidence,
    resamples: usize,
    random: &mut dyn RandomInput,
) -> Result<Vec<KeyWeight>, Refusal> {
    at_least(1, intensities.len(), "assessors", "a share needs one")?;
    at_least(200, resamples, "resamples", "Efron & Tibshirani 1993")?;
    let words = check_table(intensities, scale_maximum)?;
    let assessors = intensities.len();
    // By assessor, so that a resample walks rows that lie together.
    let mut cited = vec![0.0_f64; words];
    let mut strong = vec![0.0_f64; words];
    let weigh = |cited: &[f64], strong: &[f64]| -> Vec<f64> {
        let all = assessors as f64;
        let top = all * scale_maximum;
        cited
            .iter()
            .zip(strong)
            .map(|(c, s)| (c / all * (s / top)).sqrt())
            .collect()
    };
    let add = |cited: &mut [f64], strong: &mut [f64], row: &[f64]| {
        for ((c, s), value) in cited.iter_mut().zip(strong.iter_mut()).zip(row) {
            *c += f64::from(u8::from(*value > 0.0));
            *s += value;
        }
    };
    for row in intensities {
        add(&mut cited, &mut strong, row);
    }
    let weights = weigh(&cited, &strong);
    let counts: Vec<usize> = (0..words)
        .map(|word| {
            intensities
                .iter()
                .filter(|row| row.get(word).is_some_and(|v| *v > 0.0))
                .count()
        })
        .collect();
    let mut drawn: Vec<Vec<f64>> = vec![Vec::with_capacity(resamples); words];
    if assessors >= FEWEST_FOR_INTERVAL {
        let bound = u32::try_from(assessors).unwrap_or(u32::MAX);
        for _ in 0..resamples {
            cited.fill(0.0);
            strong.fill(0.0);
            for _ in 0..assessors {
                if let Some(row) = intensities.get(random.below(bound) as usize) {
                    add(&mut cited, &mut strong, row);
                }
            }
            for (list, weight) in drawn.iter_mut().zip(weigh(&cited, &strong)) {
                list.push(weight);
            }
        }
    }
    let mut found = Vec::with_capacity(words);
    for ((weight, cited_by), mut list) in weights.into_iter().zip(counts).zip(drawn) {
        let interval = if list.is_empty() {
            None
        } else {
            list.sort_by(f64::total_cmp);
            Some(Interval {
                lower: sorted_quantile(&list, confidence.each_tail())?,
                upper: sorted_quantile(&list, 1.0 - confidence.each_tail())?,
                confidence,
                method: IntervalMethod::BootstrapPercentile,
            })
        };
        found.push(KeyWeight {
            weight,
            interval,
            cited_by,
            n: assessors,
        });
    }
    Ok(found)
}

/// The number of descriptors of a sound table.
pub(crate) fn check_table(intensities: &[Vec<f64>], scale_maximum: f64) -> Result<usize, Refusal> {
    if !(scale_maximum > 0.0 && scale_maximum.is_finite()) {
        return Err(Refusal::OutOfRange {
            of: "top of the intensity scale",
            value: scale_maximum,
            allowed: "above 0",
        });
    }
    let words = intensities.first().map_or(0, Vec::len);
    for (row, own) in intensities.iter().enumerate() {
        if own.len() != words {
            return Err(Refusal::UnevenRows {
                row,
                have: own.len(),
                expected: words,
            });
        }
        for (column, value) in own.iter().enumerate() {
            if !value.is_finite() {
                return Err(Refusal::NotANumber { row, column });
            }
            if !(0.0..=scale_maximum).contains(value) {
                return Err(Refusal::OutOfRange {
                    of: "intensity",
                    value: *value,
                    allowed: "0 to the top of the scale",
                });
            }
        }
    }
    Ok(words)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
pub(crate) mod tests {
    use super::*;
    use crate::random_input::tests::Numbers;

    #[test]
    fn weights_are_those_of_one_descriptor_at_a_time() {
        use crate::panel::descriptor_weight::descriptor_weight;
        let table: Vec<Vec<f64>> = (0..8)
            .map(|a| vec![f64::from(a % 3), f64::from((a * 7) % 6), 5.0])
            .collect();
        let made = key_weights(&table, 5.0, Confidence::P95, 200, &mut Numbers(3)).unwrap();
        for (word, figure) in made.iter().enumerate() {
            let column: Vec<f64> = table.iter().map(|row| row[word]).collect();
            let cited = column.iter().filter(|v| **v > 0.0).count();
            let one = descriptor_weight(cited, 8, column.iter().sum(), 5.0, Confidence::P95);
            assert!((figure.weight - one.unwrap().weight).abs() < 1e-15);
            assert_eq!((figure.cited_by, figure.n), (cited, 8));
        }
        let sure = made[2].interval.unwrap();
        assert_eq!((sure.lower, sure.upper), (1.0, 1.0));
    }

    #[test]
    fn the_interval_covers_a_binomial_share() {
        // At full intensity or none the weight is the share who cite: 6 of 12, whose percentile
        // interval is that of a binomial of 12 at .5: 3/12 to 9/12 (tails .0193 and .0193 beyond).
        let table: Vec<Vec<f64>> = (0..12).map(|a| vec![f64::from(a % 2) * 5.0]).collect();
        let made = key_weights(&table, 5.0, Confidence::P95, 4000, &mut Numbers(9)).unwrap();
        let interval = made[0].interval.unwrap();
        assert!((made[0].weight - 0.5).abs() < 1e-15);
        assert!((interval.lower - 0.25).abs() < 1e-9, "{interval:?}");
        assert!((interval.upper - 0.75).abs() < 1e-9, "{interval:?}");
    }

    #[test]
    fn small_and_crooked_tables_are_told() {
        let few = vec![vec![1.0], vec![2.0]];
        let made = key_weights(&few, 5.0, Confidence::P95, 200, &mut Numbers(1)).unwrap();
        assert!(made[0].interval.is_none());
        assert!(key_weights(&[], 5.0, Confidence::P95, 200, &mut Numbers(1)).is_err());
        let crooked = vec![vec![1.0], vec![]];
        assert!(key_weights(&crooked, 5.0, Confidence::P95, 200, &mut Numbers(1)).is_err());
        let strong = vec![vec![6.0]];
        assert!(key_weights(&strong, 5.0, Confidence::P95, 200, &mut Numbers(1)).is_err());
    }
}
