//! A full table of marks with three ways, and its seven sums of squares.
//!
//! Source of the sums: Brennan 2001, ch. 3 (three-way analysis of variance, one observation a
//! cell), each computed from its own deviations and never as a difference of large sums.
//! Invalid: gaps (refused). Ties: none.

use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// Marks of persons (first way) under two kinds of condition (second and third way).
#[derive(Debug, Clone, PartialEq)]
pub struct CrossedScores {
    pub(crate) sizes: [usize; 3],
    cells: Vec<f64>,
}

/// A sum of squares with its degrees of freedom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Squares {
    pub(crate) sum: f64,
    pub(crate) degrees: f64,
}

impl Squares {
    pub(crate) fn mean(self) -> f64 {
        self.sum / self.degrees
    }

    /// Both together, as for a nested way.
    pub(crate) fn with(self, other: Self) -> Self {
        Self {
            sum: self.sum + other.sum,
            degrees: self.degrees + other.degrees,
        }
    }
}

/// The seven sums of squares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SevenSquares {
    pub(crate) first: Squares,
    pub(crate) second: Squares,
    pub(crate) third: Squares,
    pub(crate) first_second: Squares,
    pub(crate) first_third: Squares,
    pub(crate) second_third: Squares,
    pub(crate) all: Squares,
}

impl CrossedScores {
    /// Takes marks in the order person, second way, third way; the last runs fastest.
    ///
    /// # Errors
    /// `Refusal::TooFew` below two of any way; `Refusal::UnequalLengths` when the cells do not
    /// fill the table; `Refusal::NotANumber`; `Refusal::NoVariance` when all marks are equal.
    pub fn new(
        persons: usize,
        second: usize,
        third: usize,
        cells: Vec<f64>,
    ) -> Result<Self, Refusal> {
        at_least(2, persons, "candidates", "a variance of persons needs two")?;
        at_least(2, second, "conditions", "a variance of them needs two")?;
        at_least(2, third, "conditions", "a variance of them needs two")?;
        let expected = persons.saturating_mul(second).saturating_mul(third);
        if cells.len() != expected {
            return Err(Refusal::UnequalLengths {
                of: "marks in the table",
                have: cells.len(),
                expected,
            });
        }
        if let Some(place) = cells.iter().position(|value| !value.is_finite()) {
            let row = second * third;
            return Err(Refusal::NotANumber {
                row: place / row,
                column: place % row,
            });
        }
        if crate::sums::is_constant(&cells) {
            return Err(Refusal::NoVariance { of: "marks" });
        }
        Ok(Self {
            sizes: [persons, second, third],
            cells,
        })
    }

    /// Mean of all marks.
    #[must_use]
    pub fn mean(&self) -> f64 {
        sum(self.cells.iter().copied()) / self.cells.len() as f64
    }

    fn value(&self, place: [usize; 3]) -> f64 {
        let [_, second, third] = self.sizes;
        let [p, i, j] = place;
        self.cells
            .get((p * second + i) * third + j)
            .copied()
            .unwrap_or(0.0)
    }

    /// Means over every way that is not kept, one for each cell in the order of the cells.
    fn means(&self, kept: [bool; 3]) -> Vec<f64> {
        let [persons, second, third] = self.sizes;
        let range = |way: usize, at: usize| -> std::ops::Range<usize> {
            let keep = kept.get(way).copied().unwrap_or(false);
            let size = self.sizes.get(way).copied().unwrap_or(0);
            if keep { at..at + 1 } else { 0..size }
        };
        let average = |p: usize, i: usize, j: usize| {
            let mut values = Vec::new();
            for person in range(0, p) {
                for one in range(1, i) {
                    for other in range(2, j) {
                        values.push(self.value([person, one, other]));
                    }
                }
            }
            sum(values.iter().copied()) / values.len() as f64
        };
        // A mean is worked out where its free ways stand at 0, and looked up elsewhere.
        let mut made: Vec<f64> = Vec::with_capacity(self.cells.len());
        for p in 0..persons {
            for i in 0..second {
                for j in 0..third {
                    let [keep_p, keep_i, keep_j] = kept;
                    let first = [
                        if keep_p { p } else { 0 },
                        if keep_i { i } else { 0 },
                        if keep_j { j } else { 0 },
                    ];
                    let value = if first == [p, i, j] {
                        average(p, i, j)
                    } else {
                        let [a, b, c] = first;
                        made.get((a * second + b) * third + c)
                            .copied()
                            .unwrap_or(0.0)
                    };
                    made.push(value);
                }
            }
        }
        made
    }

    pub(crate) fn squares(&self) -> SevenSquares {
        let middle = self.mean();
        let first = self.means([true, false, false]);
        let second = self.means([false, true, false]);
        let third = self.means([false, false, true]);
        let first_second = self.means([true, true, false]);
        let first_third = self.means([true, false, true]);
        let second_third = self.means([false, true, true]);
        let [np, ni, nj] = self.sizes.map(|size| size as f64 - 1.0);
        let one = |means: &[f64], degrees: f64| Squares {
            sum: sum(means.iter().map(|m| (m - middle) * (m - middle))),
            degrees,
        };
        let two = |pair: &[f64], a: &[f64], b: &[f64], degrees: f64| Squares {
            sum: sum(pair.iter().zip(a).zip(b).map(|((pair, a), b)| {
                let rest = pair - a - b + middle;
                rest * rest
            })),
            degrees,
        };
        let rests = self
            .cells
            .iter()
            .zip(&first)
            .zip(&second)
            .zip(&third)
            .zip(&first_second)
            .zip(&first_third)
            .zip(&second_third)
            .map(|((((((x, a), b), c), ab), ac), bc)| {
                let rest = x - ab - ac - bc + a + b + c - middle;
                rest * rest
            });
        SevenSquares {
            all: Squares {
                sum: sum(rests),
                degrees: np * ni * nj,
            },
            first: one(&first, np),
            second: one(&second, ni),
            third: one(&third, nj),
            first_second: two(&first_second, &first, &second, np * ni),
            first_third: two(&first_third, &first, &third, np * nj),
            second_third: two(&second_third, &second, &third, ni * nj),
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_seven_sums_add_up_to_the_whole() {
        let cells: Vec<f64> = [3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8, 9, 7, 9, 3, 2, 3]
            .map(f64::from)
            .to_vec();
        let table = CrossedScores::new(3, 3, 2, cells.clone()).unwrap();
        let made = table.squares();
        let whole = crate::sums::squares_about_mean(&cells).unwrap();
        let parts = [
            made.first,
            made.second,
            made.third,
            made.first_second,
            made.first_third,
            made.second_third,
            made.all,
        ];
        assert!((parts.iter().map(|part| part.sum).sum::<f64>() - whole).abs() < 1e-12);
        assert_eq!(parts.iter().map(|part| part.degrees).sum::<f64>(), 17.0);
    }

    #[test]
    fn gaps_and_equal_marks_are_refused() {
        assert!(CrossedScores::new(2, 2, 2, vec![1.0; 7]).is_err());
        assert!(matches!(
            CrossedScores::new(2, 2, 2, vec![1.0; 8]),
            Err(Refusal::NoVariance { .. })
        ));
        let mut cells = vec![1.0; 8];
        cells[5] = f64::NAN;
        assert_eq!(
            CrossedScores::new(2, 2, 2, cells),
            Err(Refusal::NotANumber { row: 1, column: 1 })
        );
    }
}
