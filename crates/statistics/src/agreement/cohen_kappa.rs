//! Do two markers put candidates into the same category more often than chance would?
//!
//! Sources: Cohen 1960: κ = (pₒ − pₑ)/(1 − pₑ); weighted, Cohen 1968; large-sample standard error
//! (not under the null), Fleiss, Cohen & Everitt 1969, eq. 9 and 14. Invalid: more than two raters
//! ([`super::fleiss_kappa`]); one rater uses a single category (then pₑ can reach 1: refused); very
//! unequal categories make κ small although agreement is high (see [`super::gwet_coefficient`]);
//! the standard error at small n. Missing: subjects rated by one only are left out before.

use crate::agreement::category_table::{CategoryTable, Weighting};
use crate::distribution::normal;
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::refusal::Refusal;
use crate::sums::sum;

/// Cohen's kappa.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct CohenKappa {
    /// The coefficient.
    pub kappa: f64,
    /// Agreement seen, weighted.
    pub observed: f64,
    /// Agreement expected by chance, weighted.
    pub by_chance: f64,
    /// Large-sample standard error.
    pub standard_error: f64,
    /// Interval by the normal distribution.
    pub interval: Interval,
    /// Number of subjects.
    pub n: f64,
}

/// Cohen's kappa of a table of counts.
///
/// # Errors
/// `Refusal::NotDefined` when chance alone would agree fully; weights that do not fit.
pub fn cohen_kappa(
    table: &CategoryTable,
    weighting: &Weighting,
    confidence: Confidence,
) -> Result<CohenKappa, Refusal> {
    let weights = weighting.table(table.categories())?;
    let (rows, columns) = (table.row_shares(), table.column_shares());
    let weight = |row: usize, column: usize| -> f64 {
        weights
            .get(row)
            .and_then(|line| line.get(column))
            .copied()
            .unwrap_or(0.0)
    };
    let share = |shares: &[f64], place: usize| shares.get(place).copied().unwrap_or(0.0);
    let observed = sum(table.cells().map(|c| c.share * weight(c.row, c.column)));
    let by_chance = sum(table
        .cells()
        .map(|c| share(&rows, c.row) * share(&columns, c.column) * weight(c.row, c.column)));
    if 1.0 - by_chance < 1e-12 {
        return Err(Refusal::NotDefined {
            of: "kappa",
            because: "both raters used one category only",
        });
    }
    let kappa = (observed - by_chance) / (1.0 - by_chance);
    // Mean weight of each row against the column shares, and of each column against the row shares.
    let row_means: Vec<f64> = (0..rows.len())
        .map(|row| sum((0..columns.len()).map(|c| share(&columns, c) * weight(row, c))))
        .collect();
    let column_means: Vec<f64> = (0..columns.len())
        .map(|column| sum((0..rows.len()).map(|r| share(&rows, r) * weight(r, column))))
        .collect();
    // Fleiss, Cohen & Everitt 1969, eq. 9 (eq. 14 is its case of unweighted agreement).
    let squares = sum(table.cells().map(|c| {
        let part = weight(c.row, c.column)
            - (share(&row_means, c.row) + share(&column_means, c.column)) * (1.0 - kappa);
        c.share * part * part
    }));
    let middle = kappa - by_chance * (1.0 - kappa);
    let variance =
        (squares - middle * middle) / (table.n() * (1.0 - by_chance) * (1.0 - by_chance));
    let standard_error = variance.max(0.0).sqrt();
    let reach = normal::quantile_of_upper_tail(confidence.each_tail()) * standard_error;
    Ok(CohenKappa {
        kappa,
        observed,
        by_chance,
        standard_error,
        interval: Interval {
            lower: kappa - reach,
            upper: kappa + reach,
            confidence,
            method: IntervalMethod::Normal,
        },
        n: table.n(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn full_agreement_is_one_and_independence_nothing() {
        let full = CategoryTable::new(&[vec![4.0, 0.0], vec![0.0, 6.0]]).unwrap();
        let made = cohen_kappa(&full, &Weighting::Unweighted, Confidence::P95).unwrap();
        assert!((made.kappa - 1.0).abs() < 1e-15 && made.standard_error < 1e-7);
        let apart = CategoryTable::new(&[vec![4.0, 6.0], vec![6.0, 9.0]]).unwrap();
        let made = cohen_kappa(&apart, &Weighting::Linear, Confidence::P95).unwrap();
        assert!(made.kappa.abs() < 1e-15);
    }

    #[test]
    fn with_two_categories_all_weightings_are_one() {
        let table = CategoryTable::new(&[vec![20.0, 5.0], vec![10.0, 15.0]]).unwrap();
        let kappa = |weighting| {
            cohen_kappa(&table, &weighting, Confidence::P95)
                .unwrap()
                .kappa
        };
        assert!((kappa(Weighting::Unweighted) - 0.4).abs() < 1e-15);
        assert!((kappa(Weighting::Quadratic) - 0.4).abs() < 1e-15);
    }

    #[test]
    fn one_category_only_is_refused() {
        let table = CategoryTable::new(&[vec![9.0, 0.0], vec![0.0, 0.0]]).unwrap();
        assert!(cohen_kappa(&table, &Weighting::Unweighted, Confidence::P95).is_err());
    }
}
