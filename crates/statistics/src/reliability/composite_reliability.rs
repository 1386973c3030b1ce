//! How reliable is a total of several parts, each with a reliability of its own?
//!
//! Source: Mosier 1943, Psychometrika 8, 161-168: 1 − Σ w²s²(1 − ρ)/s²_C for parts of weight w,
//! spread s and reliability ρ in a composite C; with weights of 1 and each part's alpha this is the
//! stratified alpha of Cronbach, Schönemann & McKie 1965, which is not lowered by parts that measure
//! unlike things, as plain alpha is. Invalid: parts whose errors go together (one essay that is
//! marked in two parts). A part that everybody did alike adds nothing. Smallest: two parts, and 5
//! candidates as for alpha. No interval is in use; resample candidates. Missing: refused.

use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, sum, variance};

/// One part of a total.
#[derive(Debug, Clone, Copy)]
pub struct Part<'a> {
    /// Each candidate's marks on it.
    pub scores: &'a [f64],
    /// Its reliability, at most 1; below 0 it counts as 0.
    pub reliability: f64,
    /// What a mark on it counts in the total.
    pub weight: f64,
}

/// The reliability of a total of parts.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct CompositeReliability {
    /// The reliability.
    pub reliability: f64,
    /// One standard error of the total, in its marks.
    pub error: f64,
    /// Number of candidates.
    pub n: usize,
    /// Number of parts.
    pub parts: usize,
}

/// The reliability of the weighted total.
///
/// # Errors
/// `Refusal::TooFew`, `Refusal::UnequalLengths`, `Refusal::OutOfRange` for a reliability above 1 or
/// a weight that is no number, `Refusal::NoVariance` for equal totals.
pub fn composite_reliability(parts: &[Part<'_>]) -> Result<CompositeReliability, Refusal> {
    at_least(2, parts.len(), "parts", "one part has its own reliability")?;
    let n = parts.first().map_or(0, |part| part.scores.len());
    at_least(5, n, "candidates", "as for alpha, which each part needs")?;
    let mut totals = vec![0.0; n];
    let mut errors = Vec::with_capacity(parts.len());
    for part in parts {
        if part.scores.len() != n {
            return Err(Refusal::UnequalLengths {
                of: "candidates of the parts",
                have: part.scores.len(),
                expected: n,
            });
        }
        if part.reliability.is_nan() || part.reliability > 1.0 {
            return Err(Refusal::OutOfRange {
                of: "a reliability",
                value: part.reliability,
                allowed: "up to 1",
            });
        }
        if !part.weight.is_finite() {
            return Err(Refusal::OutOfRange {
                of: "a weight",
                value: part.weight,
                allowed: "any finite number",
            });
        }
        for (total, score) in totals.iter_mut().zip(part.scores) {
            *total += part.weight * score;
        }
        let own = variance(part.scores, Divisor::Count)?;
        errors.push(part.weight * part.weight * own * (1.0 - part.reliability.max(0.0)));
    }
    let whole = variance(&totals, Divisor::Count)?;
    if whole <= 0.0 {
        return Err(Refusal::NoVariance { of: "totals" });
    }
    let error = sum(errors);
    Ok(CompositeReliability {
        reliability: 1.0 - error / whole,
        error: error.sqrt(),
        n,
        parts: parts.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::interval::Confidence;
    use crate::reliability::cronbach_alpha::cronbach_alpha;
    use crate::score_table::ScoreTable;

    fn marks(person: u32, item: u32) -> f64 {
        f64::from((person * 7919 + item * 104_729 + person * item) % 5) + f64::from(person % 4)
    }

    /// Questions as parts of one question each, their reliability 0: what is left is λ₁.
    #[test]
    fn parts_without_reliability_leave_what_they_share() {
        let rows: Vec<Vec<f64>> = (0..30)
            .map(|person| (0..6).map(|item| marks(person, item)).collect())
            .collect();
        let table = ScoreTable::new(&rows).unwrap();
        let columns = table.item_columns();
        let parts: Vec<Part<'_>> = columns
            .iter()
            .map(|scores| Part {
                scores,
                reliability: 0.0,
                weight: 1.0,
            })
            .collect();
        let made = composite_reliability(&parts).unwrap().reliability;
        let alpha = cronbach_alpha(&table, Confidence::P95).unwrap().alpha;
        assert!((made - alpha * 5.0 / 6.0).abs() < 1e-12);
    }

    /// Two parallel parts: Spearman and Brown from the correlation that their reliability is.
    #[test]
    fn equal_parts_give_spearman_and_brown() {
        let mut one: Vec<f64> = (0..40).map(|person| marks(person, 1)).collect();
        one.sort_by(f64::total_cmp);
        // The same marks, four places further on: equal spreads, and a correlation below 1.
        let mut other = one.clone();
        other.rotate_left(4);
        let r = crate::sums::correlation(&one, &other).unwrap();
        let part = |scores| Part {
            scores,
            reliability: r,
            weight: 3.0,
        };
        assert!(r > 0.1 && r < 0.95);
        let made = composite_reliability(&[part(&one), part(&other)]).unwrap();
        assert!((made.reliability - 2.0 * r / (1.0 + r)).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_part_is_refused() {
        let scores = [1.0, 2.0, 3.0, 4.0, 5.0];
        let part = |scores, reliability| Part {
            scores,
            reliability,
            weight: 1.0,
        };
        assert!(composite_reliability(&[part(&scores[..], 0.5)]).is_err());
        assert!(composite_reliability(&[part(&scores[..], 0.5), part(&scores[..4], 0.5)]).is_err());
        assert!(composite_reliability(&[part(&scores[..], 1.5), part(&scores[..], 0.5)]).is_err());
        let down = [5.0, 4.0, 3.0, 2.0, 1.0];
        assert!(matches!(
            composite_reliability(&[part(&scores[..], 0.5), part(&down[..], 0.5)]),
            Err(Refusal::NoVariance { .. })
        ));
    }
}
