//! The answers of one simulated sitting, in the shape of a table of real answers.

use assembler::{CandidatePlace, Sitting};
use base::{CandidateNumber, ExamSeed, Purpose, Stream};
use exam_plan::Exam;
use grader::Item;

use question_bank::sample_record::CarryOver;

use super::day::Day;
use super::draws::{abilities, happens, normal};
use super::population::Abilities;
use super::population::{Guesser, Mishaps, Population, Taster};
use super::prepared::{Prepared, PreparedQuestion};
use super::{tasting_answers, theory_answers};

/// One answer of a simulated candidate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SimulatedAnswer {
    /// Who.
    pub candidate: CandidateNumber,
    /// To what.
    pub item: Item,
    /// As it would stand on the sheet; empty where it was left open.
    pub answer: String,
}

/// Candidates apart in the streams of sittings.
pub(super) const CANDIDATES: u64 = 1_000_000;

/// What goes wrong for a candidate has the candidate's index and this.
const FATES: u64 = 1 << 61;

/// The stream of one script.
pub(super) fn stream_at(seed: &ExamSeed, index: u64) -> Stream {
    Stream::new(seed, Purpose::RehearsalCandidate, index)
}

/// By whom a script is written.
#[derive(Debug, Clone, Copy)]
pub(super) enum Writer<'a> {
    /// Somebody with these abilities.
    Able(Abilities, &'a Taster),
    /// Somebody who knows nothing.
    Guesser(Guesser),
    /// Somebody who writes down what this neighbour writes, who has these abilities.
    Copier(Abilities, &'a Taster, &'a CandidatePlace),
}

impl<'a> Writer<'a> {
    pub(super) fn theory(
        &self,
        stream: &mut Stream,
        prepared: &Prepared<'_>,
        on_form: &PreparedQuestion<'_>,
        day: &Day,
    ) -> String {
        let write = |stream: &mut Stream, on_form: &PreparedQuestion<'_>, ability: f64| {
            let knows = on_form.knows(ability, day.shift(&on_form.question.id));
            theory_answers::answer(stream, &on_form.question, on_form.order, knows)
        };
        match self {
            Self::Able(can, _) => write(stream, on_form, can.theory),
            Self::Guesser(_) => theory_answers::guess(stream, &on_form.question, on_form.order),
            Self::Copier(can, _, neighbour) => {
                let form = neighbour.form.as_ref();
                let seen = form
                    .and_then(|form| prepared.forms.get(form))
                    .and_then(|form| form.iter().find(|other| other.number == on_form.number));
                seen.map(|seen| write(stream, seen, can.theory))
                    .unwrap_or_default()
            }
        }
    }
    /// What an essay of the writer is worth, as a share of its full marks.
    pub(super) fn worth(&self, on_form: &PreparedQuestion<'_>, day: &Day) -> f64 {
        match self {
            Self::Able(can, _) | Self::Copier(can, _, _) => {
                on_form.knows(can.theory, day.shift(&on_form.question.id))
            }
            Self::Guesser(_) => 0.0,
        }
    }
    /// The writer before one glass: what a taster can do differs from glass to glass, falls with
    /// the flight and after a heavy sample.
    pub(super) fn before_glass(self, stream: &mut Stream, glass: usize, after_heavy: bool) -> Self {
        let now = |stream: &mut Stream, can: Abilities, taster: &Taster| {
            let lost = taster.fatigue * glass as f64
                + taster.carry_over * f64::from(u8::from(after_heavy));
            let tasting = can.tasting + taster.from_glass_to_glass * normal(stream) - lost;
            Abilities { tasting, ..can }
        };
        match self {
            Self::Able(can, taster) => Self::Able(now(stream, can, taster), taster),
            Self::Guesser(kind) => Self::Guesser(kind),
            Self::Copier(can, taster, neighbour) => {
                Self::Copier(now(stream, can, taster), taster, neighbour)
            }
        }
    }
    /// What is written beside a glass, the first being number 0.
    pub(super) fn tasting(
        &self,
        stream: &mut Stream,
        prepared: &Prepared<'_>,
        sample: &super::prepared::PreparedSample<'_>,
        glass: usize,
        asked: &exam_plan::Asked,
    ) -> String {
        match self {
            Self::Able(can, taster) => {
                tasting_answers::answer(stream, prepared, sample, asked, can.tasting, taster)
            }
            Self::Guesser(guesser) => tasting_answers::guess(stream, prepared, asked, *guesser),
            Self::Copier(can, taster, neighbour) => {
                let poured = neighbour.glasses.get(glass);
                let seen = poured.and_then(|poured| prepared.samples.get(&poured.sample));
                seen.map(|seen| {
                    tasting_answers::answer(stream, prepared, seen, asked, can.tasting, taster)
                })
                .unwrap_or_default()
            }
        }
    }
}

