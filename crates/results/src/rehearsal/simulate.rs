//! The answers of one simulated sitting, in the shape of a table of real answers.

use assembler::Sitting;
use base::{CandidateNumber, ExamSeed, Purpose, Stream};
use exam_plan::Exam;
use grader::Item;

use super::draws::{abilities, normal};
use super::population::Abilities;
use super::population::{Guesser, Population, Taster};
use super::prepared::Prepared;
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
}

impl Writer<'_> {
    pub(super) fn theory(
        &self,
        stream: &mut Stream,
        on_form: &super::prepared::PreparedQuestion<'_>,
    ) -> String {
        match self {
            Self::Able(can, _) => {
                theory_answers::answer(stream, &on_form.question, on_form.order, can.theory)
            }
            Self::Guesser(_) => theory_answers::guess(stream, &on_form.question, on_form.order),
        }
    }
    /// The writer before one glass: what a taster can do differs from glass to glass.
    pub(super) fn before_glass(self, stream: &mut Stream) -> Self {
        match self {
            Self::Able(can, taster) => {
                let tasting = can.tasting + taster.from_glass_to_glass * normal(stream);
                Self::Able(Abilities { tasting, ..can }, taster)
            }
            Self::Guesser(kind) => Self::Guesser(kind),
        }
    }
    pub(super) fn tasting(
        &self,
        stream: &mut Stream,
        prepared: &Prepared<'_>,
        sample: &super::prepared::PreparedSample<'_>,
        asked: &exam_plan::Asked,
    ) -> String {
        match self {
            Self::Able(can, taster) => {
                tasting_answers::answer(stream, prepared, sample, asked, can.tasting, taster)
            }
            Self::Guesser(guesser) => tasting_answers::guess(stream, prepared, asked, *guesser),
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
    let mut answers = Vec::new();
    for (place, index) in prepared.places.iter().zip(0..) {
        let mut stream = stream_at(seed, index);
        let can = abilities(&mut stream, population);
        let writer = Writer::Able(can, &population.taster);
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
                answer: writer.theory(&mut stream, on_form),
            });
        }
        for (poured, glass) in place.glasses.iter().zip(1..) {
            let (Some(sample), Some(part)) =
                (prepared.samples.get(&poured.sample), prepared.tasting)
            else {
                continue;
            };
            let writer = writer.before_glass(&mut stream);
            for question in &part.ask {
                answers.push(SimulatedAnswer {
                    candidate: place.candidate.clone(),
                    item: Item::Tasting {
                        glass,
                        code: poured.code.clone(),
                        sample: poured.sample.clone(),
                        asked: question.asked.name().to_owned(),
                    },
                    answer: writer.tasting(&mut stream, &prepared, sample, &question.asked),
                });
            }
        }
    }
    answers
}
