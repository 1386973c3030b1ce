//! What forms aim at, by what the bank knows of its questions.
//!
//! Where every counted question that may be drawn has parameters, or the plan gives a target:
//! information at abilities, in per cent of the target, and the expected marks at the cut, in per
//! cent of their mean. Else the expected marks at the cut and the variance of the marks there, in
//! marks. Targets that the plan does not give are those of average questions of each line, so that
//! no form is favoured. A draw by lot within rules aims at the same sum of the author's difficulty
//! (easy 1, medium 2, hard 3) on each form, and at the same full marks, and no further.

use question_bank::question::Difficulty;
use question_bank::{Bank, Question};

use crate::form_build::curve_of;
use crate::form_model::{ModelItem, ModelTarget, WHOLE};
use crate::question_curve::{KnownFrom, QuestionCurve};
use exam_plan::plan::NearBest;

/// A number in whole units of which [`WHOLE`] are `one`.
fn in_units(value: f64, one: f64) -> i64 {
    let units = value / one * WHOLE as f64;
    // Beyond any deviation that is told apart.
    units.clamp(-1e16, 1e16).round() as i64
}

/// What is known when targets are set.
pub(crate) struct Known<'k> {
    pub(crate) bank: &'k Bank,
    /// The questions behind the items.
    pub(crate) questions: &'k [&'k Question],
    /// Items before this count.
    pub(crate) first_pretest: usize,
    pub(crate) items: &'k [ModelItem],
    /// How many of each line an average form has.
    pub(crate) on_average: &'k [f64],
}

impl Known<'_> {
    /// What an average form has of something: each line's mean times what the line asks.
    fn average(&self, value: &dyn Fn(usize) -> f64) -> f64 {
        let mut sum = 0.0;
        for (number, asks) in self.on_average.iter().enumerate() {
            let values: Vec<f64> = (0..self.first_pretest)
                .filter(|&item| self.items.get(item).is_some_and(|i| i.line == number))
                .map(value)
                .collect();
            if !values.is_empty() {
                sum += values.iter().sum::<f64>() / values.len() as f64 * asks;
            }
        }
        sum
    }

    fn target(
        &self,
        words: String,
        value: &dyn Fn(usize) -> f64,
        wanted: f64,
        one: f64,
    ) -> ModelTarget {
        ModelTarget {
            words,
            weights: (0..self.questions.len())
                .map(|item| {
                    if item < self.first_pretest {
                        in_units(value(item), one)
                    } else {
                        0
                    }
                })
                .collect(),
            wanted: in_units(wanted, one),
        }
    }

    fn marks(&self, item: usize) -> f64 {
        self.questions.get(item).map_or(0.0, |q| q.marks.as_f64())
    }

    /// Full marks as a target, where questions have different ones.
    fn full_marks(&self) -> Option<ModelTarget> {
        let mut different: Vec<i64> = self
            .questions
            .iter()
            .take(self.first_pretest)
            .map(|q| q.marks.thousandths())
            .collect();
        different.sort_unstable();
        different.dedup();
        let marks = |item: usize| self.marks(item);
        (different.len() > 1).then(|| {
            let wanted = self.average(&marks).round();
            self.target("full marks".to_owned(), &marks, wanted, 1.0)
        })
    }

    /// The targets of a draw near the best; `cut` is the ability at which an average form reaches
    /// the cut.
    pub(crate) fn targets(&self, near: &NearBest, cut: f64) -> Vec<ModelTarget> {
        let curves: Vec<QuestionCurve> = self
            .questions
            .iter()
            .map(|q| curve_of(self.bank, q))
            .collect();
        let expected = |item: usize| {
            curves.get(item).map_or(0.0, |curve| curve.right_at(cut)) * self.marks(item)
        };
        let all_known = curves
            .iter()
            .take(self.first_pretest)
            .all(|curve| curve.known == KnownFrom::Parameters);
        let mut targets = Vec::new();
        if all_known || !near.target.is_empty() {
            let wanted: Vec<(f64, Option<f64>)> = if near.target.is_empty() {
                [cut - 1.0, cut, cut + 1.0]
                    .map(|ability| (ability, None))
                    .to_vec()
            } else {
                near.target
                    .iter()
                    .map(|t| (t.ability, Some(t.information)))
                    .collect()
            };
            for (ability, given) in wanted {
                let value = |item: usize| {
                    curves
                        .get(item)
                        .map_or(0.0, |curve| curve.information_at(ability))
                };
                let wanted = given.unwrap_or_else(|| self.average(&value));
                if wanted > 0.0 {
                    let words = format!("information at ability {ability:.2}");
                    targets.push(self.target(words, &value, wanted, wanted));
                }
            }
            let wanted = self.average(&expected);
            if wanted > 0.0 {
                let words = "expected marks at the cut".to_owned();
                targets.push(self.target(words, &expected, wanted, wanted));
            }
        } else {
            let words = "expected marks at the cut".to_owned();
            targets.push(self.target(words, &expected, self.average(&expected), 1.0));
            let spread = |item: usize| {
                let p = curves.get(item).map_or(0.0, |curve| curve.right_at(cut));
                p * (1.0 - p) * self.marks(item) * self.marks(item)
            };
            let words = "variance of the marks at the cut".to_owned();
            targets.push(self.target(words, &spread, self.average(&spread), 1.0));
        }
        targets.extend(self.full_marks());
        targets
    }

    /// What a draw by lot within rules is levelled by.
    pub(crate) fn level_by_the_author(&self) -> Vec<ModelTarget> {
        let difficulty = |item: usize| match self.questions.get(item).map(|q| q.difficulty) {
            Some(Difficulty::Easy) => 1.0,
            Some(Difficulty::Hard) => 3.0,
            Some(Difficulty::Medium) | None => 2.0,
        };
        let words = "the author's difficulty".to_owned();
        let wanted = self.average(&difficulty).round();
        std::iter::once(self.target(words, &difficulty, wanted, 1.0))
            .chain(self.full_marks())
            .collect()
    }
}
