//! Do assessors put the samples into the same order?
//!
//! Source: Kendall & Babington Smith 1939, corrected for ties: W = 12 S/(m²(n³−n) − m T), S the sum of
//! squared deviations of the rank sums, T = Σ (t³−t) over ties of each assessor; χ² = m(n−1)W with
//! n−1 degrees of freedom. Ties: mid-ranks. Invalid: the p-value for fewer than 8 samples is rough
//! (common practice, no source). No interval is in use; resample. Missing: rows with a gap are
//! dropped and counted.

use crate::agreement::rating_table::RatingTable;
use crate::distribution::chi_square;
use crate::p_value::{PValue, Side};
use crate::ranks::mid_ranks;
use crate::refusal::{Refusal, at_least};
use crate::sums::{squares_about_mean, sum};

/// Kendall's coefficient of concordance.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct KendallW {
    /// 0 for no common order, 1 for the same order by everybody.
    pub w: f64,
    /// Test statistic against no common order.
    pub chi_square: f64,
    /// Its degrees of freedom.
    pub degrees_of_freedom: usize,
    /// Its p-value.
    pub p_value: PValue,
    /// Samples that everybody rated.
    pub samples: usize,
    /// Samples dropped for a gap.
    pub dropped: usize,
    /// Number of assessors.
    pub assessors: usize,
}

/// Kendall's W of ratings (samples in rows, assessors in columns).
///
/// # Errors
/// `Refusal::TooFew` below two complete samples or two assessors; `Refusal::NoVariance` when every
/// assessor rated all samples alike.
pub fn kendall_w(ratings: &RatingTable) -> Result<KendallW, Refusal> {
    at_least(2, ratings.raters(), "assessors", "agreement needs two")?;
    let scores = ratings.complete_rows()?;
    let samples = scores.persons();
    at_least(2, samples, "samples", "an order needs two")?;
    let mut rank_sums = vec![0.0; samples];
    let mut ties = Vec::new();
    for column in scores.item_columns() {
        for (total, place) in rank_sums.iter_mut().zip(mid_ranks(&column)) {
            *total += place.rank;
            // Each of t tied samples brings t² − 1, together t³ − t.
            ties.push(place.tied * place.tied - 1.0);
        }
    }
    let (m, n) = (ratings.raters() as f64, samples as f64);
    let most = m * m * (n * n * n - n) - m * sum(ties);
    if most <= 0.0 {
        return Err(Refusal::NoVariance { of: "ratings" });
    }
    let w = 12.0 * squares_about_mean(&rank_sums)? / most;
    let chi_square = m * (n - 1.0) * w;
    Ok(KendallW {
        w,
        chi_square,
        degrees_of_freedom: samples - 1,
        p_value: PValue {
            probability: chi_square::upper_tail(chi_square, n - 1.0),
            side: Side::Upper,
        },
        samples,
        dropped: ratings.subjects() - samples,
        assessors: ratings.raters(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn table(rows: &[&[f64]]) -> RatingTable {
        let rows = rows
            .iter()
            .map(|row| row.iter().map(|v| Some(*v)).collect::<Vec<_>>());
        RatingTable::new(rows).unwrap()
    }

    #[test]
    fn the_same_order_is_one_and_opposite_orders_are_nothing() {
        let same = table(&[&[1.0, 10.0], &[2.0, 11.0], &[2.0, 11.0], &[4.0, 20.0]]);
        assert!((kendall_w(&same).unwrap().w - 1.0).abs() < 1e-15);
        let opposite = table(&[&[1.0, 3.0], &[2.0, 2.0], &[3.0, 1.0]]);
        assert_eq!(kendall_w(&opposite).unwrap().w, 0.0);
        let flat = table(&[&[1.0, 3.0], &[1.0, 3.0]]);
        assert!(kendall_w(&flat).is_err());
    }
}
