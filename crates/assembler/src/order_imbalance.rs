//! How far the serving orders that are really served are from balance, as numbers.
//!
//! In a block of s samples served to n candidates two tables are counted: how often each sample
//! stands in each place, and how often right before each other sample of the block. In both the mean
//! is n / s. The imbalance is the root mean square distance of the counts from that mean, in per cent
//! of it (a coefficient of variation): 0 is balance. Counts are whole: where n / s is not, they lie at
//! best just below and just above it, so that the imbalance is at least √(f (1 − f)) · s / n with f
//! the fraction of n / s. For places that bound is reached by suitable orders; for what comes right
//! before it is a bound and no promise. Where samples that carry over heavily come later, each block
//! is counted by itself, and what happens between the blocks is not balanced.

use std::collections::BTreeSet;

use base::SampleId;
use exam_plan::Exam;
use question_bank::sample_record::CarryOver;
use serde::Serialize;

use crate::order_balance::{OrderBalance, order_balance};
use crate::sitting::Sitting;

/// The counts of one table, and how far they are from being equal.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Imbalance {
    /// The smallest count.
    pub least: usize,
    /// The largest count.
    pub most: usize,
    /// Root mean square distance from the mean, per cent of the mean.
    #[serde(rename = "imbalance_percent")]
    pub percent: f64,
    /// What no orders for so many candidates could be below, per cent.
    pub at_least_percent: f64,
}

/// The imbalance within one block of glasses.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BlockImbalance {
    /// The first glass of the block, counted from 1.
    pub first_glass: usize,
    /// Samples in the block: at least two.
    pub samples: usize,
    /// Candidates who were dealt an order.
    pub candidates: usize,
    /// Samples in places.
    pub place: Imbalance,
    /// Samples right before others.
    pub carry_over: Imbalance,
}

/// One block of samples and the orders in which it is served, samples as numbers.
struct Block {
    first_glass: usize,
    samples: usize,
    served: Vec<Vec<usize>>,
}

/// The blocks of a sitting; none without a tasting part.
fn blocks(exam: &Exam, sitting: &Sitting) -> Vec<Block> {
    let Some(tasting) = &exam.plan.tasting else {
        return Vec::new();
    };
    let block_of = |wanted: CarryOver| -> Vec<&SampleId> {
        let samples = tasting.samples.iter().map(|(id, _)| id);
        samples
            .filter(|id| exam.sample(id).is_some_and(|s| s.carry_over == wanted))
            .collect()
    };
    let mut first_glass = 1;
    let mut blocks = Vec::new();
    for block in [block_of(CarryOver::Ordinary), block_of(CarryOver::Heavy)] {
        let served = sitting
            .places
            .iter()
            .filter(|place| place.tastes())
            .map(|place| {
                let glasses = place.glasses.iter();
                glasses
                    .filter_map(|glass| block.iter().position(|id| **id == glass.sample))
                    .collect()
            })
            .collect();
        blocks.push(Block {
            first_glass,
            samples: block.len(),
            served,
        });
        first_glass += block.len();
    }
    blocks
}

/// The imbalance of each block of a sitting; none for a block of one sample, in which nothing can
/// vary, and none without a tasting part.
#[must_use]
pub fn sitting_imbalance(exam: &Exam, sitting: &Sitting) -> Vec<BlockImbalance> {
    blocks(exam, sitting)
        .iter()
        .filter_map(|block| block_imbalance(block.first_glass, block.samples, &block.served))
        .collect()
}

/// The largest imbalance that is left in the blocks of a sitting when any one candidate does not come,
/// per cent: of places, of what comes right before. None where there is nothing to balance.
#[must_use]
pub fn imbalance_without_one(exam: &Exam, sitting: &Sitting) -> Option<(f64, f64)> {
    let mut worst = None;
    for block in blocks(exam, sitting) {
        // Whoever is absent, what is left depends on the absent order alone.
        for absent in block.served.iter().collect::<BTreeSet<_>>() {
            let Some(left) = without(&block, absent) else {
                continue;
            };
            let (place, before) = worst.unwrap_or((0.0_f64, 0.0_f64));
            worst = Some((
                left.place.percent.max(place),
                left.carry_over.percent.max(before),
            ));
        }
    }
    worst
}

/// The imbalance of a block when one who was dealt this order is absent.
fn without(block: &Block, absent: &[usize]) -> Option<BlockImbalance> {
    let candidates = block.served.len().checked_sub(1).filter(|left| *left > 0)?;
    let mut balance = order_balance(block.samples, &block.served);
    balance.take_out(absent);
    (block.samples >= 2).then(|| of_counts(block.first_glass, block.samples, candidates, &balance))
}

/// The imbalance of one block; none with fewer than two samples or nobody to serve.
#[must_use]
pub fn block_imbalance(
    first_glass: usize,
    samples: usize,
    served: &[Vec<usize>],
) -> Option<BlockImbalance> {
    if samples < 2 || served.is_empty() {
        return None;
    }
    let balance = order_balance(samples, served);
    Some(of_counts(first_glass, samples, served.len(), &balance))
}

