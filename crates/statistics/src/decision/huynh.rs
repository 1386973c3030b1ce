//! How consistent are passes and fails on one form, from mean and spread alone?
//!
//! Source: Huynh 1976: two sittings as a bivariate beta-binomial with a = M(1/KR21 − 1),
//! b = k/KR21 − k − a; KR-21 with divisor n. Invalid: part marks; questions of very unequal difficulty
//! (too low); a KR-21 not between 0 and 1 (refused). No interval is in use; resample. Missing: none.

use crate::decision::decision_figures::kappa;
use crate::decision::livingston_lewis::between_zero_and_one;
use crate::refusal::Refusal;
use crate::reliability::kr21::kr21;
use crate::score_table::ScoreTable;
use crate::sums::sum;

/// Decision consistency by Huynh.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Huynh {
    /// KR-21 of the scores.
    pub kr21: f64,
    /// First shape of the beta distribution.
    pub alpha: f64,
    /// Second shape.
    pub beta: f64,
    /// Share who pass.
    pub passing: f64,
    /// Share of the same decisions on a second sitting.
    pub agreement: f64,
    /// Agreement beyond chance.
    pub kappa: f64,
    /// Number of candidates.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

/// Decision consistency of scores of 0 and 1, passed at `cut` right answers.
///
/// # Errors
/// As KR-21, and `Refusal::OutOfRange` for a KR-21 not between 0 and 1.
pub fn huynh(scores: &ScoreTable, cut: u32) -> Result<Huynh, Refusal> {
    let coefficient = kr21(scores)?;
    between_zero_and_one(coefficient.kr21)?;
    let items = u32::try_from(scores.items()).unwrap_or(u32::MAX);
    let k = f64::from(items);
    let alpha = coefficient.mean * (1.0 / coefficient.kr21 - 1.0);
    let beta = k / coefficient.kr21 - k - alpha;
    let ways: Vec<f64> = (0..=items)
        .map(|x| {
            let x = f64::from(x);
            libm::lgamma(k + 1.0) - libm::lgamma(x + 1.0) - libm::lgamma(k - x + 1.0)
        })
        .collect();
    let log_beta = |a: f64, b: f64| libm::lgamma(a) + libm::lgamma(b) - libm::lgamma(a + b);
    let whole = log_beta(alpha, beta);
    let passing = sum((cut..=items)
        .zip(ways.iter().skip(cut as usize))
        .map(|(x, ways)| {
            let x = f64::from(x);
            libm::exp(ways + log_beta(alpha + x, beta + k - x) - whole)
        }));
    let above: Vec<(f64, f64)> = (cut..=items)
        .map(f64::from)
        .zip(ways.iter().skip(cut as usize).copied())
        .collect();
    let both = sum(above.iter().flat_map(|(x, x_ways)| {
        above.iter().map(move |(y, y_ways)| {
            let right = x + y;
            let term = log_beta(alpha + right, beta + 2.0 * k - right) - whole;
            libm::exp(x_ways + y_ways + term)
        })
    }));
    // Both fail = 1 - one passes - other passes + both pass.
    let agreement = 1.0 - 2.0 * passing + 2.0 * both;
    let by_chance = passing * passing + (1.0 - passing) * (1.0 - passing);
    Ok(Huynh {
        kr21: coefficient.kr21,
        alpha,
        beta,
        passing,
        agreement,
        kappa: kappa(agreement, by_chance),
        persons: scores.persons(),
        items: scores.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn everybody_passes_at_no_cut_and_nobody_beyond_the_top() {
        let table = ScoreTable::new(&[
            [1.0, 1.0, 1.0],
            [0.0, 0.0, 0.0],
            [1.0, 0.0, 1.0],
            [1.0, 1.0, 1.0],
        ])
        .unwrap();
        let all = huynh(&table, 0).unwrap();
        assert!((all.passing - 1.0).abs() < 1e-12 && (all.agreement - 1.0).abs() < 1e-12);
        let none = huynh(&table, 4).unwrap();
        assert_eq!((none.passing, none.agreement, none.kappa), (0.0, 1.0, 0.0));
    }
}
