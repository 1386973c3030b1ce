//! By how much does the top of the list do better on a question than the bottom?
//!
//! Source: Kelley 1939, groups of 27 %: g = ⌊0.27 n + ½⌋, D = mean score of the top g less that of
//! the bottom g, by total. Ties: candidates with equal totals at a boundary share the remaining
//! places in equal fractions, so that the order of the rows does not matter. Invalid: fewer than 2
//! candidates; groups of a handful say little. Missing: none in the table.

use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::sum;

/// Kelley's share of candidates in each group.
const SHARE: f64 = 0.27;

/// Top and bottom group compared, question by question.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct UpperLowerGroups {
    /// D of each question, in marks.
    pub differences: Vec<f64>,
    /// Candidates in each group.
    pub group: usize,
    /// Number of candidates.
    pub n: usize,
}

/// Compares the upper and lower 27 per cent.
///
/// # Errors
/// `Refusal::TooFew` below two candidates.
pub fn upper_lower_groups(scores: &ScoreTable) -> Result<UpperLowerGroups, Refusal> {
    let n = scores.persons();
    at_least(2, n, "candidates", "each group needs one")?;
    let group = (SHARE * n as f64 + 0.5).floor() as usize;
    let totals = scores.totals();
    let upper = memberships(&totals, group, |total, other| other > total);
    let lower = memberships(&totals, group, |total, other| other < total);
    let size = group as f64;
    let differences = scores
        .item_columns()
        .iter()
        .map(|column| {
            let share = |members: &[f64]| {
                sum(column.iter().zip(members).map(|(score, part)| score * part)) / size
            };
            share(&upper) - share(&lower)
        })
        .collect();
    Ok(UpperLowerGroups {
        differences,
        group,
        n,
    })
}

/// How much of each candidate belongs to a group of `group`; `before(total, other)` says whether
/// a candidate with `other` comes before one with `total`.
fn memberships(totals: &[f64], group: usize, before: impl Fn(f64, f64) -> bool) -> Vec<f64> {
    totals
        .iter()
        .map(|total| {
            let ahead = totals
                .iter()
                .filter(|other| before(*total, **other))
                .count();
            let tied = totals.iter().filter(|other| **other == *total).count();
            let places = group.saturating_sub(ahead);
            (places as f64 / tied as f64).min(1.0)
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_order_of_rows_does_not_matter() {
        let rows = [
            [1.0, 1.0],
            [1.0, 0.0],
            [0.0, 1.0],
            [0.0, 1.0],
            [0.0, 0.0],
            [1.0, 1.0],
        ];
        let mut turned = rows;
        turned.reverse();
        let one = upper_lower_groups(&ScoreTable::new(&rows).unwrap()).unwrap();
        let other = upper_lower_groups(&ScoreTable::new(&turned).unwrap()).unwrap();
        assert_eq!(one, other);
        assert_eq!(one.group, 2);
        // Top: two with 2 marks, mean 1. Bottom: the one with 0, and a third of each with 1 mark.
        assert!((one.differences[0] - (1.0 - (1.0 / 3.0) / 2.0)).abs() < 1e-15);
    }
}
