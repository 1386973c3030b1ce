//! A table of scores without gaps: candidates in rows, questions (or judges) in columns.

use crate::refusal::Refusal;
use crate::sums::sum;

/// Candidates by questions, checked: rectangular, finite, at least one of each.
#[derive(Debug, Clone, PartialEq)]
pub struct ScoreTable {
    columns: usize,
    cells: Vec<f64>,
}

impl ScoreTable {
    /// Takes rows of equal length.
    ///
    /// # Errors
    /// `Refusal::TooFew` for an empty table, `Refusal::UnevenRows`, `Refusal::NotANumber`.
    pub fn new<Row: AsRef<[f64]>>(rows: &[Row]) -> Result<Self, Refusal> {
        let columns = rows.first().map_or(0, |row| row.as_ref().len());
        crate::refusal::at_least(1, columns, "columns of scores", "a table needs one")?;
        let mut cells = Vec::with_capacity(columns * rows.len());
        for (row, values) in rows.iter().enumerate() {
            let values = values.as_ref();
            if values.len() != columns {
                return Err(Refusal::UnevenRows {
                    row,
                    have: values.len(),
                    expected: columns,
                });
            }
            if let Some(column) = values.iter().position(|value| !value.is_finite()) {
                return Err(Refusal::NotANumber { row, column });
            }
            cells.extend_from_slice(values);
        }
        Ok(Self { columns, cells })
    }

    /// Takes cells that another checked table holds: finite, and whole rows of so many columns.
    pub(crate) const fn of_checked(columns: usize, cells: Vec<f64>) -> Self {
        Self { columns, cells }
    }

    /// Number of rows.
    #[must_use]
    pub fn persons(&self) -> usize {
        self.cells.len() / self.columns
    }

    /// Number of columns.
    #[must_use]
    pub fn items(&self) -> usize {
        self.columns
    }

    /// The rows in order.
    pub fn rows(&self) -> impl ExactSizeIterator<Item = &[f64]> {
        self.cells.chunks_exact(self.columns)
    }

    /// One column, from top to bottom; empty when there is no such column.
    #[must_use]
    pub fn column(&self, item: usize) -> Vec<f64> {
        self.rows()
            .filter_map(|row| row.get(item).copied())
            .collect()
    }

    /// All columns in order.
    #[must_use]
    pub fn item_columns(&self) -> Vec<Vec<f64>> {
        (0..self.columns).map(|item| self.column(item)).collect()
    }

    /// The total of each row.
    #[must_use]
    pub fn totals(&self) -> Vec<f64> {
        self.rows().map(|row| sum(row.iter().copied())).collect()
    }

    /// The total of each row without one column.
    #[must_use]
    pub fn totals_without(&self, item: usize) -> Vec<f64> {
        self.rows()
            .map(|row| {
                sum(row
                    .iter()
                    .enumerate()
                    .filter(|(place, _)| *place != item)
                    .map(|(_, value)| *value))
            })
            .collect()
    }

    /// The rows at these places, in this order and as often as named; for resampling.
    /// Places that do not exist are left out.
    #[must_use]
    pub fn rows_at(&self, places: &[usize]) -> Self {
        let cells = places
            .iter()
            .filter_map(|place| {
                self.cells
                    .get(place * self.columns..(place + 1) * self.columns)
            })
            .flatten()
            .copied()
            .collect();
        Self {
            columns: self.columns,
            cells,
        }
    }

    /// Whether every score is 0 or 1.
    #[must_use]
    pub fn is_right_or_wrong(&self) -> bool {
        self.cells.iter().all(|cell| *cell == 0.0 || *cell == 1.0)
    }
}

/// Refuses a table whose scores are not all 0 or 1.
pub(crate) fn right_or_wrong_only(table: &ScoreTable, of: &'static str) -> Result<(), Refusal> {
    if table.is_right_or_wrong() {
        Ok(())
    } else {
        Err(Refusal::NotDefined {
            of,
            because: "it is for questions marked 0 or 1, and some marks lie elsewhere",
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_table_is_rectangular_and_finite() {
        assert!(matches!(
            ScoreTable::new(&[vec![1.0, 0.0], vec![1.0]]),
            Err(Refusal::UnevenRows { row: 1, .. })
        ));
        assert!(matches!(
            ScoreTable::new(&[[1.0, f64::NAN]]),
            Err(Refusal::NotANumber { row: 0, column: 1 })
        ));
        assert!(ScoreTable::new(&Vec::<Vec<f64>>::new()).is_err());
    }

    #[test]
    fn totals_leave_out_what_is_asked() {
        let table = ScoreTable::new(&[[1.0, 2.0, 4.0], [0.0, 1.0, 1.0]]).unwrap();
        assert_eq!(table.totals(), [7.0, 2.0]);
        assert_eq!(table.totals_without(2), [3.0, 1.0]);
        assert_eq!(table.rows_at(&[1, 1]).totals(), [2.0, 2.0]);
    }
}
