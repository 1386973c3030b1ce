//! What would alpha be if every question had the same spread?
//!
//! Source: Cronbach 1951 with Spearman–Brown: k r̄ / (1 + (k−1) r̄), r̄ the mean correlation between
//! questions. Invalid: for a test whose raw marks are added up (then coefficient alpha is meant); a
//! question without variance has no correlation and is refused by its place. Missing: none.

use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::{correlation, is_constant, sum};

/// Standardised alpha.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct StandardisedAlpha {
    /// The coefficient.
    pub alpha: f64,
    /// Mean correlation between two questions.
    pub mean_correlation: f64,
    /// Number of candidates.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

/// Standardised alpha. It has no interval of its own here; resample with [`crate::bootstrap`].
///
/// # Errors
/// `Refusal::TooFew`, or `Refusal::ConstantColumn` for a question without variance.
pub fn standardised_alpha(scores: &ScoreTable) -> Result<StandardisedAlpha, Refusal> {
    at_least(2, scores.items(), "questions", "a correlation needs two")?;
    at_least(2, scores.persons(), "candidates", "a correlation needs two")?;
    let columns = scores.item_columns();
    if let Some(column) = columns.iter().position(|column| is_constant(column)) {
        return Err(Refusal::ConstantColumn { column });
    }
    let mut correlations = Vec::new();
    for (place, one) in columns.iter().enumerate() {
        for other in columns.iter().skip(place + 1) {
            correlations.push(correlation(one, other)?);
        }
    }
    let mean_correlation = sum(correlations.iter().copied()) / correlations.len() as f64;
    let k = scores.items() as f64;
    let below = 1.0 + (k - 1.0) * mean_correlation;
    if below.abs() < 1e-12 {
        return Err(Refusal::NotDefined {
            of: "standardised alpha",
            because: "the mean correlation is -1/(k - 1)",
        });
    }
    Ok(StandardisedAlpha {
        alpha: k * mean_correlation / below,
        mean_correlation,
        persons: scores.persons(),
        items: scores.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::interval::Confidence;
    use crate::reliability::cronbach_alpha::cronbach_alpha;

    #[test]
    fn equals_alpha_when_the_spreads_are_equal() {
        let table = ScoreTable::new(&[
            [1.0, 0.0],
            [0.0, 0.0],
            [1.0, 1.0],
            [0.0, 1.0],
            [1.0, 1.0],
            [0.0, 0.0],
        ])
        .unwrap();
        let made = standardised_alpha(&table).unwrap();
        let plain = cronbach_alpha(&table, Confidence::P95).unwrap();
        assert!((made.alpha - plain.alpha).abs() < 1e-14);
    }

    #[test]
    fn names_the_constant_question() {
        let table = ScoreTable::new(&[[1.0, 1.0], [0.0, 1.0]]).unwrap();
        assert_eq!(
            standardised_alpha(&table),
            Err(Refusal::ConstantColumn { column: 1 })
        );
    }
}
