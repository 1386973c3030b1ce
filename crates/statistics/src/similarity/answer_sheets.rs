//! The choices of all candidates beside the key, and who shares which wrong choices.
//!
//! A blank is wrong, and is never the same as another blank: two candidates who left a question out
//! have nothing to compare there.

use crate::refusal::{Refusal, at_least};
use std::collections::BTreeMap;

/// Choices of all candidates; a blank is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnswerSheets {
    choices: Vec<Vec<Option<usize>>>,
    key: Vec<usize>,
}

/// A pair of candidates, by their places among the sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
pub struct Pair {
    /// Whose choices are asked about.
    pub copier: usize,
    /// Whose choices they may follow.
    pub source: usize,
}

/// The candidates with one number of wrong answers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct WrongGroup {
    pub(crate) wrong: usize,
    pub(crate) size: usize,
    /// Mean number of wrong choices shared with the source.
    pub(crate) mean_shared: f64,
}

/// What the indices that look at wrong answers alone are built from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct SharedWrong {
    /// Wrong choices that copier and source share.
    pub(crate) shared: usize,
    /// Wrong answers of the copier.
    pub(crate) copier_wrong: usize,
    /// Wrong answers of the source.
    pub(crate) source_wrong: usize,
}

impl AnswerSheets {
    /// Takes the choices, candidates in rows, and the key.
    ///
    /// # Errors
    /// `Refusal::TooFew` below two candidates or one question; `Refusal::UnevenRows` for a sheet
    /// that is not as long as the key.
    pub fn new(choices: Vec<Vec<Option<usize>>>, key: Vec<usize>) -> Result<Self, Refusal> {
        at_least(2, choices.len(), "candidates", "a pair needs two")?;
        at_least(1, key.len(), "questions", "nothing else can be alike")?;
        match choices.iter().position(|row| row.len() != key.len()) {
            Some(row) => Err(Refusal::UnevenRows {
                row,
                have: choices.get(row).map_or(0, Vec::len),
                expected: key.len(),
            }),
            None => Ok(Self { choices, key }),
        }
    }

    /// Number of questions.
    #[must_use]
    pub fn questions(&self) -> usize {
        self.key.len()
    }

    /// Number of candidates.
    #[must_use]
    pub fn candidates(&self) -> usize {
        self.choices.len()
    }

    /// The key.
    pub(crate) fn key(&self) -> &[usize] {
        &self.key
    }

    /// The choices, candidate by candidate.
    pub(crate) fn rows(&self) -> impl Iterator<Item = &[Option<usize>]> {
        self.choices.iter().map(Vec::as_slice)
    }

    /// The choices of copier and source.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` for a place that does not exist, or for one candidate twice.
    pub(crate) fn pair(&self, pair: Pair) -> Result<[&[Option<usize>]; 2], Refusal> {
        let sheet = |place: usize| {
            self.choices
                .get(place)
                .map(Vec::as_slice)
                .ok_or(Refusal::OutOfRange {
                    of: "place of a candidate",
                    value: place as f64,
                    allowed: "below the number of candidates",
                })
        };
        if pair.copier == pair.source {
            return Err(Refusal::OutOfRange {
                of: "place of the source",
                value: pair.source as f64,
                allowed: "another than the copier's",
            });
        }
        Ok([sheet(pair.copier)?, sheet(pair.source)?])
    }

    /// Wrong answers of a pair and those that they share.
    ///
    /// # Errors
    /// As [`Self::pair`]; `Refusal::NotDefined` when the source has no wrong answer.
    pub(crate) fn shared_wrong(&self, pair: Pair) -> Result<SharedWrong, Refusal> {
        let [copier, source] = self.pair(pair)?;
        let source_wrong = self.wrong(source);
        if source_wrong == 0 {
            return Err(Refusal::NotDefined {
                of: "an index of shared wrong answers",
                because: "the source has no wrong answer",
            });
        }
        Ok(SharedWrong {
            shared: self.shared(copier, source),
            copier_wrong: self.wrong(copier),
            source_wrong,
        })
    }

    /// Groups by number of wrong answers, in rising order; some candidates may be left out.
    pub(crate) fn groups(
        &self,
        source: &[Option<usize>],
        kept: impl Fn(usize) -> bool,
    ) -> Vec<WrongGroup> {
        let mut groups: BTreeMap<usize, (usize, usize)> = BTreeMap::new();
        for (_, sheet) in self.choices.iter().enumerate().filter(|(at, _)| kept(*at)) {
            let (size, shared) = groups.entry(self.wrong(sheet)).or_default();
            *size += 1;
            *shared += self.shared(sheet, source);
        }
        groups
            .into_iter()
            .map(|(wrong, (size, shared))| WrongGroup {
                wrong,
                size,
                mean_shared: shared as f64 / size as f64,
            })
            .collect()
    }

    fn wrong(&self, sheet: &[Option<usize>]) -> usize {
        sheet
            .iter()
            .zip(&self.key)
            .filter(|(choice, key)| **choice != Some(**key))
            .count()
    }

    fn shared(&self, one: &[Option<usize>], other: &[Option<usize>]) -> usize {
        one.iter()
            .zip(other)
            .zip(&self.key)
            .filter(|((one, other), key)| one.is_some() && one == other && **one != Some(**key))
            .count()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
pub(crate) mod tests {
    use super::*;

    /// Twelve candidates on six questions with key 0; made up.
    pub(crate) fn sheets() -> AnswerSheets {
        let rows = [
            [0, 1, 2, 1, 0, 0],
            [0, 1, 2, 1, 0, 2],
            [0, 0, 1, 0, 0, 0],
            [1, 0, 0, 2, 0, 1],
            [0, 0, 0, 0, 0, 1],
            [2, 1, 0, 1, 0, 0],
            [0, 2, 2, 0, 1, 0],
            [0, 0, 0, 0, 2, 2],
            [1, 1, 1, 2, 0, 2],
            [0, 0, 0, 1, 0, 0],
            [0, 0, 2, 0, 0, 0],
            [1, 2, 2, 1, 1, 0],
        ];
        let choices = rows
            .iter()
            .map(|row| row.iter().copied().map(Some).collect());
        AnswerSheets::new(choices.collect(), vec![0; 6]).unwrap()
    }

    #[test]
    fn blanks_are_wrong_and_shared_with_nobody() {
        let made = AnswerSheets::new(
            vec![vec![None, Some(1), Some(0)], vec![None, Some(1), Some(0)]],
            vec![0, 0, 0],
        )
        .unwrap();
        let pair = Pair {
            copier: 0,
            source: 1,
        };
        let shared = made.shared_wrong(pair).unwrap();
        assert_eq!((shared.shared, shared.copier_wrong), (1, 2));
    }

    #[test]
    fn a_source_without_faults_and_a_pair_of_one_are_refused() {
        let made = AnswerSheets::new(vec![vec![Some(0)], vec![Some(1)]], vec![0]).unwrap();
        let pair = |copier, source| Pair { copier, source };
        assert!(matches!(
            made.shared_wrong(pair(1, 0)),
            Err(Refusal::NotDefined { .. })
        ));
        assert!(made.shared_wrong(pair(1, 1)).is_err());
        assert!(made.shared_wrong(pair(0, 7)).is_err());
        assert!(AnswerSheets::new(vec![vec![None], vec![]], vec![0]).is_err());
    }
}
