//! Two raters' categories counted against each other: a square table of counts.

use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// Counts: first rater's category in rows, second's in columns.
#[derive(Debug, Clone, PartialEq)]
pub struct CategoryTable {
    shares: Vec<Vec<f64>>,
    n: f64,
}

impl CategoryTable {
    /// Takes a square table of counts.
    ///
    /// # Errors
    /// `Refusal::TooFew` below two categories or without any count, `Refusal::UnevenRows`,
    /// `Refusal::OutOfRange` for a negative or unfinished count.
    pub fn new(counts: &[Vec<f64>]) -> Result<Self, Refusal> {
        at_least(2, counts.len(), "categories", "agreement needs a choice")?;
        for (row, line) in counts.iter().enumerate() {
            if line.len() != counts.len() {
                return Err(Refusal::UnevenRows {
                    row,
                    have: line.len(),
                    expected: counts.len(),
                });
            }
            if let Some(count) = line.iter().find(|c| !(**c >= 0.0 && c.is_finite())) {
                return Err(Refusal::OutOfRange {
                    of: "count",
                    value: *count,
                    allowed: "0 or more",
                });
            }
        }
        let n = sum(counts.iter().flatten().copied());
        if n <= 0.0 {
            return Err(Refusal::TooFew {
                of: "subjects",
                have: 0,
                need: 1,
                reason: "the table is empty",
            });
        }
        let shares = counts
            .iter()
            .map(|line| line.iter().map(|count| count / n).collect())
            .collect();
        Ok(Self { shares, n })
    }

    /// Counts two lists of category places against each other.
    ///
    /// # Errors
    /// `Refusal::UnequalLengths`, `Refusal::OutOfRange` for a place beyond `categories`.
    pub fn of_ratings(
        first: &[usize],
        second: &[usize],
        categories: usize,
    ) -> Result<Self, Refusal> {
        if first.len() != second.len() {
            return Err(Refusal::UnequalLengths {
                of: "ratings of the two raters",
                have: second.len(),
                expected: first.len(),
            });
        }
        let mut counts = vec![vec![0.0; categories]; categories];
        for (row, column) in first.iter().zip(second) {
            match counts.get_mut(*row).and_then(|line| line.get_mut(*column)) {
                Some(count) => *count += 1.0,
                None => {
                    return Err(Refusal::OutOfRange {
                        of: "place of a category",
                        value: *row.max(column) as f64,
                        allowed: "below the number of categories",
                    });
                }
            }
        }
        Self::new(&counts)
    }

    /// Number of categories.
    #[must_use]
    pub fn categories(&self) -> usize {
        self.shares.len()
    }

    /// Number of subjects.
    #[must_use]
    pub fn n(&self) -> f64 {
        self.n
    }

    /// Share of the subjects in each row.
    #[must_use]
    pub fn row_shares(&self) -> Vec<f64> {
        self.shares
            .iter()
            .map(|line| sum(line.iter().copied()))
            .collect()
    }

    /// Share of the subjects in each column.
    #[must_use]
    pub fn column_shares(&self) -> Vec<f64> {
        (0..self.categories())
            .map(|column| {
                sum(self
                    .shares
                    .iter()
                    .filter_map(|line| line.get(column).copied()))
            })
            .collect()
    }

    /// Every cell as row, column and share, row by row.
    pub fn cells(&self) -> impl Iterator<Item = Cell> {
        self.shares.iter().enumerate().flat_map(|(row, line)| {
            line.iter().enumerate().map(move |(column, share)| Cell {
                row,
                column,
                share: *share,
            })
        })
    }
}

/// One cell of the table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// First rater's category.
    pub row: usize,
    /// Second rater's category.
    pub column: usize,
    /// Share of all subjects.
    pub share: f64,
}

/// How near two categories are.
#[derive(Debug, Clone, PartialEq)]
pub enum Weighting {
    /// The same or not.
    Unweighted,
    /// 1 − |i−j|/(k−1), categories in order.
    Linear,
    /// 1 − (i−j)²/(k−1)², categories in order.
    Quadratic,
    /// A square table of agreements, 1 for full agreement.
    Agreements(Vec<Vec<f64>>),
    /// A square table of disagreements, 0 for full agreement.
    Disagreements(Vec<Vec<f64>>),
}

impl Weighting {
    /// The agreement weights of `categories` categories.
    ///
    /// # Errors
    /// `Refusal::UnevenRows` or `Refusal::OutOfRange` for a given table that does not fit.
    pub fn table(&self, categories: usize) -> Result<Vec<Vec<f64>>, Refusal> {
        let span = categories.saturating_sub(1).max(1) as f64;
        let from_distance = |weight: &dyn Fn(f64) -> f64| -> Vec<Vec<f64>> {
            (0..categories)
                .map(|row| {
                    (0..categories)
                        .map(|column| weight(row.abs_diff(column) as f64 / span))
                        .collect()
                })
                .collect()
        };
        match self {
            Self::Unweighted => Ok(from_distance(&|far| if far == 0.0 { 1.0 } else { 0.0 })),
            Self::Linear => Ok(from_distance(&|far| 1.0 - far)),
            Self::Quadratic => Ok(from_distance(&|far| 1.0 - far * far)),
            Self::Agreements(given) => {
                square(given, categories)?;
                Ok(given.clone())
            }
            Self::Disagreements(given) => {
                square(given, categories)?;
                let most = given.iter().flatten().copied().fold(0.0, f64::max);
                if most <= 0.0 {
                    return Err(Refusal::OutOfRange {
                        of: "largest disagreement weight",
                        value: most,
                        allowed: "above 0",
                    });
                }
                Ok(given
                    .iter()
                    .map(|line| line.iter().map(|far| 1.0 - far / most).collect())
                    .collect())
            }
        }
    }
}

fn square(weights: &[Vec<f64>], categories: usize) -> Result<(), Refusal> {
    if weights.len() != categories {
        return Err(Refusal::UnequalLengths {
            of: "rows of weights",
            have: weights.len(),
            expected: categories,
        });
    }
    for (row, line) in weights.iter().enumerate() {
        if line.len() != categories {
            return Err(Refusal::UnevenRows {
                row,
                have: line.len(),
                expected: categories,
            });
        }
        if let Some(column) = line.iter().position(|weight| !weight.is_finite()) {
            return Err(Refusal::NotANumber { row, column });
        }
    }
    Ok(())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn ratings_are_counted_and_checked() {
        let made = CategoryTable::of_ratings(&[0, 1, 1], &[0, 1, 0], 2).unwrap();
        let thirds = [1.0 / 3.0, 2.0 / 3.0];
        assert!(
            made.row_shares()
                .iter()
                .zip(thirds)
                .all(|(a, b)| (a - b).abs() < 1e-15)
        );
        assert!(CategoryTable::of_ratings(&[0, 2], &[0, 1], 2).is_err());
        assert!(CategoryTable::new(&[vec![1.0, 2.0], vec![1.0]]).is_err());
        assert!(CategoryTable::new(&[vec![0.0, 0.0], vec![0.0, 0.0]]).is_err());
    }

    #[test]
    fn weights_by_distance() {
        assert_eq!(Weighting::Linear.table(3).unwrap()[0], [1.0, 0.5, 0.0]);
        assert_eq!(Weighting::Quadratic.table(3).unwrap()[0], [1.0, 0.75, 0.0]);
        assert!(Weighting::Agreements(vec![vec![1.0]]).table(2).is_err());
    }
}
