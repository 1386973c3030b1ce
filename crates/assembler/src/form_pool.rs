//! The questions from which forms are drawn: one line of the blueprint with those that may fill it.

use std::collections::BTreeMap;

use base::{Place, QuestionId};
use exam_plan::plan::{CellQuota, HowMany, NearBest, TheoryPart, Wanted};
use question_bank::question::Level;
use question_bank::{Bank, Question, ReviewState};

/// One line of the blueprint: so many questions of one cell, of one level or of any.
pub(crate) struct BlueprintLine<'e> {
    pub(crate) quota: &'e CellQuota,
    pub(crate) level: Option<Level>,
    /// At least so many on a form.
    pub(crate) wanted: usize,
    /// At most so many on a form.
    pub(crate) most: usize,
    /// As the plan says it: "4" or "4 to 6".
    pub(crate) asks: HowMany,
    /// What an average form has: the least, and of what is left the line's part.
    pub(crate) on_average: f64,
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
    /// Whether any question that may be drawn is of a set.
    pub(crate) has_sets: bool,
    /// Where a fault is shown that belongs to no single line.
    pub(crate) place: Option<Place>,
}

impl<'e> FormPool<'e> {
    /// Sorts a bank by the lines of a plan.
    pub(crate) fn new(bank: &'e Bank, theory: &'e TheoryPart) -> Self {
        let planned = |question: &Question| theory.cells.iter().any(|q| q.cell == question.cell);
        let bars = Bars::new(bank, theory);
        let questions: Vec<&Question> = bank
            .questions
            .values()
            .filter(|question| planned(question) && bars.why_unusable(question).is_none())
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
        let least: u32 = theory.cells.iter().map(CellQuota::least).sum();
        let most: u32 = theory.cells.iter().map(CellQuota::most).sum();
        // Of what ranges leave open, each line takes the same part on average.
        let share = f64::from(theory.counted().saturating_sub(least))
            / f64::from(most.saturating_sub(least)).max(1.0);
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
            .filter(|(_, _, wanted)| wanted.most() > 0)
            .map(|(quota, level, wanted)| {
                let fits = |question: &Question| {
                    question.cell == quota.cell && level.is_none_or(|l| l == question.level)
                };
                let usable = (0..questions.len())
                    .filter(|&n| fits(questions[n]) && questions[n].state.counts())
                    .collect();
                let mut unusable = BTreeMap::new();
                for question in bank.questions.values().filter(|question| fits(question)) {
                    let reason = bars
                        .why_unusable(question)
                        .or_else(|| not_counted(question.state));
                    if let Some(reason) = reason {
                        *unusable.entry(reason).or_insert(0) += 1;
                    }
                }
                BlueprintLine {
                    quota,
                    level,
                    wanted: usize::try_from(wanted.least()).unwrap_or(usize::MAX),
                    most: usize::try_from(wanted.most()).unwrap_or(usize::MAX),
                    asks: wanted,
                    on_average: f64::from(wanted.least())
                        + share * f64::from(wanted.most() - wanted.least()),
                    usable,
                    unusable,
                }
            })
            .collect();
        let pretest = (0..questions.len())
            .filter(|&n| questions[n].state == ReviewState::Pretest)
            .collect();
        Self {
            has_sets: questions.iter().any(|question| question.set.is_some()),
            questions,
            enemies,
            lines,
            pretest,
            place: theory.cells.first().map(|quota| quota.place.clone()),
        }
    }
}

/// What keeps questions off all forms of a plan.
struct Bars<'e> {
    bank: &'e Bank,
    rules: Option<&'e NearBest>,
    /// How many questions of each set may stand on a form, by where the set stands.
    of_set: BTreeMap<&'e Place, u32>,
}

impl<'e> Bars<'e> {
    fn new(bank: &'e Bank, theory: &'e TheoryPart) -> Self {
        let mut bars = Self {
            bank,
            rules: theory.draw.rules(),
            of_set: BTreeMap::new(),
        };
        let planned = |question: &Question| theory.cells.iter().any(|q| q.cell == question.cell);
        let mut of_set = BTreeMap::new();
        for question in bank.questions.values() {
            if let Some(of) = &question.set
                && planned(question)
                && bars.why_unusable(question).is_none()
                // A question on trial comes beyond the cells, where a plan has any.
                && (theory.pretest > 0 || question.state.counts())
            {
                *of_set.entry(&of.set.place).or_insert(0) += 1;
            }
        }
        bars.of_set = of_set;
        bars
    }

    /// Why a question may stand on no form at all.
    fn why_unusable(&self, question: &Question) -> Option<&'static str> {
        if question.practice_only {
            return Some("for practice only");
        }
        match question.state {
            ReviewState::Operational | ReviewState::Pretest => {}
            ReviewState::Draft => return Some("draft"),
            ReviewState::Reviewed => return Some("reviewed, not yet operational"),
            ReviewState::Retired => return Some("retired"),
        }
        if let Some(rules) = self.rules {
            if rules.links.iter().any(|(id, _)| *id == question.id) {
                return Some("a link, which does not count");
            }
            // Enemies are named on both sides.
            let of_link = |(id, _): &(QuestionId, Place)| question.enemies.contains(id);
            if rules.links.iter().any(of_link) {
                return Some("an enemy of a link");
            }
            let speaks =
                |language: &String| *language == self.bank.language || question.speaks(language);
            if !rules.translated.iter().all(speaks) {
                return Some("not translated as the plan asks");
            }
        }
        let of = question.set.as_ref()?;
        let there = self.of_set.get(&of.set.place)?;
        (*there < of.set.at_least).then_some("of a set with too few usable questions")
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
