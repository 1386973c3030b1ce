//! How much of the spread of marks is persons, how much questions, how much is left?
//!
//! Source: Brennan 2001, ch. 2 (p×i): analysis of variance and expected mean squares,
//! σ²(pi) = MS(pi), σ²(p) = (MS(p) − MS(pi))/nᵢ, σ²(i) = (MS(i) − MS(pi))/nₚ; a negative estimate is
//! left as it is. Invalid: not every person meets every question (see
//! [`super::persons_by_raters_in_tasks`] for one kind of nesting); questions that are no sample of
//! more such questions. Smallest: two persons and two questions; estimates that carry a decision
//! want far more, common practice about 50 persons, no source. Ties: none. Missing: refused.

use crate::generalisability::decision_study::{DecisionStudy, ErrorPart, decision_study};
use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::{mean, squares_about_mean, sum};

/// Components of persons by questions.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct PersonsByItems {
    /// Variance of persons.
    pub person_variance: f64,
    /// Variance of questions.
    pub item_variance: f64,
    /// Variance of persons with questions, and all else.
    pub residual_variance: f64,
    /// Mean of all marks.
    pub mean: f64,
    /// Number of persons.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

/// The components of a full table.
///
/// # Errors
/// `Refusal::TooFew` below two persons or two questions; `Refusal::NoVariance` when all are equal.
pub fn persons_by_items(scores: &ScoreTable) -> Result<PersonsByItems, Refusal> {
    let (persons, items) = (scores.persons(), scores.items());
    at_least(2, persons, "candidates", "a variance of persons needs two")?;
    at_least(2, items, "questions", "a variance of questions needs two")?;
    let (n_persons, n_items) = (persons as f64, items as f64);
    let person_means: Vec<f64> = scores
        .totals()
        .iter()
        .map(|total| total / n_items)
        .collect();
    let mut item_means = Vec::with_capacity(items);
    for column in scores.item_columns() {
        item_means.push(mean(&column)?);
    }
    let middle = mean(&person_means)?;
    let left_over = sum(scores.rows().zip(&person_means).flat_map(|(row, person)| {
        row.iter().zip(&item_means).map(move |(value, item)| {
            let rest = value - person - item + middle;
            rest * rest
        })
    }));
    let for_persons = squares_about_mean(&person_means)? * n_items;
    let for_items = squares_about_mean(&item_means)? * n_persons;
    if for_persons + for_items + left_over <= 0.0 {
        return Err(Refusal::NoVariance { of: "marks" });
    }
    let residual = left_over / ((n_persons - 1.0) * (n_items - 1.0));
    Ok(PersonsByItems {
        person_variance: (for_persons / (n_persons - 1.0) - residual) / n_items,
        item_variance: (for_items / (n_items - 1.0) - residual) / n_persons,
        residual_variance: residual,
        mean: middle,
        persons,
        items,
    })
}

impl PersonsByItems {
    /// What so many questions would yield.
    ///
    /// # Errors
    /// `Refusal::NotDefined` when persons show no variance; `Refusal::OutOfRange` for no question.
    pub fn decision_study(&self, items: usize) -> Result<DecisionStudy, Refusal> {
        let part = |variance, with_persons| ErrorPart {
            variance,
            conditions: items as f64,
            with_persons,
        };
        decision_study(
            self.person_variance,
            &[
                part(self.residual_variance, true),
                part(self.item_variance, false),
            ],
        )
    }

    /// Variance of the mean of all marks over other persons and other questions.
    #[must_use]
    pub fn variance_of_mean(&self) -> f64 {
        let (persons, items) = (self.persons as f64, self.items as f64);
        self.person_variance.max(0.0) / persons
            + self.item_variance.max(0.0) / items
            + self.residual_variance / (persons * items)
    }

    /// The smallest number of questions with a dependability of at least `target`.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` for a target that is not between 0 and 1; `Refusal::NotDefined` when
    /// persons show no variance.
    pub fn items_for_dependability(&self, target: f64) -> Result<usize, Refusal> {
        if !(target > 0.0 && target < 1.0) {
            return Err(Refusal::OutOfRange {
                of: "wanted dependability",
                value: target,
                allowed: "between 0 and 1",
            });
        }
        let single = self.decision_study(1)?;
        let error = single.absolute_error * single.absolute_error;
        let wanted = target / (1.0 - target) * error / self.person_variance;
        // A whole number that rounding lifted by a hair is still that number.
        Ok((wanted - 1e-9).ceil().max(1.0) as usize)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::reliability::cronbach_alpha::cronbach_alpha;

    fn table() -> ScoreTable {
        ScoreTable::new(&[
            [3.0, 1.0, 2.0],
            [1.0, 2.0, 2.0],
            [4.0, 4.0, 3.0],
            [2.0, 3.0, 1.0],
            [5.0, 3.0, 5.0],
        ])
        .unwrap()
    }

    #[test]
    fn generalisability_with_as_many_questions_is_alpha() {
        let made = persons_by_items(&table()).unwrap();
        let alpha = cronbach_alpha(&table(), crate::Confidence::P95)
            .unwrap()
            .alpha;
        let study = made.decision_study(3).unwrap();
        assert!((study.generalisability - alpha).abs() < 1e-14);
        assert!(study.dependability <= study.generalisability);
    }

    #[test]
    fn the_number_asked_for_is_enough_and_one_less_is_not() {
        let made = persons_by_items(&table()).unwrap();
        let needed = made.items_for_dependability(0.9).unwrap();
        assert!(made.decision_study(needed).unwrap().dependability >= 0.9);
        assert!(made.decision_study(needed - 1).unwrap().dependability < 0.9);
        assert!(made.items_for_dependability(1.0).is_err());
    }

    #[test]
    fn equal_marks_are_refused() {
        let flat = ScoreTable::new(&[[1.0, 1.0], [1.0, 1.0]]).unwrap();
        assert!(matches!(
            persons_by_items(&flat),
            Err(Refusal::NoVariance { .. })
        ));
        let same_persons = ScoreTable::new(&[[1.0, 2.0], [1.0, 2.0]]).unwrap();
        let made = persons_by_items(&same_persons).unwrap();
        assert!(made.decision_study(2).is_err());
    }
}
