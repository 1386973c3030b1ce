//! Ratings by several raters, with gaps: subjects in rows, raters in columns.

use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;

/// Subjects by raters, in eight bytes each: a rating is a finite number, a missing one is kept as none.
#[derive(Debug, Clone)]
pub struct RatingTable {
    raters: usize,
    cells: Vec<f64>,
}

/// A rating as a cell; what is no number stands for a missing one.
const MISSING: f64 = f64::NAN;

fn rating(cell: f64) -> Option<f64> {
    (!cell.is_nan()).then_some(cell)
}

impl RatingTable {
    /// Takes rows of equal length; a missing rating is `None`.
    ///
    /// # Errors
    /// `Refusal::TooFew` for an empty table, `Refusal::UnevenRows`, `Refusal::NotANumber`.
    pub fn new<Row: AsRef<[Option<f64>]>>(
        rows: impl IntoIterator<Item = Row>,
    ) -> Result<Self, Refusal> {
        let rows = rows.into_iter();
        let expected = rows.size_hint().0;
        let mut raters = 0;
        let mut cells = Vec::new();
        for (row, ratings) in rows.enumerate() {
            let ratings = ratings.as_ref();
            if row == 0 {
                raters = ratings.len();
                cells.reserve(expected * raters);
            }
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
            cells.extend(ratings.iter().map(|rating| rating.unwrap_or(MISSING)));
        }
        at_least(1, raters, "raters", "a table of ratings needs one")?;
        Ok(Self { raters, cells })
    }

    /// Number of raters.
    #[must_use]
    pub fn raters(&self) -> usize {
        self.raters
    }

    /// Number of subjects, those without ratings counted in.
    #[must_use]
    pub fn subjects(&self) -> usize {
        self.cells.len() / self.raters
    }

    /// The ratings of each subject in order.
    pub fn rows(&self) -> impl ExactSizeIterator<Item = impl Iterator<Item = Option<f64>> + '_> {
        self.cells
            .chunks_exact(self.raters)
            .map(|row| row.iter().map(|cell| rating(*cell)))
    }

    /// What one rater said of each subject in order; of a rater who is not there, nothing.
    pub fn ratings_of(&self, rater: usize) -> impl Iterator<Item = Option<f64>> + '_ {
        self.cells
            .chunks_exact(self.raters)
            .map(move |row| row.get(rater).and_then(|cell| rating(*cell)))
    }

    /// Whether every rater rated every subject.
    #[must_use]
    pub fn is_complete(&self) -> bool {
        !self.cells.iter().any(|cell| cell.is_nan())
    }

    /// The different values that occur, rising.
    #[must_use]
    pub fn values(&self) -> Vec<f64> {
        let mut values: Vec<f64> = Vec::new();
        for value in self.rows().flatten().flatten() {
            let place = values.partition_point(|known| *known < value);
            if values.get(place) != Some(&value) {
                values.insert(place, value);
            }
        }
        values
    }

    /// How often each of `values` occurs in each row.
    #[must_use]
    pub fn counts(&self, values: &[f64]) -> Vec<Vec<f64>> {
        self.cells
            .chunks_exact(self.raters)
            .map(|row| {
                values
                    .iter()
                    .map(|value| row.iter().filter(|cell| *cell == value).count() as f64)
                    .collect()
            })
            .collect()
    }

    /// The rows without a gap, as scores.
    ///
    /// # Errors
    /// `Refusal::TooFew` when every row has a gap.
    pub fn complete_rows(&self) -> Result<ScoreTable, Refusal> {
        let cells = if self.is_complete() {
            self.cells.clone()
        } else {
            self.cells
                .chunks_exact(self.raters)
                .filter(|row| !row.iter().any(|cell| cell.is_nan()))
                .flatten()
                .copied()
                .collect()
        };
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
    if ratings.is_complete() {
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
        assert!(RatingTable::new(Vec::<Vec<Option<f64>>>::new()).is_err());
    }
}
