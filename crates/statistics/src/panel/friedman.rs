//! Do assessors rank at least one sample differently from the others?
//!
//! Source: Friedman 1937, corrected for ties (Conover 1999, ch. 5.8): χ² = [12 Σ R²/(n k (k+1)) −
//! 3 n (k+1)] / [1 − Σ(t³−t)/(n (k³−k))] with k − 1 degrees of freedom; W = χ²/(n (k−1)). Ties: mid-ranks
//! within an assessor. Invalid: the p-value is rough for a handful of assessors; an order expected
//! beforehand is better tested by [`super::page_trend`]. Missing: refused by the table.

use crate::distribution::chi_square;
use crate::p_value::{PValue, Side};
use crate::ranks::mid_ranks;
use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::sum;

/// Friedman's test.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Friedman {
    /// The statistic.
    pub chi_square: f64,
    /// Its degrees of freedom.
    pub degrees_of_freedom: usize,
    /// Its p-value.
    pub p_value: PValue,
    /// Kendall's coefficient of concordance.
    pub concordance: f64,
    /// Rank sum of each sample.
    pub rank_sums: Vec<f64>,
    /// Number of assessors.
    pub assessors: usize,
    /// Number of samples.
    pub samples: usize,
}

/// Friedman's test of scores or ranks, assessors in rows and samples in columns.
///
/// # Errors
/// `Refusal::TooFew` below two assessors or samples; `Refusal::NoVariance` when every assessor gave
/// all samples the same.
pub fn friedman(scores: &ScoreTable) -> Result<Friedman, Refusal> {
    at_least(2, scores.persons(), "assessors", "a common order needs two")?;
    at_least(2, scores.items(), "samples", "an order needs two")?;
    let (n, k) = (scores.persons() as f64, scores.items() as f64);
    let mut rank_sums = vec![0.0; scores.items()];
    let mut ties = Vec::new();
    for row in scores.rows() {
        for (total, place) in rank_sums.iter_mut().zip(mid_ranks(row)) {
            *total += place.rank;
            // Each of t tied samples brings t² − 1, together t³ − t.
            ties.push(place.tied * place.tied - 1.0);
        }
    }
    let correction = 1.0 - sum(ties) / (n * (k * k * k - k));
    if correction <= 0.0 {
        return Err(Refusal::NoVariance { of: "ranks" });
    }
    let expected = n * (k + 1.0) / 2.0;
    let squares = sum(rank_sums.iter().map(|r| (r - expected) * (r - expected)));
    let chi_square = 12.0 * squares / (n * k * (k + 1.0)) / correction;
    Ok(Friedman {
        chi_square,
        degrees_of_freedom: scores.items() - 1,
        p_value: PValue {
            probability: chi_square::upper_tail(chi_square, k - 1.0),
            side: Side::Upper,
        },
        concordance: chi_square / (n * (k - 1.0)),
        rank_sums,
        assessors: scores.persons(),
        samples: scores.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn one_order_by_all_is_full_concordance() {
        let table = ScoreTable::new(&[[1.0, 2.0, 9.0], [3.0, 4.0, 5.0], [0.0, 7.0, 8.0]]).unwrap();
        let made = friedman(&table).unwrap();
        assert!((made.concordance - 1.0).abs() < 1e-15);
        assert_eq!(made.rank_sums, [3.0, 6.0, 9.0]);
        assert!(friedman(&ScoreTable::new(&[[1.0, 1.0], [2.0, 2.0]]).unwrap()).is_err());
    }
}
