//! Do samples (or questions) differ in how many succeed, the same people having tried all?
//!
//! Source: Cochran 1950: Q = (k−1)(k Σ Cⱼ² − N²)/(k N − Σ Rᵢ²), C and R the column and row totals, N their
//! sum; χ² with k − 1 degrees of freedom. Invalid: fewer than about 24 informative answers (rows
//! neither all 0 nor all 1, times k; common practice, no source). Missing: refused by the table.

use crate::distribution::chi_square;
use crate::p_value::{PValue, Side};
use crate::refusal::{Refusal, at_least};
use crate::score_table::{ScoreTable, right_or_wrong_only};
use crate::sums::sum;

/// Cochran's Q.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct CochranQ {
    /// The statistic.
    pub q: f64,
    /// Its degrees of freedom.
    pub degrees_of_freedom: usize,
    /// Its p-value.
    pub p_value: PValue,
    /// Number of people.
    pub n: usize,
}

/// Cochran's Q of scores of 0 and 1, people in rows.
///
/// # Errors
/// `Refusal::TooFew` below two columns, `Refusal::NotDefined` for other scores,
/// `Refusal::NoVariance` when every person did alike on all.
pub fn cochran_q(scores: &ScoreTable) -> Result<CochranQ, Refusal> {
    right_or_wrong_only(scores, "Cochran's Q")?;
    at_least(2, scores.items(), "columns", "a comparison needs two")?;
    let k = scores.items() as f64;
    let rows = scores.totals();
    let all = sum(rows.iter().copied());
    let informative = sum(rows.iter().map(|row| row * (k - row)));
    if informative <= 0.0 {
        return Err(Refusal::NoVariance {
            of: "answers of each person",
        });
    }
    let columns = scores.item_columns();
    let squares = sum(columns.iter().map(|column| {
        let away = sum(column.iter().copied()) - all / k;
        away * away
    }));
    let q = k * (k - 1.0) * squares / informative;
    Ok(CochranQ {
        q,
        degrees_of_freedom: scores.items() - 1,
        p_value: PValue {
            probability: chi_square::upper_tail(q, k - 1.0),
            side: Side::Upper,
        },
        n: scores.persons(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn with_two_columns_it_is_mcnemars_test() {
        // 5 changed one way, 2 the other: (5 − 2)²/(5 + 2).
        let mut rows = vec![[1.0, 0.0]; 5];
        rows.extend([[0.0, 1.0]; 2]);
        rows.extend([[1.0, 1.0]; 9]);
        let made = cochran_q(&ScoreTable::new(&rows).unwrap()).unwrap();
        assert!((made.q - 9.0 / 7.0).abs() < 1e-14);
        assert!(cochran_q(&ScoreTable::new(&[[1.0, 1.0]]).unwrap()).is_err());
    }
}
