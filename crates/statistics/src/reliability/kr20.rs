//! Alpha of questions marked 0 or 1.
//!
//! Source: Kuder & Richardson 1937, eq. 20: k/(k−1) (1 − Σ pq/s²), s² with divisor n. It is
//! coefficient alpha of such questions; interval by Feldt. Invalid: part marks (refused); otherwise
//! as coefficient alpha. Missing: none in the table.

use crate::interval::{Confidence, Interval};
use crate::refusal::{Refusal, at_least};
use crate::reliability::feldt_interval::feldt_interval;
use crate::score_table::{ScoreTable, right_or_wrong_only};
use crate::sums::{Divisor, mean, sum, variance};

/// Kuder–Richardson formula 20.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Kr20 {
    /// The coefficient.
    pub kr20: f64,
    /// Feldt's interval.
    pub interval: Interval,
    /// Number of candidates.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

/// KR-20 with its interval.
///
/// # Errors
/// `Refusal::NotDefined` for part marks, `Refusal::TooFew`, `Refusal::NoVariance`.
pub fn kr20(scores: &ScoreTable, confidence: Confidence) -> Result<Kr20, Refusal> {
    right_or_wrong_only(scores, "KR-20")?;
    at_least(2, scores.items(), "questions", "KR-20 divides by k - 1")?;
    at_least(2, scores.persons(), "candidates", "a variance needs two")?;
    let whole = variance(&scores.totals(), Divisor::Count)?;
    if whole <= 0.0 {
        return Err(Refusal::NoVariance { of: "totals" });
    }
    let mut spreads = Vec::with_capacity(scores.items());
    for column in scores.item_columns() {
        let p = mean(&column)?;
        spreads.push(p * (1.0 - p));
    }
    let k = scores.items() as f64;
    let kr20 = k / (k - 1.0) * (1.0 - sum(spreads) / whole);
    Ok(Kr20 {
        kr20,
        interval: feldt_interval(kr20, scores.persons(), scores.items(), confidence)?,
        persons: scores.persons(),
        items: scores.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::reliability::cronbach_alpha::cronbach_alpha;

    #[test]
    fn is_alpha_of_right_and_wrong() {
        let table = ScoreTable::new(&[
            [1.0, 0.0, 1.0],
            [1.0, 1.0, 1.0],
            [0.0, 0.0, 1.0],
            [0.0, 0.0, 0.0],
        ])
        .unwrap();
        let made = kr20(&table, Confidence::P95).unwrap();
        let alpha = cronbach_alpha(&table, Confidence::P95).unwrap();
        assert!((made.kr20 - alpha.alpha).abs() < 1e-15);
    }

    #[test]
    fn part_marks_are_refused() {
        let table = ScoreTable::new(&[[0.5, 1.0], [0.0, 1.0]]).unwrap();
        assert!(matches!(
            kr20(&table, Confidence::P95),
            Err(Refusal::NotDefined { .. })
        ));
    }
}
