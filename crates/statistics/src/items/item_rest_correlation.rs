//! Do those who do well on the other questions do better on this one?
//!
//! Source: Henrysson 1963: Pearson's r of the question with the total of all others. Invalid: with
//! few candidates the figure is mostly noise; its interval says so. Constant question: refused.
//! Missing: none in the table.

use crate::descriptive::correlation_interval::{Correlation, correlation};
use crate::interval::Confidence;
use crate::refusal::Refusal;
use crate::score_table::ScoreTable;

/// One correlation per question, in their order; a refusal where the question or the rest does not
/// vary.
#[must_use]
pub fn item_rest_correlations(
    scores: &ScoreTable,
    confidence: Confidence,
) -> Vec<Result<Correlation, Refusal>> {
    scores
        .item_columns()
        .iter()
        .enumerate()
        .map(|(place, column)| correlation(column, &scores.totals_without(place), confidence))
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_question_against_the_rest_is_negative() {
        let table = ScoreTable::new(&[[1.0, 0.0, 0.0], [0.0, 1.0, 1.0], [0.0, 1.0, 0.0]]).unwrap();
        let made = item_rest_correlations(&table, Confidence::P95);
        assert!(made[0].as_ref().unwrap().r < 0.0);
        assert!(made[0].as_ref().unwrap().interval.is_err(), "three pairs");
        let alone = ScoreTable::new(&[[1.0], [0.0]]).unwrap();
        assert!(item_rest_correlations(&alone, Confidence::P95)[0].is_err());
    }
}
