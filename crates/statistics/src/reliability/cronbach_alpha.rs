//! How much of the spread of the totals is shared by the questions?
//!
//! Source: Cronbach 1951, eq. 2: α = k/(k−1) · (1 − Σ sᵢ²/s²), the same divisor throughout.
//! Interval: [`super::feldt_interval`]. Invalid: as an estimate of reliability where questions hang
//! together by more than the trait (several questions on one glass: then it is too high) or measure
//! unequally (then it is too low, a lower bound). Constant questions are kept; they add nothing to
//! either sum. Missing: not allowed in the table; an unanswered question is marked 0 before.

use crate::interval::{Confidence, Interval};
use crate::refusal::{Refusal, at_least};
use crate::reliability::feldt_interval::feldt_interval;
use crate::score_table::ScoreTable;
use crate::sums::{Divisor, sum, variance};

/// Coefficient alpha.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct CronbachAlpha {
    /// The coefficient; it can be negative.
    pub alpha: f64,
    /// Feldt's interval.
    pub interval: Interval,
    /// Number of candidates.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

/// Coefficient alpha with its interval.
///
/// # Errors
/// `Refusal::TooFew` below two questions or two candidates; `Refusal::NoVariance` for equal totals.
pub fn cronbach_alpha(
    scores: &ScoreTable,
    confidence: Confidence,
) -> Result<CronbachAlpha, Refusal> {
    let alpha = alpha_of(&scores.item_columns(), &scores.totals())?;
    let (persons, items) = (scores.persons(), scores.items());
    Ok(CronbachAlpha {
        alpha,
        interval: feldt_interval(alpha, persons, items, confidence)?,
        persons,
        items,
    })
}

/// The bare coefficient of these columns, for estimators that need nothing else.
pub(crate) fn alpha_of(columns: &[Vec<f64>], totals: &[f64]) -> Result<f64, Refusal> {
    at_least(
        2,
        columns.len(),
        "questions",
        "Cronbach 1951 divides by k - 1",
    )?;
    at_least(2, totals.len(), "candidates", "a variance needs two")?;
    let whole = variance(totals, Divisor::Count)?;
    if whole <= 0.0 {
        return Err(Refusal::NoVariance { of: "totals" });
    }
    let mut parts = Vec::with_capacity(columns.len());
    for column in columns {
        parts.push(variance(column, Divisor::Count)?);
    }
    let k = columns.len() as f64;
    Ok(k / (k - 1.0) * (1.0 - sum(parts) / whole))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn questions_that_say_the_same_give_one() {
        let table = ScoreTable::new(&[[1.0, 1.0], [0.0, 0.0], [1.0, 1.0]]).unwrap();
        let made = cronbach_alpha(&table, Confidence::P95).unwrap();
        assert!((made.alpha - 1.0).abs() < 1e-15);
    }

    #[test]
    fn equal_totals_and_single_questions_are_refused() {
        let equal = ScoreTable::new(&[[1.0, 0.0], [0.0, 1.0]]).unwrap();
        assert_eq!(
            cronbach_alpha(&equal, Confidence::P95),
            Err(Refusal::NoVariance { of: "totals" })
        );
        let single = ScoreTable::new(&[[1.0], [0.0]]).unwrap();
        assert!(cronbach_alpha(&single, Confidence::P95).is_err());
    }
}
