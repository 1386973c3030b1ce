//! Do assessors rank the samples in the order that was expected beforehand?
//!
//! Source: Page 1963: L = Σ j Rⱼ over samples in the expected order. Without ties and up to 8 samples
//! and 40 assessors the p-value is exact (the distribution of one ranking, convolved); otherwise it
//! is normal with mean n k (k+1)²/4 and variance n k²(k+1)(k²−1)/144, from memory, and rough with
//! ties. Ties: mid-ranks. Invalid: an order chosen after looking. Missing: refused by the table.

use crate::distribution::normal;
use crate::p_value::{PValue, Side};
use crate::panel::rank_sum_difference::risk_between_zero_and_one;
use crate::ranks::mid_ranks;
use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::sum;

/// Most samples for the exact distribution.
const MOST_SAMPLES: usize = 8;
/// Most assessors for the exact distribution.
const MOST_ASSESSORS: usize = 40;

/// How the p-value was had.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub enum PageMethod {
    /// From all rankings.
    Exact,
    /// From the normal distribution.
    Normal,
}

/// Page's test.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct PageTrend {
    /// The statistic.
    pub l: f64,
    /// Probability of such an L, or a larger one, by chance.
    pub p_value: PValue,
    /// How that was had.
    pub method: PageMethod,
    /// Number of assessors.
    pub assessors: usize,
    /// Number of samples.
    pub samples: usize,
}

/// Page's test of scores, assessors in rows, samples in columns in the order in which they are
/// expected to rise.
///
/// # Errors
/// `Refusal::TooFew` below two assessors or three samples.
pub fn page_trend(scores: &ScoreTable) -> Result<PageTrend, Refusal> {
    let (assessors, samples) = (scores.persons(), scores.items());
    at_least(2, assessors, "assessors", "Page 1963")?;
    at_least(3, samples, "samples", "Page 1963")?;
    let mut tied = false;
    let mut parts = Vec::new();
    for row in scores.rows() {
        let mut expected = 0.0;
        for place in mid_ranks(row) {
            expected += 1.0;
            parts.push(expected * place.rank);
            tied |= place.tied > 1.0;
        }
    }
    let l = sum(parts);
    let exact = !tied && samples <= MOST_SAMPLES && assessors <= MOST_ASSESSORS;
    let probability = if exact {
        let chances = distribution(samples, assessors);
        sum(chances
            .iter()
            .enumerate()
            .filter(|(value, _)| *value as f64 >= l - 0.5)
            .map(|(_, chance)| *chance))
    } else {
        let (n, k) = (assessors as f64, samples as f64);
        let mean = n * k * (k + 1.0) * (k + 1.0) / 4.0;
        let variance = n * k * k * (k + 1.0) * (k * k - 1.0) / 144.0;
        normal::upper_tail((l - mean) / variance.sqrt())
    };
    Ok(PageTrend {
        l,
        p_value: PValue {
            probability,
            side: Side::Upper,
        },
        method: if exact {
            PageMethod::Exact
        } else {
            PageMethod::Normal
        },
        assessors,
        samples,
    })
}

/// The smallest L that is significant at `risk`; `None` when no L is.
///
/// # Errors
/// `Refusal::TooFew`, or `Refusal::OutOfRange` beyond the exact distribution or for a risk that is
/// none.
pub fn critical_l(samples: usize, assessors: usize, risk: f64) -> Result<Option<usize>, Refusal> {
    at_least(2, assessors, "assessors", "Page 1963")?;
    at_least(3, samples, "samples", "Page 1963")?;
    risk_between_zero_and_one(risk)?;
    if samples > MOST_SAMPLES || assessors > MOST_ASSESSORS {
        return Err(Refusal::OutOfRange {
            of: "number of samples",
            value: samples as f64,
            allowed: "up to 8, with up to 40 assessors",
        });
    }
    let mut above = 0.0;
    let mut critical = None;
    for (value, chance) in distribution(samples, assessors).iter().enumerate().rev() {
        above += chance;
        // A risk that is met exactly is met; the sum may pass it by rounding.
        if above > risk * (1.0 + 1e-12) {
            break;
        }
        if *chance > 0.0 {
            critical = Some(value);
        }
    }
    Ok(critical)
}

/// Chance of each L, by its value.
fn distribution(samples: usize, assessors: usize) -> Vec<f64> {
    let one = one_ranking(samples);
    let mut all = vec![1.0];
    for _ in 0..assessors {
        let mut next = vec![0.0; all.len() + one.len() - 1];
        for (have, chance) in all.iter().enumerate().filter(|(_, chance)| **chance > 0.0) {
            for (cell, part) in next.iter_mut().skip(have).zip(&one) {
                *cell += chance * part;
            }
        }
        all = next;
    }
    all
}

/// Chance of each Σ j·rank in one random ranking, sample by sample over the set of ranks used.
fn one_ranking(samples: usize) -> Vec<f64> {
    let most: usize = (1..=samples).map(|j| j * j).sum();
    let sets = 1_usize << samples;
    let mut ways = vec![vec![0.0; most + 1]; sets];
    if let Some(cell) = ways.first_mut().and_then(|start| start.first_mut()) {
        *cell = 1.0;
    }
    for set in 0..sets {
        let sample = set.count_ones() as usize + 1;
        let here = ways.get(set).cloned().unwrap_or_default();
        for rank in (1..=samples).filter(|rank| set & (1 << (rank - 1)) == 0) {
            if let Some(target) = ways.get_mut(set | (1 << (rank - 1))) {
                for (cell, count) in target.iter_mut().skip(sample * rank).zip(&here) {
                    *cell += count;
                }
            }
        }
    }
    let mut last = ways.pop().unwrap_or_default();
    let total = sum(last.iter().copied());
    for cell in &mut last {
        *cell /= total;
    }
    last
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_expected_order_by_all_is_as_rare_as_it_should_be() {
        let table = ScoreTable::new(&[[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]]).unwrap();
        let made = page_trend(&table).unwrap();
        assert_eq!((made.l, made.method), (28.0, PageMethod::Exact));
        assert!((made.p_value.probability - 1.0 / 36.0).abs() < 1e-15);
    }

    #[test]
    fn chances_add_up_and_are_centred() {
        let chances = distribution(5, 6);
        assert!((sum(chances.iter().copied()) - 1.0).abs() < 1e-12);
        let mean = sum(chances
            .iter()
            .enumerate()
            .map(|(l, chance)| l as f64 * chance));
        assert!((mean - 6.0 * 5.0 * 36.0 / 4.0).abs() < 1e-9);
    }

    #[test]
    fn ties_leave_the_exact_way() {
        let table = ScoreTable::new(&[[1.0, 1.0, 3.0], [4.0, 5.0, 6.0]]).unwrap();
        assert_eq!(page_trend(&table).unwrap().method, PageMethod::Normal);
        assert!(critical_l(9, 5, 0.05).is_err());
    }
}
