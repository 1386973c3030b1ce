//! What would alpha be without this question?
//!
//! Source: definition: alpha of the k − 1 remaining questions. Invalid: as a reason by itself to
//! drop a question (the blueprint decides what is asked); with few candidates the differences are
//! mostly noise, see the interval of alpha. Missing: none in the table.

use crate::refusal::{Refusal, at_least};
use crate::reliability::cronbach_alpha::alpha_of;
use crate::score_table::ScoreTable;

/// Alpha without each question in turn.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct AlphaIfDeleted {
    /// In the order of the questions; a refusal where the rest has no variance.
    pub without: Vec<Result<f64, Refusal>>,
    /// Number of candidates.
    pub persons: usize,
}

/// Alpha without each question in turn.
///
/// # Errors
/// `Refusal::TooFew` below three questions or two candidates.
pub fn alpha_if_deleted(scores: &ScoreTable) -> Result<AlphaIfDeleted, Refusal> {
    at_least(3, scores.items(), "questions", "two must remain")?;
    at_least(2, scores.persons(), "candidates", "a variance needs two")?;
    let columns = scores.item_columns();
    let without = (0..scores.items())
        .map(|left_out| {
            let mut rest = columns.clone();
            rest.remove(left_out);
            alpha_of(&rest, &scores.totals_without(left_out))
        })
        .collect();
    Ok(AlphaIfDeleted {
        without,
        persons: scores.persons(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn dropping_the_odd_one_out_raises_alpha() {
        let table = ScoreTable::new(&[
            [1.0, 1.0, 0.0],
            [0.0, 0.0, 1.0],
            [1.0, 1.0, 1.0],
            [0.0, 0.0, 0.0],
        ])
        .unwrap();
        let made = alpha_if_deleted(&table).unwrap();
        assert!((made.without[2].unwrap() - 1.0).abs() < 1e-15);
        assert!(made.without[0].unwrap() < 0.1);
    }
}