/// Whether the glass before this one held a heavy sample.
pub(super) fn after_heavy(prepared: &Prepared<'_>, place: &CandidatePlace, glass: usize) -> bool {
    glass
        .checked_sub(1)
        .and_then(|before| place.glasses.get(before))
        .and_then(|poured| prepared.samples.get(&poured.sample))
        .is_some_and(|sample| match sample.record.carry_over {
            CarryOver::Heavy => true,
            CarryOver::Ordinary => false,
        })
}

/// What goes wrong for one candidate.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Fate {
    /// Does not come.
    pub(super) absent: bool,
    /// The theory sheet cannot be read.
    pub(super) unreadable: bool,
    /// Glasses that break, by their place in the flight.
    pub(super) broken: Vec<usize>,
}

impl Fate {
    /// Drawn from a stream of its own, so that what is written stays the same.
    pub(super) fn drawn(
        seed: &ExamSeed,
        index: u64,
        place: &CandidatePlace,
        mishaps: &Mishaps,
    ) -> Self {
        if !mishaps.any() {
            return Self::default();
        }
        let mut stream = stream_at(seed, FATES | index);
        Self {
            absent: happens(&mut stream, mishaps.no_show),
            unreadable: happens(&mut stream, mishaps.unreadable_sheet),
            broken: (0..place.glasses.len())
                .filter(|_| happens(&mut stream, mishaps.broken_glass))
                .collect(),
        }
    }
    /// Whether nothing went wrong.
    pub(super) fn is_whole(&self) -> bool {
        *self == Self::default()
    }
    /// Whether nothing is left of the theory paper.
    pub(super) const fn loses_theory(&self) -> bool {
        self.absent || self.unreadable
    }
    /// What is left of a theory answer.
    pub(super) fn theory(&self, answer: String) -> String {
        if self.loses_theory() {
            String::new()
        } else {
            answer
        }
    }
    /// What is left of an answer beside a glass.
    pub(super) fn tasting(&self, glass: usize, answer: String) -> String {
        if self.absent || self.broken.contains(&glass) {
            String::new()
        } else {
            answer
        }
    }
}

/// Everything that the candidates of this sitting write in a rehearsal, in the order of the places;
/// theory by printed number, then the glasses in serving order. The same seed writes the same.
#[must_use]
pub fn simulate_answers(
    exam: &Exam,
    sitting: &Sitting,
    seed: &ExamSeed,
    population: &Population,
) -> Vec<SimulatedAnswer> {
    let prepared = Prepared::new(exam, sitting);
    let day = Day::drawn(seed, 0, false, &prepared, population);
    let mut answers = Vec::new();
    for (place, index) in prepared.places.iter().zip(0..) {
        let mut stream = stream_at(seed, index);
        let can = abilities(&mut stream, population);
        let writer = Writer::Able(can, &population.taster);
        let fate = Fate::drawn(seed, index, place, &population.mishaps);
        let form = place
            .form
            .as_ref()
            .and_then(|form| prepared.forms.get(form));
        for on_form in form.into_iter().flatten() {
            answers.push(SimulatedAnswer {
                candidate: place.candidate.clone(),
                item: Item::Theory {
                    number: on_form.number,
                    question: on_form.question.id.clone(),
                },
                answer: fate.theory(writer.theory(&mut stream, &prepared, on_form, &day)),
            });
        }
        for (poured, glass) in place.glasses.iter().zip(1..) {
            let (Some(sample), Some(part)) =
                (prepared.samples.get(&poured.sample), prepared.tasting)
            else {
                continue;
            };
            let place_of_glass = glass as usize - 1;
            let heavy = after_heavy(&prepared, place, place_of_glass);
            let writer = writer.before_glass(&mut stream, place_of_glass, heavy);
            for question in part.asked_of(exam.way_of(&place.candidate)) {
                answers.push(SimulatedAnswer {
                    candidate: place.candidate.clone(),
                    item: Item::Tasting {
                        glass,
                        code: poured.code.clone(),
                        sample: poured.sample.clone(),
                        asked: question.asked.name().to_owned(),
                    },
                    answer: fate.tasting(
                        place_of_glass,
                        writer.tasting(
                            &mut stream,
                            &prepared,
                            sample,
                            place_of_glass,
                            &question.asked,
                        ),
                    ),
                });
            }
        }
    }
    answers
}

#[cfg(test)]
mod tests;
