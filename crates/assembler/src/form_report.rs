//! Forms side by side: what each holds, and how equally hard they are expected to be.

use std::collections::BTreeMap;

use exam_plan::plan::{Draw, Join, Plan};
use question_bank::{Bank, Question};
use serde::Serialize;

use crate::form_bound::{Bound, deviation_bound};
use crate::form_build::{Goal, USUAL_SECONDS, ability_at_cut, build, curve_of};
use crate::form_model::in_per_cent;
use crate::form_pool::FormPool;
use crate::question_curve::{KnownFrom, QuestionCurve};
use crate::question_length::words_of_form;
use crate::sitting::Form;

/// All forms of a theory paper beside each other.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FormsBeside {
    /// The cut of the theory paper in thousandths of full marks; the total's where parts are joined.
    pub cut: u32,
    /// The ability at which an average form reaches the cut.
    pub ability_at_cut: f64,
    /// One for each form.
    pub forms: Vec<FormFigures>,
    /// The largest difference of expected marks at the cut between two forms.
    pub largest_difference: f64,
    /// Standard error of an expected mean by what is not known of the questions, in marks; the
    /// largest of all forms.
    pub uncertainty: f64,
    /// How many of the different counted questions are known by parameters, by a share of right
    /// answers, and by the author's guess alone.
    pub known_from: [usize; 3],
    /// How near the forms come to their targets; none where they were drawn by lot.
    pub nearness: Option<Nearness>,
}

/// One form.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FormFigures {
    /// Its name.
    pub form: String,
    /// Counted questions by cell, in the order of the plan.
    pub cells: Vec<(String, usize)>,
    /// Counted questions.
    pub counted: usize,
    /// Questions that do not count: on trial, or linking sittings.
    pub pretest: usize,
    /// Full marks.
    pub of: base::Marks,
    /// Words to read.
    pub words: usize,
    /// Minutes by timed questions, and a minute and a half for others.
    pub minutes: f64,
    /// Expected marks of somebody at the cut.
    pub expected: f64,
    /// Standard deviation of the marks of such people.
    pub deviation: f64,
    /// Information at the cut.
    pub information: f64,
    /// Expected marks and information over abilities from −3 to 3.
    pub over_ability: Vec<AtAbility>,
    /// Expected marks at the cut less the mean over the forms: by so much the cut of this form
    /// would have to move.
    pub cut_difference: f64,
}

/// What a form gives at one ability.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct AtAbility {
    /// The ability.
    pub ability: f64,
    /// Expected marks.
    pub expected: f64,
    /// Information.
    pub information: f64,
}

/// How near forms come to their targets.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Nearness {
    /// What was aimed at.
    pub targets: Vec<String>,
    /// Whether deviations are in per cent of a target; else in hundredths of a mark.
    pub in_per_cent_of_target: bool,
    /// The largest deviation of any form from any target.
    pub deviation: f64,
    /// No forms can come nearer than this; none where the solver gave up.
    pub bound: Option<f64>,
    /// Deviation over bound less 1, in per cent; none where the bound is 0 and says nothing.
    pub gap: Option<f64>,
}

/// A cell as the bank calls it.
fn name_of_cell(bank: &Bank, cell: &base::CellId) -> String {
    let named = bank.cells.iter().find(|(id, _)| id == cell);
    named.map_or_else(|| cell.to_string(), |(_, name)| name.clone())
}

