//! KR-20 from the mean and spread of the totals alone, as if all questions were equally hard.
//!
//! Source: Kuder & Richardson 1937, eq. 21: k/(k−1) (1 − M(k−M)/(k s²)), s² with divisor n.
//! Invalid: as an estimate where questions differ in difficulty (it is then below KR-20); part
//! marks (refused). No interval is in use for it; resample. Missing: none in the table.

use crate::refusal::{Refusal, at_least};
use crate::score_table::{ScoreTable, right_or_wrong_only};
use crate::sums::{Divisor, mean, variance};

/// Kuder–Richardson formula 21.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Kr21 {
    /// The coefficient.
    pub kr21: f64,
    /// Mean total.
    pub mean: f64,
    /// Number of candidates.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

/// KR-21.
///
/// # Errors
/// `Refusal::NotDefined` for part marks, `Refusal::TooFew`, `Refusal::NoVariance`.
pub fn kr21(scores: &ScoreTable) -> Result<Kr21, Refusal> {
    right_or_wrong_only(scores, "KR-21")?;
    at_least(2, scores.items(), "questions", "KR-21 divides by k - 1")?;
    at_least(2, scores.persons(), "candidates", "a variance needs two")?;
    let totals = scores.totals();
    let whole = variance(&totals, Divisor::Count)?;
    if whole <= 0.0 {
        return Err(Refusal::NoVariance { of: "totals" });
    }
    let mean = mean(&totals)?;
    let k = scores.items() as f64;
    Ok(Kr21 {
        kr21: k / (k - 1.0) * (1.0 - mean * (k - mean) / (k * whole)),
        mean,
        persons: scores.persons(),
        items: scores.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::interval::Confidence;
    use crate::reliability::kr20::kr20;

    #[test]
    fn never_above_kr20_and_equal_for_equal_questions() {
        let unequal = ScoreTable::new(&[[1.0, 0.0], [1.0, 1.0], [1.0, 0.0], [0.0, 0.0]]).unwrap();
        let above = kr20(&unequal, Confidence::P95).unwrap().kr20;
        assert!(kr21(&unequal).unwrap().kr21 < above);
        let equal =
            ScoreTable::new(&[[1.0, 1.0], [1.0, 0.0], [0.0, 1.0], [0.0, 0.0], [1.0, 1.0]]).unwrap();
        let same = kr20(&equal, Confidence::P95).unwrap().kr20;
        assert!((kr21(&equal).unwrap().kr21 - same).abs() < 1e-14);
    }
}
