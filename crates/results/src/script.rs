//! One candidate's awards brought together with the place and the decision.

use std::collections::BTreeMap;

use assembler::{CandidatePlace, Sitting};
use base::CandidateNumber;
use exam_plan::{Exam, People};
use grader::Award;

use crate::class_list::{ClassLine, ClassList};
use crate::decide::{CandidateMarks, Decision, Terms, decide_with};

/// What one candidate handed in, marked and decided.
#[derive(Debug, Clone)]
pub struct Script<'a> {
    /// What the draw gave the candidate.
    pub place: &'a CandidatePlace,
    /// The name; empty where nobody asked for names, or nobody is known behind the number.
    pub name: &'a str,
    /// The awards in the order of the items: theory by printed number, glasses in serving order.
    pub awards: Vec<&'a Award>,
    /// The marks added up.
    pub marks: CandidateMarks,
    /// The decision.
    pub decision: Decision,
}

/// One script for each candidate of the sitting, in its order. Every item of a candidate needs an
/// award, answered or not, as the grader gives them: full marks are added up from the awards.
#[must_use]
pub fn scripts<'a>(exam: &'a Exam, sitting: &'a Sitting, awards: &'a [Award]) -> Vec<Script<'a>> {
    let mut by_candidate: BTreeMap<&CandidateNumber, Vec<&Award>> = BTreeMap::new();
    for award in awards {
        by_candidate
            .entry(&award.candidate)
            .or_default()
            .push(award);
    }
    sitting
        .places
        .iter()
        .map(|place| {
            let mut awards = by_candidate.remove(&place.candidate).unwrap_or_default();
            // Theory by number, then glasses; what was asked of a glass in the order of the plan.
            awards.sort_by_key(|award| match &award.item {
                grader::Item::Theory { number, .. } => (0, *number, 0),
                grader::Item::Tasting { glass, asked, .. } => {
                    (1, *glass, place_in_plan(exam, asked))
                }
            });
            let marks = CandidateMarks::of(awards.iter().copied());
            let terms = Terms {
                grades: &exam.plan.results.grades,
                brought: exam.brought_by(&place.candidate),
            };
            let pass = exam.plan.pass_rule(exam.way_of(&place.candidate));
            Script {
                place,
                name: "",
                decision: decide_with(&pass, terms, &marks),
                marks,
                awards,
            }
        })
        .collect()
}

/// The same with names, for what must name people: class list, reports, certificates.
#[must_use]
pub fn named_scripts<'a>(
    exam: &'a Exam,
    sitting: &'a Sitting,
    awards: &'a [Award],
    people: &'a People,
) -> Vec<Script<'a>> {
    let mut scripts = scripts(exam, sitting, awards);
    for script in &mut scripts {
        script.name = people.name(&script.place.candidate);
    }
    scripts
}

/// Where the plan asks this of a glass; behind everything where it does not.
fn place_in_plan(exam: &Exam, asked: &str) -> usize {
    let ask = exam
        .plan
        .tasting
        .as_ref()
        .map_or(&[][..], |part| part.ask.as_slice());
    ask.iter()
        .position(|question| question.asked.name() == asked)
        .unwrap_or(ask.len())
}

/// The class list of these scripts.
#[must_use]
pub fn class_list(scripts: &[Script<'_>]) -> ClassList {
    let lines = scripts
        .iter()
        .map(|script| ClassLine {
            candidate: script.place.candidate.clone(),
            name: script.name.to_owned(),
            form: script.place.form.clone(),
            seat: script.place.seat.clone(),
            decision: script.decision.clone(),
        })
        .collect();
    ClassList { lines }
}