/// Puts the forms of a plan beside each other; none without a theory part.
#[must_use]
pub fn forms_beside(bank: &Bank, plan: &Plan, forms: &[Form]) -> Option<FormsBeside> {
    let theory = plan.theory.as_ref()?;
    let cut = match plan.pass.join {
        Join::Conjunctive { theory, .. } => theory,
        Join::Compensatory { total, .. } => total,
    };
    let pool = FormPool::new(bank, theory);
    let ability = ability_at_cut(bank, &pool, cut);
    let mut known = BTreeMap::new();
    let mut uncertainty = 0.0_f64;
    let mut figures: Vec<FormFigures> = forms
        .iter()
        .map(|form| {
            let on_form: Vec<(&Question, bool)> = form
                .questions
                .iter()
                .filter_map(|q| Some((bank.questions.get(&q.question)?, q.counts)))
                .collect();
            let counted = || {
                on_form
                    .iter()
                    .filter(|(_, counts)| *counts)
                    .map(|(q, _)| *q)
            };
            let (mut expected, mut variance, mut information, mut doubt) = (0.0, 0.0, 0.0, 0.0);
            for question in counted() {
                let curve = curve_of(bank, question);
                let (p, marks) = (curve.right_at(ability), question.marks.as_f64());
                expected += p * marks;
                variance += p * (1.0 - p) * marks * marks;
                information += curve.information_at(ability);
                let knows = (p - curve.c) / (1.0 - curve.c);
                let slope = curve.a * (1.0 - curve.c) * knows * (1.0 - knows) * marks;
                doubt += (slope * curve.error) * (slope * curve.error);
                known.insert(&question.id, curve.known);
            }
            uncertainty = uncertainty.max(doubt.sqrt());
            let in_cell = |cell: &base::CellId| counted().filter(|q| q.cell == *cell).count();
            let seconds = |question: &Question| {
                let known = bank.calibration.get(&question.id);
                known
                    .and_then(|known| known.seconds)
                    .unwrap_or(USUAL_SECONDS)
            };
            let of = counted().fold(base::Marks::ZERO, |sum, question| sum + question.marks);
            FormFigures {
                form: form.name.to_string(),
                cells: theory
                    .cells
                    .iter()
                    .map(|quota| (name_of_cell(bank, &quota.cell), in_cell(&quota.cell)))
                    .collect(),
                counted: counted().count(),
                pretest: on_form.len() - counted().count(),
                of,
                words: words_of_form(
                    &on_form
                        .iter()
                        .map(|(question, _)| *question)
                        .collect::<Vec<_>>(),
                ),
                minutes: on_form
                    .iter()
                    .map(|(q, _)| f64::from(seconds(q)))
                    .sum::<f64>()
                    / 60.0,
                expected,
                deviation: variance.sqrt(),
                information,
                over_ability: over_ability(bank, counted()),
                cut_difference: 0.0,
            }
        })
        .collect();
    let mean = figures.iter().map(|form| form.expected).sum::<f64>() / figures.len().max(1) as f64;
    for form in &mut figures {
        form.cut_difference = form.expected - mean;
    }
    let least = figures
        .iter()
        .map(|f| f.expected)
        .fold(f64::INFINITY, f64::min);
    let most = figures
        .iter()
        .map(|f| f.expected)
        .fold(f64::NEG_INFINITY, f64::max);
    let from = |kind: KnownFrom| known.values().filter(|k| **k == kind).count();
    let known_from = [KnownFrom::Parameters, KnownFrom::Share, KnownFrom::Author].map(from);
    let nearness = match &theory.draw {
        Draw::ByLot | Draw::ByLotWithin(_) => None,
        Draw::NearBest(near) => nearness(bank, &pool, theory, near, forms),
    };
    Some(FormsBeside {
        cut,
        ability_at_cut: ability,
        largest_difference: if figures.is_empty() {
            0.0
        } else {
            most - least
        },
        forms: figures,
        uncertainty,
        known_from,
        nearness,
    })
}

/// Expected marks and information at 25 abilities.
fn over_ability<'q>(bank: &Bank, counted: impl Iterator<Item = &'q Question>) -> Vec<AtAbility> {
    let known: Vec<(QuestionCurve, f64)> = counted
        .map(|question| (curve_of(bank, question), question.marks.as_f64()))
        .collect();
    let at = |step: i32| {
        let ability = f64::from(step) / 4.0;
        AtAbility {
            ability,
            expected: known
                .iter()
                .map(|(curve, marks)| curve.right_at(ability) * marks)
                .sum(),
            information: known
                .iter()
                .map(|(curve, _)| curve.information_at(ability))
                .sum(),
        }
    };
    (-12..=12).map(at).collect()
}

fn nearness(
    bank: &Bank,
    pool: &FormPool<'_>,
    theory: &exam_plan::plan::TheoryPart,
    near: &exam_plan::plan::NearBest,
    forms: &[Form],
) -> Option<Nearness> {
    let overlap = theory
        .overlap
        .and_then(|overlap| usize::try_from(overlap).ok());
    let built = build(bank, pool, theory, near, overlap, Goal::Targets).ok()?;
    let item_of: BTreeMap<_, usize> = built
        .questions
        .iter()
        .enumerate()
        .map(|(item, q)| (&q.id, item))
        .collect();
    let deviation = forms
        .iter()
        .map(|form| {
            let items: Vec<usize> = form
                .questions
                .iter()
                .filter_map(|q| item_of.get(&q.question).copied())
                .collect();
            built.model.deviation_of(&items)
        })
        .max()?;
    let per_cent = built
        .model
        .targets
        .iter()
        .any(|t| t.words.starts_with("information"));
    let bound = match deviation_bound(&built.model) {
        Bound::AtLeast(bound) => Some(bound),
        Bound::Impossible | Bound::Unknown => None,
    };
    let percent = in_per_cent(1);
    Some(Nearness {
        targets: built
            .model
            .targets
            .iter()
            .map(|target| target.words.clone())
            .collect(),
        in_per_cent_of_target: per_cent,
        deviation: in_per_cent(deviation),
        bound: bound.map(|bound| bound * percent),
        gap: bound
            // A bound of less than a hundred-thousandth says nothing.
            .filter(|bound| bound * percent > 0.001)
            .map(|bound| (deviation as f64 / bound - 1.0) * 100.0),
    })
}
