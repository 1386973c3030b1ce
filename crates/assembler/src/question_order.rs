//! In which order the questions of a form stand.
//!
//! What an examiner expects of a paper: the cells follow each other as in the plan, so that a
//! candidate stays with one subject for a while; within a cell the questions are shuffled, whatever
//! their level. Pretest questions are shuffled in with those of their own cell, where nothing tells
//! them from counted ones. Questions of one set stand together, in the order of the bank's text,
//! where the lot put the first of them. Purpose "question order", index: form.

use std::collections::BTreeSet;

use base::{CellId, ExamSeed, Purpose, QuestionId, Stream};
use exam_plan::plan::TheoryPart;
use question_bank::Bank;

use crate::form_draw::DrawnForm;

/// Puts the questions of one form in printed order, each with whether it counts.
#[must_use]
pub fn question_order(
    bank: &Bank,
    theory: &TheoryPart,
    form: &DrawnForm,
    number: usize,
    seed: &ExamSeed,
) -> Vec<(QuestionId, bool)> {
    let mut stream = Stream::new(seed, Purpose::QuestionOrder, number as u64);
    let counted = form.counted.iter().map(|id| (id.clone(), true));
    let pretest = form.pretest.iter().map(|id| (id.clone(), false));
    let all: Vec<(QuestionId, bool)> = counted.chain(pretest).collect();
    let mut seen: BTreeSet<&CellId> = BTreeSet::new();
    let mut ordered = Vec::with_capacity(all.len());
    for quota in &theory.cells {
        if !seen.insert(&quota.cell) {
            continue;
        }
        let in_cell = |(id, _): &&(QuestionId, bool)| {
            let question = bank.questions.get(id);
            question.is_some_and(|question| question.cell == quota.cell)
        };
        let mut block: Vec<_> = all.iter().filter(in_cell).cloned().collect();
        stream.shuffle(&mut block);
        let mut block = sets_together(bank, block);
        ordered.append(&mut block);
    }
    ordered
}

/// Brings the questions of each set together, in their order, at the place of the first.
fn sets_together(bank: &Bank, block: Vec<(QuestionId, bool)>) -> Vec<(QuestionId, bool)> {
    let set_of = |id: &QuestionId| bank.questions.get(id).and_then(|q| q.set.as_ref());
    let mut ordered: Vec<(QuestionId, bool)> = Vec::with_capacity(block.len());
    for (id, counts) in &block {
        let Some(here) = set_of(id) else {
            ordered.push((id.clone(), *counts));
            continue;
        };
        if ordered.iter().any(|(other, _)| other == id) {
            continue;
        }
        let mut members: Vec<(usize, &(QuestionId, bool))> = block
            .iter()
            .filter_map(|entry| {
                let of = set_of(&entry.0).filter(|of| of.with(here))?;
                Some((of.place, entry))
            })
            .collect();
        members.sort_by_key(|(place, _)| *place);
        ordered.extend(members.into_iter().map(|(_, entry)| entry.clone()));
    }
    ordered
}
