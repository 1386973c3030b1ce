//! How well do two halves of the test agree, and what does that say of the whole?
//!
//! Sources: Spearman 1910, Brown 1910: 2r/(1+r) for the correlation r of the half totals; Guttman
//! 1945, λ₄ = 2(1 − (s_a² + s_b²)/s²), which does not need equal spreads. Invalid: halves of unlike
//! content; halves of a test that many do not finish (odd–even is then too high). The figure
//! depends on the split, which is therefore named. Missing: none in the table.

use crate::descriptive::correlation_interval::{Correlation, correlation};
use crate::interval::Confidence;
use crate::refusal::{Refusal, at_least};
use crate::reliability::spearman_brown::stepped_up;
use crate::score_table::ScoreTable;
use crate::sums::{Divisor, sum, variance};

/// Which questions go into the first half.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Split<'a> {
    /// The first, third, fifth and so on.
    OddEven,
    /// Those at the places marked true, one mark per question.
    Given(&'a [bool]),
}

/// Two halves compared.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SplitHalf {
    /// Correlation between the halves, with its interval.
    pub between_halves: Correlation,
    /// Stepped up to the whole length by Spearman–Brown.
    pub spearman_brown: f64,
    /// Guttman's λ₄ of this split.
    pub lambda4: f64,
    /// Number of candidates.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

/// Compares two halves.
///
/// # Errors
/// `Refusal::TooFew`, `Refusal::UnequalLengths` for a split of another length,
/// `Refusal::NoVariance` when a half does not vary.
pub fn split_half(
    scores: &ScoreTable,
    split: Split<'_>,
    confidence: Confidence,
) -> Result<SplitHalf, Refusal> {
    at_least(2, scores.items(), "questions", "two halves need two")?;
    at_least(2, scores.persons(), "candidates", "a correlation needs two")?;
    let in_first: Vec<bool> = match split {
        Split::OddEven => (0..scores.items()).map(|place| place % 2 == 0).collect(),
        Split::Given(marks) => marks.to_vec(),
    };
    if in_first.len() != scores.items() {
        return Err(Refusal::UnequalLengths {
            of: "marks of the split",
            have: in_first.len(),
            expected: scores.items(),
        });
    }
    let half = |wanted: bool| -> Vec<f64> {
        scores
            .rows()
            .map(|row| {
                sum(row
                    .iter()
                    .zip(&in_first)
                    .filter(|(_, first)| **first == wanted)
                    .map(|(score, _)| *score))
            })
            .collect()
    };
    let (first, second) = (half(true), half(false));
    let between_halves = correlation(&first, &second, confidence)?;
    let whole = variance(&scores.totals(), Divisor::Count)?;
    if whole <= 0.0 {
        return Err(Refusal::NoVariance { of: "totals" });
    }
    let apart = variance(&first, Divisor::Count)? + variance(&second, Divisor::Count)?;
    Ok(SplitHalf {
        spearman_brown: stepped_up(between_halves.r, 2.0)?,
        lambda4: 2.0 * (1.0 - apart / whole),
        between_halves,
        persons: scores.persons(),
        items: scores.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn both_figures_meet_for_halves_of_equal_spread() {
        let table = ScoreTable::new(&[[1.0, 2.0], [2.0, 1.0], [3.0, 3.0], [4.0, 4.0]]).unwrap();
        let made = split_half(&table, Split::OddEven, Confidence::P95).unwrap();
        assert!((made.between_halves.r - 0.8).abs() < 1e-15);
        assert!((made.spearman_brown - made.lambda4).abs() < 1e-14);
        let same = split_half(&table, Split::Given(&[true, false]), Confidence::P95).unwrap();
        assert_eq!(made, same);
        assert!(split_half(&table, Split::Given(&[true]), Confidence::P95).is_err());
        assert!(split_half(&table, Split::Given(&[true, true]), Confidence::P95).is_err());
    }
}
