//! Answers in whole categories from 0: candidates in rows, questions in columns, gaps allowed.

use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use std::collections::BTreeMap;

/// The highest category that is taken.
const HIGHEST: u8 = 50;

/// Candidates by questions; an empty cell was not put to the candidate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ResponseTable {
    items: usize,
    cells: Vec<Option<u8>>,
}

impl ResponseTable {
    /// Takes rows of equal length.
    ///
    /// # Errors
    /// `Refusal::TooFew` for an empty table, `Refusal::UnevenRows`, `Refusal::OutOfRange` for a
    /// category above 50.
    pub fn new<Row: AsRef<[Option<u8>]>>(rows: &[Row]) -> Result<Self, Refusal> {
        let items = rows.first().map_or(0, |row| row.as_ref().len());
        at_least(1, items, "columns of answers", "a table needs one")?;
        let mut cells = Vec::with_capacity(items * rows.len());
        for (row, answers) in rows.iter().enumerate() {
            let answers = answers.as_ref();
            if answers.len() != items {
                return Err(Refusal::UnevenRows {
                    row,
                    have: answers.len(),
                    expected: items,
                });
            }
            if let Some(high) = answers.iter().flatten().find(|answer| **answer > HIGHEST) {
                return Err(Refusal::OutOfRange {
                    of: "category",
                    value: f64::from(*high),
                    allowed: "whole numbers from 0 to 50",
                });
            }
            cells.extend_from_slice(answers);
        }
        Ok(Self { items, cells })
    }

    /// Takes whole scores as categories.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` for a score that is no whole number from 0 to 50.
    pub fn from_scores(scores: &ScoreTable) -> Result<Self, Refusal> {
        let mut cells = Vec::with_capacity(scores.items() * scores.persons());
        for value in scores.rows().flatten() {
            let category = (0..=HIGHEST).find(|category| f64::from(*category) == *value);
            cells.push(Some(category.ok_or(Refusal::OutOfRange {
                of: "score",
                value: *value,
                allowed: "whole numbers from 0 to 50",
            })?));
        }
        Ok(Self {
            items: scores.items(),
            cells,
        })
    }

    /// Number of candidates.
    #[must_use]
    pub fn persons(&self) -> usize {
        self.cells.len() / self.items
    }

    /// Number of questions.
    #[must_use]
    pub fn items(&self) -> usize {
        self.items
    }

    /// The rows in order.
    pub fn rows(&self) -> impl ExactSizeIterator<Item = &[Option<u8>]> {
        self.cells.chunks_exact(self.items)
    }

    /// The distinct rows in rising order, each with the number of its candidates.
    pub(crate) fn patterns(&self) -> BTreeMap<&[Option<u8>], usize> {
        let mut patterns = BTreeMap::new();
        for row in self.rows() {
            *patterns.entry(row).or_insert(0) += 1;
        }
        patterns
    }

    /// How often each category of each question was given.
    ///
    /// # Errors
    /// `Refusal::ConstantColumn` where one category holds all answers; `Refusal::NotDefined` where a
    /// category below the highest was never given: its threshold has no finite estimate.
    pub(crate) fn category_counts(&self) -> Result<Vec<Vec<f64>>, Refusal> {
        let mut counts = vec![Vec::new(); self.items];
        for row in self.rows() {
            for (answer, counts) in row.iter().zip(&mut counts) {
                if let Some(category) = answer.map(usize::from) {
                    if counts.len() <= category {
                        counts.resize(category + 1, 0.0);
                    }
                    counts[category] += 1.0;
                }
            }
        }
        for (column, counts) in counts.iter().enumerate() {
            if counts.iter().filter(|count| **count > 0.0).count() < 2 {
                return Err(Refusal::ConstantColumn { column });
            }
            if counts.contains(&0.0) {
                return Err(Refusal::NotDefined {
                    of: "a threshold",
                    because: "a category below the highest was never given: number the categories \
                              from 0 without gaps, or join two of them",
                });
            }
        }
        Ok(counts)
    }

    /// The rows as plain categories, for methods that need every answer.
    ///
    /// # Errors
    /// `Refusal::NotANumber` at the first gap.
    pub(crate) fn complete_rows(&self) -> Result<Vec<Vec<usize>>, Refusal> {
        let mut complete = Vec::with_capacity(self.persons());
        for (row, answers) in self.rows().enumerate() {
            let mut whole = Vec::with_capacity(self.items);
            for (column, answer) in answers.iter().enumerate() {
                whole.push(
                    answer
                        .map(usize::from)
                        .ok_or(Refusal::NotANumber { row, column })?,
                );
            }
            complete.push(whole);
        }
        Ok(complete)
    }

    /// Refuses categories above 1.
    pub(crate) fn right_or_wrong_only(&self, of: &'static str) -> Result<(), Refusal> {
        if self.cells.iter().flatten().any(|category| *category > 1) {
            return Err(Refusal::NotDefined {
                of,
                because: "it is for questions marked 0 or 1, and some marks lie elsewhere",
            });
        }
        Ok(())
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn only_whole_categories_come_in() {
        let half = ScoreTable::new(&[[0.5]]).unwrap();
        assert!(matches!(
            ResponseTable::from_scores(&half),
            Err(Refusal::OutOfRange { .. })
        ));
        assert!(ResponseTable::new(&[vec![Some(51)]]).is_err());
        assert!(ResponseTable::new(&[vec![Some(1), None], vec![Some(0)]]).is_err());
    }

    #[test]
    fn constant_questions_and_unused_categories_are_named() {
        let constant = ResponseTable::new(&[[Some(1), Some(0)], [Some(0), Some(0)]]).unwrap();
        assert_eq!(
            constant.category_counts(),
            Err(Refusal::ConstantColumn { column: 1 })
        );
        let gap = ResponseTable::new(&[[Some(0)], [Some(2)]]).unwrap();
        assert!(matches!(
            gap.category_counts(),
            Err(Refusal::NotDefined { .. })
        ));
        let missing = ResponseTable::new(&[[Some(1), None]]).unwrap();
        assert_eq!(
            missing.complete_rows(),
            Err(Refusal::NotANumber { row: 0, column: 1 })
        );
    }
}
