//! Lower bounds of the reliability, some of them sharper than alpha.
//!
//! Source: Guttman 1945: λ₁ = 1 − Σ sᵢ²/s²; λ₂ = (S + √(k/(k−1) Q))/s², S and Q the sum and the sum
//! of squares of the covariances between different questions; λ₃ is coefficient alpha;
//! λ₅ = λ₁ + 2√(max over questions of the sum of its squared covariances)/s². λ₄ belongs to a split
//! ([`super::split_half`]); λ₆ is not computed. Invalid: with few candidates the bounds rise by
//! chance. No interval is in use; resample. Missing: none in the table.

use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::{Divisor, covariance, sum, variance};

/// Guttman's lower bounds.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct GuttmanLambdas {
    /// λ₁.
    pub lambda1: f64,
    /// λ₂, never below λ₃.
    pub lambda2: f64,
    /// λ₃, coefficient alpha.
    pub lambda3: f64,
    /// λ₅.
    pub lambda5: f64,
    /// Number of candidates.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

/// Guttman's lower bounds.
///
/// # Errors
/// `Refusal::TooFew`, or `Refusal::NoVariance` for equal totals.
pub fn guttman_lambdas(scores: &ScoreTable) -> Result<GuttmanLambdas, Refusal> {
    at_least(
        2,
        scores.items(),
        "questions",
        "Guttman 1945 divides by k - 1",
    )?;
    at_least(2, scores.persons(), "candidates", "a variance needs two")?;
    let whole = variance(&scores.totals(), Divisor::Count)?;
    if whole <= 0.0 {
        return Err(Refusal::NoVariance { of: "totals" });
    }
    let columns = scores.item_columns();
    let mut covariances = Vec::new();
    let mut squares_per_question = Vec::new();
    for (place, one) in columns.iter().enumerate() {
        let mut squares = Vec::new();
        for (other_place, other) in columns.iter().enumerate() {
            if place != other_place {
                let value = covariance(one, other, Divisor::Count)?;
                covariances.push(value);
                squares.push(value * value);
            }
        }
        squares_per_question.push(sum(squares));
    }
    let k = scores.items() as f64;
    let shared = sum(covariances);
    let squares = sum(squares_per_question.iter().copied());
    let largest = squares_per_question.iter().copied().fold(0.0, f64::max);
    let lambda1 = shared / whole;
    Ok(GuttmanLambdas {
        lambda1,
        lambda2: (shared + (k / (k - 1.0) * squares).sqrt()) / whole,
        lambda3: k / (k - 1.0) * lambda1,
        lambda5: lambda1 + 2.0 * largest.sqrt() / whole,
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
    fn the_third_is_alpha_and_the_second_is_not_below_it() {
        let table = ScoreTable::new(&[
            [3.0, 2.0, 5.0],
            [1.0, 2.0, 1.0],
            [4.0, 1.0, 3.0],
            [2.0, 0.0, 2.0],
        ])
        .unwrap();
        let made = guttman_lambdas(&table).unwrap();
        let alpha = cronbach_alpha(&table, Confidence::P95).unwrap().alpha;
        assert!((made.lambda3 - alpha).abs() < 1e-14);
        assert!(made.lambda2 >= made.lambda3);
        assert!(made.lambda1 <= made.lambda3 && made.lambda5 >= made.lambda1);
    }
}
