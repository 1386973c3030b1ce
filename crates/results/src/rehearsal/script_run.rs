//! Writes and marks one simulated script and keeps what the forecast needs of it.

use assembler::CandidatePlace;
use base::{ExamSeed, Marks, Stream};

use super::day::{Day, by_hand};
use super::marking::Marking;
use super::prepared::Prepared;
use super::simulate::{Fate, Writer, after_heavy};
use crate::decide::{Added, CandidateMarks, Part};

/// The marks of one simulated script.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ScriptScore {
    pub(super) marks: CandidateMarks,
    /// Marks of each counted theory question, in printed order.
    pub(super) questions: Vec<f64>,
    /// Counted marks of each glass, in serving order.
    pub(super) glasses: Vec<f64>,
}

/// What is around one script: the day, what goes wrong, and what markers give.
pub(super) struct Around<'a> {
    /// The day.
    pub(super) day: &'a Day,
    /// What goes wrong.
    pub(super) fate: Fate,
    /// What markers give is drawn from here.
    pub(super) by_hand: Stream,
    /// The candidate's number, by which markers take turns.
    pub(super) candidate: usize,
}

impl<'a> Around<'a> {
    /// A script that nothing befalls.
    pub(super) fn unharmed(day: &'a Day, seed: &ExamSeed, index: u64, candidate: usize) -> Self {
        Self {
            day,
            fate: Fate::default(),
            by_hand: by_hand(seed, index),
            candidate,
        }
    }
}

/// Which parts a script is written for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Parts {
    /// Both.
    Both,
    /// One.
    Only(Part),
}

impl Parts {
    fn with(self, part: Part) -> bool {
        match self {
            Self::Both => true,
            Self::Only(only) => only == part,
        }
    }
}

/// Writes a script at this place and marks it. The order of draws is that of
/// [`super::simulate_answers`], so that the first sitting of a forecast is the one that is printed.
pub(super) fn run(
    stream: &mut Stream,
    prepared: &Prepared<'_>,
    marking: &dyn Marking,
    place: &CandidatePlace,
    writer: Writer<'_>,
    parts: Parts,
    around: &mut Around<'_>,
) -> ScriptScore {
    let mut score = ScriptScore {
        marks: CandidateMarks::default(),
        questions: Vec::new(),
        glasses: Vec::new(),
    };
    if parts.with(Part::Theory) {
        let form = place
            .form
            .as_ref()
            .and_then(|form| prepared.forms.get(form));
        for on_form in form.into_iter().flatten() {
            let written = writer.theory(stream, prepared, on_form, around.day);
            let (marks, waits, answered) = if on_form.is_marked_by_people() {
                let worth = writer.worth(on_form, around.day);
                let given = around
                    .day
                    .given(&mut around.by_hand, around.candidate, worth);
                let kept = !around.fate.loses_theory() && worth > 0.0;
                let marks = if kept {
                    on_form.question.marks.credit(given).unwrap_or(Marks::ZERO)
                } else {
                    Marks::ZERO
                };
                (marks, false, kept)
            } else {
                let answer = around.fate.theory(written);
                let outcome = marking.theory(&on_form.question, on_form.order, &answer);
                (outcome.marks(), outcome.waits(), !answer.is_empty())
            };
            if on_form.counts {
                score.questions.push(marks.as_f64());
            }
            score.marks.add(&Added {
                part: Part::Theory,
                marks,
                of: on_form.question.marks,
                waits,
                answered,
                counts: on_form.counts,
                extra: false,
            });
        }
    }
    if parts.with(Part::Tasting) {
        for (glass, poured) in place.glasses.iter().enumerate() {
            let (Some(sample), Some(part)) =
                (prepared.samples.get(&poured.sample), prepared.tasting)
            else {
                continue;
            };
            let heavy = after_heavy(prepared, place, glass);
            let writer = writer.before_glass(stream, glass, heavy);
            let mut in_glass = 0.0;
            for question in &part.ask {
                let written = writer.tasting(stream, prepared, sample, glass, &question.asked);
                let answer = around.fate.tasting(glass, written);
                let outcome = marking.tasting(&poured.sample, question, &answer);
                score.marks.add(&Added {
                    part: Part::Tasting,
                    marks: outcome.marks(),
                    of: question.marks,
                    waits: outcome.waits(),
                    answered: !answer.is_empty(),
                    counts: true,
                    extra: question.asked.is_extra_credit(),
                });
                if !question.asked.is_extra_credit() {
                    in_glass += outcome.marks().as_f64();
                }
            }
            score.glasses.push(in_glass);
        }
    }
    score
}
