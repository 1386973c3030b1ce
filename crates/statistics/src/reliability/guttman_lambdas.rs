//! Lower bounds of the reliability, some of them sharper than alpha.
//!
//! Source: Guttman 1945: λ₁ = 1 − Σ sᵢ²/s²; λ₂ = (S + √(k/(k−1) Q))/s², S and Q the sum and the sum
//! of squares of the covariances between different questions; λ₃ is coefficient alpha;
//! λ₅ = λ₁ + 2√(max over questions of the sum of its squared covariances)/s². λ₄ belongs to a split
//! ([`super::split_half`]). λ₆ = 1 − Σ eᵢ²/s², eᵢ² what is left of a question's variance by its
//! regression on all others: its variance over its place on the diagonal of the inverse of the
//! correlations, which is 1 over 1 less the squared multiple correlation. λ₆ asks for more candidates
//! than questions, else every question is explained wholly; it is then refused. A question that all
//! earned alike leaves nothing over and explains nothing. Invalid: with few candidates the bounds
//! rise by chance, λ₆ most. No interval is in use; resample. Missing: none in the table.

use crate::refusal::{Refusal, at_least};
use crate::scaling::symmetric_matrix::Cholesky;
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
    /// λ₆, from squared multiple correlations.
    pub lambda6: Result<f64, Refusal>,
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
        lambda6: lambda6(&columns, whole, scores.persons()),
        persons: scores.persons(),
        items: scores.items(),
    })
}

/// The bound from squared multiple correlations.
fn lambda6(columns: &[Vec<f64>], whole: f64, persons: usize) -> Result<f64, Refusal> {
    let mut varying: Vec<(&Vec<f64>, f64)> = Vec::new();
    for column in columns {
        let own = variance(column, Divisor::Count)?;
        if own > 0.0 {
            varying.push((column, own));
        }
    }
    let k = varying.len();
    at_least(
        k + 2,
        persons,
        "candidates",
        "lambda 6 asks for two more than there are questions, else the others explain each wholly",
    )?;
    let mut correlations = vec![0.0; k * k];
    for (row, (one, own)) in varying.iter().enumerate() {
        for (column, (other, others)) in varying.iter().enumerate().take(row + 1) {
            let value = if row == column {
                1.0
            } else {
                covariance(one, other, Divisor::Count)? / (own * others).sqrt()
            };
            for place in [row * k + column, column * k + row] {
                if let Some(slot) = correlations.get_mut(place) {
                    *slot = value;
                }
            }
        }
    }
    let factor = Cholesky::of(&correlations, k).ok_or(Refusal::NotDefined {
        of: "lambda 6",
        because: "one question follows from the others",
    })?;
    let inverse = factor.inverse();
    let left_over = sum(varying
        .iter()
        .enumerate()
        .map(|(place, (_, own))| own / inverse.get(place * k + place).copied().unwrap_or(1.0)));
    Ok(1.0 - left_over / whole)
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

    #[test]
    fn two_questions_leave_what_their_correlation_leaves() {
        let rows: Vec<[f64; 2]> = [(3, 5), (1, 1), (4, 3), (2, 2), (5, 5), (2, 4)]
            .map(|(one, other)| [f64::from(one), f64::from(other)])
            .to_vec();
        let table = ScoreTable::new(&rows).unwrap();
        let (one, other) = (table.column(0), table.column(1));
        let spread = |column: &[f64]| variance(column, Divisor::Count).unwrap();
        let shared = covariance(&one, &other, Divisor::Count).unwrap();
        let r2 = shared * shared / (spread(&one) * spread(&other));
        let expected = 1.0 - (spread(&one) + spread(&other)) * (1.0 - r2) / spread(&table.totals());
        let made = guttman_lambdas(&table).unwrap().lambda6.unwrap();
        assert!((made - expected).abs() < 1e-14);
    }

    #[test]
    fn a_doubled_question_and_too_few_candidates_are_refused_and_a_constant_one_is_not() {
        let row = |place: u32, more: f64| {
            let draw = |times: u32| f64::from(place * times % 7);
            [draw(3), draw(5) + f64::from(place % 3), more]
        };
        let table = |more: &dyn Fn(u32) -> f64, n: u32| {
            let rows: Vec<[f64; 3]> = (0..n).map(|place| row(place, more(place))).collect();
            guttman_lambdas(&ScoreTable::new(&rows).unwrap()).unwrap()
        };
        let doubled = table(&|place| row(place, 0.0)[0], 12).lambda6;
        assert!(matches!(doubled, Err(Refusal::NotDefined { .. })));
        let few = table(&|place| f64::from(place * place % 5), 4).lambda6;
        assert!(matches!(few, Err(Refusal::TooFew { need: 5, .. })));
        assert!(table(&|_| 1.0, 12).lambda6.is_ok());
    }
}
