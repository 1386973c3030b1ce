//! The questions from which forms are drawn: one line of the blueprint with those that may fill it.

use std::collections::BTreeMap;

use base::{Place, QuestionId};
use exam_plan::plan::{CellQuota, TheoryPart, Wanted};
use question_bank::question::Level;
use question_bank::{Bank, Question, ReviewState};

/// One line of the blueprint: so many questions of one cell, of one level or of any.
pub(crate) struct BlueprintLine<'e> {
    pub(crate) quota: &'e CellQuota,
    pub(crate) level: Option<Level>,
    pub(crate) wanted: usize,
    /// Usable questions, as places in [`FormPool::questions`].
    pub(crate) usable: Vec<usize>,
    /// Why other questions of the line cannot be used, in words, with how many.
    pub(crate) unusable: BTreeMap<&'static str, usize>,
}

impl BlueprintLine<'_> {
    /// "cell maturation, application".
    pub(crate) fn words(&self) -> String {
        match self.level {
            Some(level) => format!("cell {}, {}", self.quota.cell, level.word()),
            None => format!("cell {}", self.quota.cell),
        }
    }
}

/// Everything the draw may choose from.
pub(crate) struct FormPool<'e> {
    /// Usable questions, counted and pretest, in the order of their ids.
    pub(crate) questions: Vec<&'e Question>,
    /// For each question the places of its enemies, ascending, both ways.
    pub(crate) enemies: Vec<Vec<usize>>,
    /// The lines in the order of the plan.
    pub(crate) lines: Vec<BlueprintLine<'e>>,
    /// Pretest questions of the plan's cells.
    pub(crate) pretest: Vec<usize>,
    /// Where a fault is shown that belongs to no single line.
    pub(crate) place: Option<Place>,
}

impl<'e> FormPool<'e> {
    /// Sorts a bank by the lines of a plan.
    pub(crate) fn new(bank: &'e Bank, theory: &'e TheoryPart) -> Self {
        let planned = |question: &Question| theory.cells.iter().any(|q| q.cell == question.cell);
        let questions: Vec<&Question> = bank
            .questions
            .values()
            .filter(|question| planned(question) && why_unusable(question).is_none())
            .collect();
        let number_of: BTreeMap<&QuestionId, usize> = questions
            .iter()
            .enumerate()
            .map(|(number, question)| (&question.id, number))
            .collect();
        let mut enemies = vec![Vec::new(); questions.len()];
        for (number, question) in questions.iter().enumerate() {
            for enemy in &question.enemies {
                if let Some(&other) = number_of.get(enemy)
                    && other != number
                {
                    enemies[number].push(other);
                    enemies[other].push(number);
                }
            }
        }
        for list in &mut enemies {
            list.sort_unstable();
            list.dedup();
        }
        let mut lines = Vec::new();
        for quota in &theory.cells {
            match &quota.wanted {
                Wanted::AnyLevel(wanted) => lines.push((quota, None, *wanted)),
                Wanted::ByLevel(numbers) => {
                    lines.extend(numbers.iter().map(|(level, n)| (quota, Some(*level), *n)));
                }
            }
        }
        let lines = lines
            .into_iter()
            .filter(|(_, _, wanted)| *wanted > 0)
            .map(|(quota, level, wanted)| {
                let fits = |question: &Question| {
                    question.cell == quota.cell && level.is_none_or(|l| l == question.level)
                };
                let usable = (0..questions.len())
                    .filter(|&n| fits(questions[n]) && questions[n].state.counts())
                    .collect();
                let mut unusable = BTreeMap::new();
                for question in bank.questions.values().filter(|question| fits(question)) {
                    let reason = why_unusable(question).or_else(|| not_counted(question.state));
                    if let Some(reason) = reason {
                        *unusable.entry(reason).or_insert(0) += 1;
                    }
                }
                BlueprintLine {
                    quota,
                    level,
                    wanted: usize::try_from(wanted).unwrap_or(usize::MAX),
                    usable,
                    unusable,
                }
            })
            .collect();
        let pretest = (0..questions.len())
            .filter(|&n| questions[n].state == ReviewState::Pretest)
            .collect();
        Self {
            questions,
            enemies,
            lines,
            pretest,
            place: theory.cells.first().map(|quota| quota.place.clone()),
        }
    }
}

/// Why a question may stand on no form at all.
fn why_unusable(question: &Question) -> Option<&'static str> {
    if question.practice_only {
        return Some("for practice only");
    }
    match question.state {
        ReviewState::Operational | ReviewState::Pretest => None,
        ReviewState::Draft => Some("draft"),
        ReviewState::Reviewed => Some("reviewed, not yet operational"),
        ReviewState::Retired => Some("retired"),
    }
}

/// Why a question that may be printed does not count.
fn not_counted(state: ReviewState) -> Option<&'static str> {
    match state {
        ReviewState::Pretest => Some("pretest"),
        ReviewState::Operational
        | ReviewState::Draft
        | ReviewState::Reviewed
        | ReviewState::Retired => None,
    }
}
