//! Coefficient alpha of the theory part, form by form, since forms hold different questions.

use std::collections::{BTreeMap, BTreeSet};

use assembler::Sitting;
use base::{FormName, QuestionId};
use grader::Item;
use serde::Serialize;
use statistics::reliability::cronbach_alpha::{CronbachAlpha, cronbach_alpha};
use statistics::{Refusal, ScoreTable};

use super::{CONFIDENCE, coefficient};
use crate::script::Script;

/// How far the theory scores can be told from chance.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TheoryReliability {
    /// Each set of forms that hold the same counted questions.
    pub by_form: Vec<FormAlpha>,
    /// All of it in plain sentences.
    pub sentences: Vec<String>,
}

/// Below this a form's alpha is not given. Even from here on its interval is wide, and is printed
/// with it.
const FEWEST_CANDIDATES: usize = 5;

/// Alpha of one form, or of forms that differ only in order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FormAlpha {
    /// The forms.
    pub forms: Vec<FormName>,
    /// Candidates who sat them.
    pub n: usize,
    /// Counted questions.
    pub questions: usize,
    /// The coefficient with Feldt's interval.
    pub alpha: Result<CronbachAlpha, Refusal>,
}

/// Alpha of each form; none without a theory part.
pub(super) fn theory_reliability(
    sitting: &Sitting,
    present: &[&Script<'_>],
) -> Option<TheoryReliability> {
    let mut groups: BTreeMap<BTreeSet<&QuestionId>, Vec<&FormName>> = BTreeMap::new();
    for form in &sitting.forms {
        let counted = form.questions.iter().filter(|question| question.counts);
        groups
            .entry(counted.map(|question| &question.question).collect())
            .or_default()
            .push(&form.name);
    }
    if groups.is_empty() {
        return None;
    }
    let mut by_form: Vec<_> = groups
        .iter()
        .map(|(questions, forms)| form_alpha(questions, forms, present))
        .collect();
    by_form.sort_by(|a, b| a.forms.cmp(&b.forms));
    let mut sentences: Vec<_> = by_form.iter().map(in_words).collect();
    sentences.extend(over_the_forms(&by_form));
    Some(TheoryReliability { by_form, sentences })
}

fn form_alpha(
    questions: &BTreeSet<&QuestionId>,
    forms: &[&FormName],
    present: &[&Script<'_>],
) -> FormAlpha {
    let sat: Vec<_> = present
        .iter()
        .filter(|script| {
            script
                .place
                .form
                .as_ref()
                .is_some_and(|form| forms.contains(&form))
        })
        .collect();
    let rows: Vec<Vec<f64>> = sat
        .iter()
        .map(|script| {
            let marks: BTreeMap<&QuestionId, f64> = script
                .awards
                .iter()
                .filter_map(|award| match &award.item {
                    Item::Theory { question, .. } => Some((question, award.marks().as_f64())),
                    Item::Tasting { .. } => None,
                })
                .collect();
            questions
                .iter()
                .map(|question| marks.get(*question).copied().unwrap_or(0.0))
                .collect()
        })
        .collect();
    FormAlpha {
        forms: forms.iter().map(|form| (*form).clone()).collect(),
        n: sat.len(),
        questions: questions.len(),
        alpha: if sat.len() < FEWEST_CANDIDATES {
            Err(Refusal::TooFew {
                of: "candidates",
                have: sat.len(),
                need: FEWEST_CANDIDATES,
                reason: "with fewer, Feldt's interval covers most of the scale; common practice, no source",
            })
        } else {
            ScoreTable::new(&rows).and_then(|table| cronbach_alpha(&table, CONFIDENCE))
        },
    }
}

fn in_words(form: &FormAlpha) -> String {
    let names = form
        .forms
        .iter()
        .map(FormName::as_str)
        .collect::<Vec<_>>()
        .join(" and ");
    let noun = if form.forms.len() == 1 {
        "form"
    } else {
        "forms"
    };
    match &form.alpha {
        Ok(made) => {
            let wide = made.interval.upper - made.interval.lower > 0.4;
            let warning = if wide { "; too wide to lean on" } else { "" };
            format!(
                "Theory, {noun} {names}: reliability (alpha) {} with n = {} and {} questions, 95 % \
                 interval {} to {}{warning}.",
                coefficient(made.alpha),
                made.persons,
                made.items,
                coefficient(made.interval.lower),
                coefficient(made.interval.upper)
            )
        }
        Err(refusal) => format!(
            "Theory, {noun} {names}: no reliability (alpha) with n = {}: {refusal}.",
            form.n
        ),
    }
}

/// The mean over forms that hold different questions, weighted by candidates.
fn over_the_forms(by_form: &[FormAlpha]) -> Option<String> {
    let known: Vec<_> = by_form
        .iter()
        .filter_map(|form| form.alpha.as_ref().ok())
        .collect();
    if known.len() < 2 {
        return None;
    }
    let persons: usize = known.iter().map(|made| made.persons).sum();
    let weighted: f64 = known
        .iter()
        .map(|made| made.alpha * made.persons as f64)
        .sum();
    Some(format!(
        "The forms hold different questions, so alpha is worked out for each; their mean, weighted \
         by candidates, is {} (n = {persons}; a mean of alphas has no interval of its own).",
        coefficient(weighted / persons as f64)
    ))
}
