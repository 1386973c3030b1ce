//! How much of the spread of the totals comes from one factor, when questions measure unequally?
//!
//! Source: McDonald 1999, eq. 6.20: (Σλ)²/((Σλ)² + Σψ) from a one-factor maximum likelihood fit to
//! the covariances with divisor n (Jöreskog 1969), found by the EM steps of Rubin & Thayer 1982.
//! Invalid: more than one factor; fewer than three questions (not identified, refused); a question
//! whose own part runs to 0 (Heywood case, refused). No interval here; resample. Missing: none.

use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::{Divisor, covariance, is_constant, sum};

/// Steps after which the search is given up.
const STEPS: usize = 200_000;

/// Omega of a one-factor fit.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Omega {
    /// The coefficient.
    pub omega: f64,
    /// Loading of each question, the factor having variance 1.
    pub loadings: Vec<f64>,
    /// What each question has to itself, a variance.
    pub own_variances: Vec<f64>,
    /// Number of candidates.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

/// Fits one factor and computes omega.
///
/// # Errors
/// `Refusal::TooFew` below three questions or more questions than candidates less one,
/// `Refusal::ConstantColumn`, `Refusal::NotDefined` for a Heywood case, `Refusal::NotSettled`.
pub fn omega(scores: &ScoreTable) -> Result<Omega, Refusal> {
    at_least(
        3,
        scores.items(),
        "questions",
        "one factor is identified from three on",
    )?;
    at_least(
        scores.items() + 1,
        scores.persons(),
        "candidates",
        "a covariance matrix of k questions needs k + 1",
    )?;
    let columns = scores.item_columns();
    if let Some(column) = columns.iter().position(|column| is_constant(column)) {
        return Err(Refusal::ConstantColumn { column });
    }
    let mut covariances = Vec::with_capacity(columns.len());
    for one in &columns {
        let mut row = Vec::with_capacity(columns.len());
        for other in &columns {
            row.push(covariance(one, other, Divisor::Count)?);
        }
        covariances.push(row);
    }
    let variances: Vec<f64> = covariances
        .iter()
        .enumerate()
        .filter_map(|(place, row)| row.get(place).copied())
        .collect();
    let (loadings, own_variances) = fit(&covariances, &variances)?;
    let common = sum(loadings.iter().copied());
    let common = common * common;
    Ok(Omega {
        omega: common / (common + sum(own_variances.iter().copied())),
        loadings,
        own_variances,
        persons: scores.persons(),
        items: scores.items(),
    })
}

/// The EM steps: loadings and own variances.
fn fit(covariances: &[Vec<f64>], variances: &[f64]) -> Result<(Vec<f64>, Vec<f64>), Refusal> {
    // Start: each question half common, with the sign of its covariance with the total.
    let mut loadings: Vec<f64> = covariances
        .iter()
        .zip(variances)
        .map(|(row, variance)| {
            let with_total = sum(row.iter().copied()) - variance;
            (variance / 2.0).sqrt().copysign(with_total)
        })
        .collect();
    let mut own: Vec<f64> = variances.iter().map(|variance| variance / 2.0).collect();
    for _ in 0..STEPS {
        let precision = 1.0 + sum(loadings.iter().zip(&own).map(|(l, psi)| l * l / psi));
        let weights: Vec<f64> = loadings
            .iter()
            .zip(&own)
            .map(|(l, psi)| l / psi / precision)
            .collect();
        let with_factor: Vec<f64> = covariances
            .iter()
            .map(|row| sum(row.iter().zip(&weights).map(|(s, w)| s * w)))
            .collect();
        let explained = sum(weights.iter().zip(&loadings).map(|(w, l)| w * l));
        let square = 1.0 - explained + sum(weights.iter().zip(&with_factor).map(|(w, s)| w * s));
        let mut change: f64 = 0.0;
        for (((loading, psi), variance), shared) in loadings
            .iter_mut()
            .zip(&mut own)
            .zip(variances)
            .zip(&with_factor)
        {
            let next = shared / square;
            change = change.max((next - *loading).abs() / variance.sqrt());
            *loading = next;
            *psi = variance - next * shared;
            if *psi < 1e-6 * variance {
                return Err(Refusal::NotDefined {
                    of: "omega",
                    because: "a question has nothing to itself (Heywood case)",
                });
            }
        }
        if change < 1e-12 {
            return Ok((loadings, own));
        }
    }
    Err(Refusal::NotSettled {
        of: "the one-factor fit",
        steps: STEPS,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn three_questions_are_fitted_exactly() {
        // With three questions the fit is saturated: l1 = √(s12 s13 / s23).
        let table = ScoreTable::new(&[
            [3.0, 1.0, 2.0],
            [1.0, 2.0, 2.0],
            [4.0, 4.0, 3.0],
            [2.0, 3.0, 1.0],
            [5.0, 3.0, 5.0],
            [4.0, 5.0, 4.0],
        ])
        .unwrap();
        let columns = table.item_columns();
        let s = |a: usize, b: usize| covariance(&columns[a], &columns[b], Divisor::Count).unwrap();
        let made = omega(&table).unwrap();
        let expected = (s(0, 1) * s(0, 2) / s(1, 2)).sqrt();
        assert!((made.loadings[0].abs() - expected).abs() < 1e-8, "{made:?}");
    }

    #[test]
    fn more_questions_than_candidates_are_refused() {
        let table = ScoreTable::new(&[[1.0, 0.0, 1.0], [0.0, 1.0, 1.0]]).unwrap();
        assert!(matches!(
            omega(&table),
            Err(Refusal::TooFew { need: 4, .. })
        ));
    }
}