fn of_counts(
    first_glass: usize,
    samples: usize,
    candidates: usize,
    balance: &OrderBalance,
) -> BlockImbalance {
    let places: Vec<usize> = balance.in_place.iter().flatten().copied().collect();
    let before: Vec<usize> = balance.before_another().collect();
    let imbalance = |counts: &[usize]| imbalance(counts, candidates, samples);
    BlockImbalance {
        first_glass,
        samples,
        candidates,
        place: imbalance(&places),
        carry_over: imbalance(&before),
    }
}

fn imbalance(counts: &[usize], candidates: usize, samples: usize) -> Imbalance {
    let mean = candidates as f64 / samples as f64;
    let squares: f64 = counts
        .iter()
        .map(|&n| (n as f64 - mean) * (n as f64 - mean))
        .sum();
    let fraction = (candidates % samples) as f64 / samples as f64;
    Imbalance {
        least: counts.iter().copied().min().unwrap_or(0),
        most: counts.iter().copied().max().unwrap_or(0),
        percent: (squares / counts.len().max(1) as f64).sqrt() / mean * 100.0,
        at_least_percent: (fraction * (1.0 - fraction)).sqrt() / mean * 100.0,
    }
}

impl Imbalance {
    fn sentence_part(&self) -> String {
        let times = match (self.least, self.most) {
            (1, 1) => "once".to_owned(),
            (least, most) if least == most => format!("{least} times"),
            (least, most) => format!("{least} to {most} times"),
        };
        format!("{times} (imbalance {:.1} %)", self.percent)
    }
}

impl BlockImbalance {
    /// Places and carry-over in two plain sentences, and what the numbers allow in a third.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let last = self.first_glass + self.samples - 1;
        let mut said = vec![
            format!(
                "Glasses {} to {last}, {}: a sample stands in a place {}.",
                self.first_glass,
                if self.candidates == 1 {
                    "1 candidate".to_owned()
                } else {
                    format!("{} candidates", self.candidates)
                },
                self.place.sentence_part()
            ),
            format!(
                "It comes right before another {}.",
                self.carry_over.sentence_part()
            ),
        ];
        if self.place.at_least_percent > 0.0 {
            said.push(format!(
                "No orders for so many candidates could be below {:.1} %.",
                self.place.at_least_percent
            ));
        }
        said
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::williams::williams;
    use proptest::prelude::*;

    #[test]
    fn whole_designs_have_no_imbalance() {
        for samples in 2..=12 {
            let block = block_imbalance(1, samples, &williams(samples));
            assert!(
                block.is_some_and(|b| b.place.percent < 1e-12 && b.carry_over.percent < 1e-12),
                "{samples}"
            );
        }
    }

    #[test]
    fn counts_by_hand() {
        // Two samples, three candidates: AB, AB, BA. A first twice, B first once; AB twice, BA once.
        // Mean 1.5, distances ½ each: 33.3 % of the mean, and no fewer than that with three.
        let block = block_imbalance(1, 2, &[vec![0, 1], vec![0, 1], vec![1, 0]]);
        let told = block.map(|b| b.sentences());
        assert_eq!(
            told.unwrap_or_default(),
            [
                "Glasses 1 to 2, 3 candidates: a sample stands in a place 1 to 2 times (imbalance \
                 33.3 %).",
                "It comes right before another 1 to 2 times (imbalance 33.3 %).",
                "No orders for so many candidates could be below 33.3 %.",
            ]
        );
        // Three alike orders of two samples: counts 3 and 0 around 1.5, all of the mean.
        let alike = block_imbalance(3, 2, &[vec![0, 1], vec![0, 1], vec![0, 1]]);
        assert!(alike.is_some_and(|b| (b.place.percent - 100.0).abs() < 1e-12));
    }

    #[test]
    fn nothing_to_balance_is_not_told() {
        assert_eq!(block_imbalance(1, 1, &[vec![0]]), None);
        assert_eq!(block_imbalance(1, 3, &[]), None);
    }

    #[test]
    fn one_order_taken_out_leaves_what_the_others_make() {
        let served = [vec![0, 1, 2], vec![1, 2, 0], vec![0, 1, 2], vec![2, 1, 0]];
        let block = Block {
            first_glass: 1,
            samples: 3,
            served: served.to_vec(),
        };
        for absent in 0..served.len() {
            let mut left = served.to_vec();
            let order = left.remove(absent);
            assert_eq!(without(&block, &order), block_imbalance(1, 3, &left));
        }
    }

    proptest! {
        #[test]
        fn nothing_lies_below_the_bound(
            samples in 2_usize..=8,
            picks in proptest::collection::vec(0_usize..16, 1..40),
        ) {
            let rows = williams(samples);
            let served: Vec<Vec<usize>> =
                picks.iter().map(|pick| rows[pick % rows.len()].clone()).collect();
            let block = block_imbalance(1, samples, &served);
            prop_assert!(block.is_some());
            for table in block.iter().flat_map(|b| [b.place, b.carry_over]) {
                prop_assert!(table.percent >= table.at_least_percent - 1e-9, "{:?}", table);
            }
        }
    }
}
