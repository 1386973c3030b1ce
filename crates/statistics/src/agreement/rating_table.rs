//! Ratings by several raters, with gaps: subjects in rows, raters in columns.

use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;

/// Subjects by raters; a missing rating is `None`.
#[derive(Debug, Clone, PartialEq)]
pub struct RatingTable {
    raters: usize,
    rows: Vec<Vec<Option<f64>>>,
}

impl RatingTable {
    /// Takes rows of equal length.
    ///
    /// # Errors
    /// `Refusal::TooFew` for an empty table, `Refusal::UnevenRows`, `Refusal::NotANumber`.
    pub fn new(rows: Vec<Vec<Option<f64>>>) -> Result<Self, Refusal> {
        let raters = rows.first().map_or(0, Vec::len);
        at_least(1, raters, "raters", "a table of ratings needs one")?;
        for (row, ratings) in rows.iter().enumerate() {
            if ratings.len() != raters {
                return Err(Refusal::UnevenRows {
                    row,
                    have: ratings.len(),
                    expected: raters,
                });
            }
            let bad = |rating: &Option<f64>| rating.is_some_and(|value| !value.is_finite());
            if let Some(column) = ratings.iter().position(bad) {
                return Err(Refusal::NotANumber { row, column });
            }
        }
        Ok(Self { raters, rows })
    }

    /// Number of raters.
    #[must_use]
    pub fn raters(&self) -> usize {
        self.raters
    }

    /// Number of subjects, those without ratings counted in.
    #[must_use]
    pub fn subjects(&self) -> usize {
        self.rows.len()
    }

    /// The rows in order.
    #[must_use]
    pub fn rows(&self) -> &[Vec<Option<f64>>] {
        &self.rows
    }

    /// The different values that occur, rising.
    #[must_use]
    pub fn values(&self) -> Vec<f64> {
        let mut values: Vec<f64> = self.rows.iter().flatten().flatten().copied().collect();
        values.sort_by(f64::total_cmp);
        values.dedup();
        values
    }

    /// How often each of `values` occurs in each row.
    #[must_use]
    pub fn counts(&self, values: &[f64]) -> Vec<Vec<f64>> {
        self.rows
            .iter()
            .map(|row| {
                values
                    .iter()
                    .map(|value| row.iter().flatten().filter(|r| *r == value).count() as f64)
                    .collect()
            })
            .collect()
    }

    /// The rows without a gap, as scores.
    ///
    /// # Errors
    /// `Refusal::TooFew` when every row has a gap.
    pub fn complete_rows(&self) -> Result<ScoreTable, Refusal> {
        let mut cells = Vec::with_capacity(self.rows.len() * self.raters);
        for row in self
            .rows
            .iter()
            .filter(|row| row.iter().all(Option::is_some))
        {
            cells.extend(row.iter().flatten());
        }
        at_least(
            1,
            cells.len() / self.raters,
            "subjects rated by everybody",
            "rows with gaps are dropped",
        )?;
        Ok(ScoreTable::of_checked(self.raters, cells))
    }
}

/// Refuses a table with gaps, for the estimators that do not allow them.
pub(crate) fn without_gaps(ratings: &RatingTable, of: &'static str) -> Result<(), Refusal> {
    if ratings.rows().iter().flatten().all(Option::is_some) {
        Ok(())
    } else {
        Err(Refusal::NotDefined {
            of,
            because: "some ratings are missing (krippendorff_alpha and gwet_coefficient allow that)",
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn gaps_are_kept_apart_from_values() {
        let table =
            RatingTable::new(vec![vec![Some(2.0), None], vec![Some(1.0), Some(2.0)]]).unwrap();
        assert_eq!(table.values(), [1.0, 2.0]);
        assert_eq!(table.counts(&table.values()), [[0.0, 1.0], [1.0, 1.0]]);
        assert_eq!(table.complete_rows().unwrap().persons(), 1);
        assert!(without_gaps(&table, "x").is_err());
        assert!(RatingTable::new(vec![vec![Some(f64::NAN)]]).is_err());
        assert!(RatingTable::new(vec![]).is_err());
    }
}
