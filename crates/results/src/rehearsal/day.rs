//! What is the same for everybody on one simulated day: how hard the questions turn out to be, and
//! how severe the markers are.
//!
//! The bank knows a difficulty with a standard error; on each simulated day every question's
//! difficulty is moved by a normal number of that size (times [`Population::question_doubt`]), for
//! all candidates alike. Markers have a severity of the day. Both are drawn from streams of their
//! own, so that no answer changes by them.

use std::collections::BTreeMap;

use base::{ExamSeed, QuestionId, Stream};

use super::draws::normal;
use super::population::Population;
use super::prepared::{Prepared, PreparedQuestion};
use super::simulate::{CANDIDATES, stream_at};

/// Days have the index of their sitting and this.
const DAYS: u64 = 1 << 60;
/// What markers give a script has the script's index and this.
const SCRIPTS: u64 = 1 << 59;

/// One day.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Day {
    shifts: BTreeMap<QuestionId, f64>,
    severities: Vec<f64>,
    scatter: f64,
}

impl Day {
    /// A day on which questions are as hard as the bank says and markers neither hard nor soft.
    pub(super) fn usual(population: &Population) -> Self {
        Self {
            shifts: BTreeMap::new(),
            severities: vec![0.0; population.markers.number.max(1) as usize],
            scatter: population.markers.scatter,
        }
    }

    /// The day of a sitting; `again` for the second run of the same people, who have the same
    /// questions and other markers.
    pub(super) fn drawn(
        seed: &ExamSeed,
        sitting: u64,
        again: bool,
        prepared: &Prepared<'_>,
        population: &Population,
    ) -> Self {
        let mut day = Self::usual(population);
        if population.question_doubt > 0.0 {
            let mut stream = stream_at(seed, DAYS | (sitting * CANDIDATES));
            for on_form in prepared.forms.values().flatten() {
                let id = &on_form.question.id;
                if !day.shifts.contains_key(id) {
                    let moved = population.question_doubt * on_form.error * normal(&mut stream);
                    day.shifts.insert(id.clone(), moved);
                }
            }
        }
        if prepared
            .forms
            .values()
            .flatten()
            .any(PreparedQuestion::is_marked_by_people)
        {
            let mut stream = stream_at(seed, DAYS | (sitting * CANDIDATES + 1 + u64::from(again)));
            for severity in &mut day.severities {
                *severity = population.markers.severity * normal(&mut stream);
            }
        }
        day
    }

    /// By how much harder a question is today than the bank says.
    pub(super) fn shift(&self, question: &QuestionId) -> f64 {
        self.shifts.get(question).copied().unwrap_or(0.0)
    }

    /// The share of full marks that markers give a script of this worth: the mean of two of them,
    /// which two by the candidate's number in turn.
    pub(super) fn given(&self, stream: &mut Stream, candidate: usize, worth: f64) -> f64 {
        let markers = self.severities.len().max(1);
        let each = markers.min(2);
        let sum: f64 = (0..each)
            .map(|more| {
                let severity = self.severities.get((candidate + more) % markers);
                let given = worth - severity.unwrap_or(&0.0) + self.scatter * normal(stream);
                given.clamp(0.0, 1.0)
            })
            .sum();
        sum / each as f64
    }
}

/// The stream of what markers give one script.
pub(super) fn by_hand(seed: &ExamSeed, index: u64) -> Stream {
    stream_at(seed, SCRIPTS | index)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::{Shape, exam};
    use crate::rehearsal::population::Markers;
    use crate::rehearsal::{Extent, GraderMarking, forecast};
    use exam_plan::plan::Join;
    use question_bank::QuestionKind;
    use question_bank::question_kind::Essay;

    fn day(severity: f64, scatter: f64, number: u32) -> Day {
        Day {
            shifts: BTreeMap::new(),
            severities: vec![severity; number as usize],
            scatter,
        }
    }

    #[test]
    fn markers_who_agree_give_what_a_script_is_worth() {
        let seed = ExamSeed::from_bytes([2; 32]);
        let mut stream = by_hand(&seed, 1);
        assert_eq!(day(0.0, 0.0, 2).given(&mut stream, 7, 0.6), 0.6);
        let severe = day(0.1, 0.0, 2).given(&mut stream, 7, 0.6);
        assert!((severe - 0.5).abs() < 1e-12);
        assert_eq!(day(0.9, 0.0, 1).given(&mut stream, 0, 0.6), 0.0);
    }

    #[test]
    fn two_markers_scatter_less_than_one() {
        let seed = ExamSeed::from_bytes([2; 32]);
        let spread = |number: u32| {
            let day = day(0.0, 0.1, number);
            let n = 4_000_u32;
            let mut stream = by_hand(&seed, 2);
            let squares: f64 = (0..n)
                .map(|_| {
                    let apart = day.given(&mut stream, 0, 0.5) - 0.5;
                    apart * apart
                })
                .sum();
            (squares / f64::from(n)).sqrt()
        };
        // Four standard errors of a deviation, 1 / sqrt(2 n).
        let most = 4.0 / (8_000.0_f64).sqrt();
        assert!((spread(1) / 0.1 - 1.0).abs() < most);
        assert!((spread(2) / 0.1 - 0.5_f64.sqrt()).abs() < most);
    }

    #[test]
    fn essays_are_marked_and_the_same_with_any_number_of_threads() {
        let shape = Shape {
            questions: 8,
            samples: 0,
            candidates: 10,
        };
        let each = Join::Conjunctive {
            theory: 600,
            tasting: 500,
        };
        let (mut exam, sitting) = exam(shape, each);
        let essay = exam.bank.questions.values_mut().next().unwrap();
        essay.kind = QuestionKind::Essay(Essay {
            stem: "Explain.".into(),
            lines: 5,
            rubric: Vec::new(),
            model: "Because.".into(),
        });
        let full = essay.marks.as_f64();
        let made = |severity, threads| {
            let population = Population {
                markers: Markers {
                    severity,
                    ..Markers::default()
                },
                question_doubt: 1.0,
                ..Population::default()
            };
            let extent = Extent {
                sittings: 60,
                guessers: 50,
                scripts_per_ability: 20,
                ..Extent::default()
            };
            let pool = rayon::ThreadPoolBuilder::new()
                .num_threads(threads)
                .build()
                .unwrap();
            pool.install(|| {
                let seed = ExamSeed::from_bytes([9; 32]);
                let marking = GraderMarking::new(&exam);
                forecast(&exam, &sitting, &seed, &population, &extent, &marking)
            })
        };
        let usual = made(0.05, 1);
        assert_eq!(usual, made(0.05, 3));
        assert_eq!(usual.decisions.waiting, 0);
        let by_people = usual.by_people.unwrap();
        assert!((by_people.marks - full).abs() < 1e-12);
        assert!((by_people.severity - full * 0.05 / 2.0_f64.sqrt()).abs() < 1e-12);
        let reliability =
            |made: &crate::rehearsal::Forecast| made.scores[0].reliability.as_ref().unwrap().value;
        // Markers who differ by half of the marks take reliability away.
        assert!(reliability(&made(0.5, 2)) < reliability(&usual));
    }
}
