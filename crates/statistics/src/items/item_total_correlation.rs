//! Do those with high totals do better on this question, itself counted in?
//!
//! Source: Lord & Novick 1968: Pearson's r of question and total; for 0 or 1 it is the
//! point-biserial. Invalid: in a short test, where a question correlates with itself inside the
//! total (see [`super::item_rest_correlation`]). Constant question: refused. Missing: none.

use crate::descriptive::correlation_interval::{Correlation, correlation};
use crate::interval::Confidence;
use crate::refusal::Refusal;
use crate::score_table::ScoreTable;

/// One correlation per question, in their order; a refusal where a question does not vary.
#[must_use]
pub fn item_total_correlations(
    scores: &ScoreTable,
    confidence: Confidence,
) -> Vec<Result<Correlation, Refusal>> {
    let totals = scores.totals();
    scores
        .item_columns()
        .iter()
        .map(|column| correlation(column, &totals, confidence))
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_constant_question_has_none() {
        let table = ScoreTable::new(&[[1.0, 0.0], [1.0, 1.0], [1.0, 1.0]]).unwrap();
        let made = item_total_correlations(&table, Confidence::P95);
        assert!(made[0].is_err());
        assert!((made[1].as_ref().unwrap().r - 1.0).abs() < 1e-15);
    }
}
