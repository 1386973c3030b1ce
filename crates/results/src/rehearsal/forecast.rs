//! What to expect of a sitting: scores, reliability, guessers, wrong decisions, minutes.

use std::collections::BTreeMap;

use assembler::Sitting;
use base::{ExamSeed, Marks};
use exam_plan::Exam;
use exam_plan::plan::{Draw, PassRule};
use rayon::prelude::*;
use serde::Serialize;
use statistics::Refusal;
use statistics::descriptive::proportion::{Proportion, proportion};
use statistics::sums::mean;

use super::closer::{Closer, closer};
use super::day::Day;
use super::draws::abilities;
use super::marking::Marking;
use super::population::{Abilities, Guesser, Pace, Population};
use super::prepared::{Prepared, PreparedQuestion};
use super::reliability::{AlphaForecast, alpha};
pub use super::scores::ScoreForecast;
use super::scores::{by_sitting, largest_error, score_forecasts};
use super::script_run::{Around, Parts, ScriptScore, run};
use super::simulate::{CANDIDATES, Fate, Writer, stream_at};
use super::true_scores::ExpectedShare;
use super::verdict;
use crate::decide::{CandidateMarks, Outcome, Part, PartMarks, decide};
use crate::summary::CONFIDENCE;

/// How much is simulated.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Extent {
    /// Sittings.
    pub sittings: u32,
    /// Guessers of each kind.
    pub guessers: u32,
    /// Scripts for each of the 33 abilities at which expected scores are taken.
    pub scripts_per_ability: u32,
    /// Minutes that candidates need.
    pub pace: Pace,
    /// No more sittings once the simulation error of each part's mean share of marks is at most
    /// this; none: all of them.
    pub error_at_most: Option<f64>,
}

impl Default for Extent {
    fn default() -> Self {
        Self {
            sittings: 200,
            guessers: 2_000,
            scripts_per_ability: 120,
            pace: Pace::default(),
            error_at_most: None,
        }
    }
}

/// A forecast with everything it rests on.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Forecast {
    /// Candidates at each sitting.
    pub candidates: usize,
    /// How much was simulated.
    pub extent: Extent,
    /// Of whom.
    pub population: Population,
    /// Theory, tasting and total, as far as they are asked.
    pub scores: Vec<ScoreForecast>,
    /// Alpha of the theory paper; none without one.
    pub alpha: Option<AlphaForecast>,
    /// How decisions come out and how often they are wrong.
    pub decisions: DecisionForecast,
    /// How well difficulties are known; none without a theory paper.
    pub difficulties: Option<Difficulties>,
    /// Whether forms are drawn by lot.
    pub by_lot: bool,
    /// What people mark; none where machines mark everything.
    pub by_people: Option<ByPeople>,
    /// How far each kind of guesser comes.
    pub guessers: Vec<GuesserForecast>,
    /// Minutes needed beside minutes given.
    pub minutes: Vec<MinutesForecast>,
    /// A closer look: the error at the cut, moved cuts, extra credit, forms and orders, idle
    /// questions, longer parts.
    pub closer: Closer,
    /// The verdict in plain sentences, what matters most first.
    pub verdict: Vec<String>,
}

/// How decisions come out over all simulated candidates.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DecisionForecast {
    /// Who passes.
    pub passes: Result<Proportion, Refusal>,
    /// Who passes although the expected score of that ability does not, among all candidates.
    pub wrong_passes: Result<Proportion, Refusal>,
    /// Who fails although the expected score of that ability passes, among all candidates.
    pub wrong_fails: Result<Proportion, Refusal>,
    /// Whose result waits for a person.
    pub waiting: usize,
}

/// How far one kind of guesser comes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GuesserForecast {
    /// The kind.
    pub guesser: Guesser,
    /// Mean share of each part's marks.
    pub mean_share: Vec<(Part, f64)>,
    /// How many pass the exam, with Wilson's interval.
    pub passes: Result<Proportion, Refusal>,
    /// How many reach the cut of each part that has one.
    pub by_part: Vec<(Part, Result<Proportion, Refusal>)>,
}

/// How well the difficulties of the questions on the forms are known.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Difficulties {
    /// Different counted questions.
    pub questions: usize,
    /// Of these known by the author's guess alone.
    pub by_guess: usize,
    /// Standard error of a form's expected marks by that, in marks; the largest of all forms.
    pub error: f64,
}

/// What people mark of the theory paper.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ByPeople {
    /// Their marks, of the form that has most of them.
    pub marks: f64,
    /// Of so many marks in all.
    pub of: f64,
    /// Standard deviation of a result by the severity of the markers alone, in marks.
    pub severity: f64,
}

/// Minutes needed beside minutes given.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MinutesForecast {
    /// Which part.
    pub part: Part,
    /// Needed at the stated pace.
    pub needed: f64,
    /// Given by the plan.
    pub given: u32,
}

pub(super) struct Simulated {
    pub(super) can: Abilities,
    pub(super) first: ScriptScore,
    pub(super) second: CandidateMarks,
    /// Counted marks of each glass in the second run, in serving order.
    pub(super) second_glasses: Vec<f64>,
    /// Whether nothing went wrong for the candidate.
    pub(super) whole: bool,
}

/// Simulates and forecasts. The same seed gives the same figures with any number of threads, since
/// each script has its own stream and sums run in the order of the scripts.
#[must_use]
pub fn forecast(
    exam: &Exam,
    sitting: &Sitting,
    seed: &ExamSeed,
    population: &Population,
    extent: &Extent,
    marking: &dyn Marking,
) -> Forecast {
    let prepared = Prepared::new(exam, sitting);
    let simulated = sittings(&prepared, seed, population, extent, marking);
    let scores = score_forecasts(&simulated, by_sitting(&prepared, population));
    let truths = true_standings(&prepared, seed, population, extent, marking, &simulated);
    let decisions = decisions(&exam.plan.pass, &simulated, &truths);
    let closer = closer(exam, &prepared, &simulated, &truths);
    let used = simulated.len() / prepared.places.len().max(1);
    let extent = &Extent {
        sittings: u32::try_from(used).unwrap_or(u32::MAX),
        ..*extent
    };
    let mut forecast = Forecast {
        candidates: prepared.places.len(),
        extent: *extent,
        population: *population,
        scores,
        alpha: alpha_of(&prepared, &simulated),
        decisions,
        difficulties: assembler::forms_beside(&exam.bank, &exam.plan, &sitting.forms).map(
            |beside| Difficulties {
                questions: beside.known_from.iter().sum(),
                by_guess: beside.known_from[2],
                error: beside.uncertainty,
            },
        ),
        by_lot: exam
            .plan
            .theory
            .as_ref()
            .is_some_and(|theory| match theory.draw {
                Draw::ByLot | Draw::ByLotWithin(_) => true,
                Draw::NearBest(_) => false,
            }),
        by_people: by_people(&prepared, population),
        guessers: Guesser::ALL
            .into_iter()
            .map(|kind| guessers(exam, &prepared, seed, population, extent, marking, kind))
            .collect(),
        minutes: minutes(exam, &extent.pace),
        closer,
        verdict: Vec::new(),
    };
    forecast.verdict = verdict::sentences(&forecast);
    forecast
}

pub(super) fn sittings(
    prepared: &Prepared<'_>,
    seed: &ExamSeed,
    population: &Population,
    extent: &Extent,
    marking: &dyn Marking,
) -> Vec<Simulated> {
    let one = |sitting: &[Day; 2], number: u64, candidate: usize, place| {
        let [day, other_day] = sitting;
        let mut stream = stream_at(seed, number);
        let can = abilities(&mut stream, population);
        let writer = Writer::Able(can, &population.taster);
        let mut around = Around {
            fate: Fate::drawn(seed, number, place, &population.mishaps),
            ..Around::unharmed(day, seed, number, candidate)
        };
        let first = run(
            &mut stream,
            prepared,
            marking,
            place,
            writer,
            Parts::Both,
            &mut around,
        );
        let index = (1 << 62) | number;
        let mut again = stream_at(seed, index);
        let mut unharmed = Around::unharmed(other_day, seed, index, candidate + 1);
        let second = run(
            &mut again,
            prepared,
            marking,
            place,
            writer,
            Parts::Both,
            &mut unharmed,
        );
        Simulated {
            can,
            first,
            second: second.marks,
            second_glasses: second.glasses,
            whole: around.fate.is_whole(),
        }
    };
    let studied = STUDIED.div_ceil(prepared.places.len().max(1) as u64);
    let some = |first: u32, beyond: u32| -> Vec<Simulated> {
        (first..beyond)
            .into_par_iter()
            .flat_map_iter(|sitting| {
                let sitting = u64::from(sitting);
                let days = [false, true]
                    .map(|again| Day::drawn(seed, sitting, again, prepared, population));
                let scripts: Vec<Simulated> = prepared
                    .places
                    .iter()
                    .enumerate()
                    .map(|(candidate, place)| {
                        let number = sitting * CANDIDATES + candidate as u64;
                        let mut one = one(&days, number, candidate, place);
                        if sitting >= studied {
                            // Sums are kept of all scripts, single marks of enough of them.
                            one.first.questions = Vec::new();
                            one.first.glasses = Vec::new();
                            one.second_glasses = Vec::new();
                        }
                        one
                    })
                    .collect();
                scripts
            })
            .collect()
    };
    let Some(enough) = extent.error_at_most else {
        return some(0, extent.sittings);
    };
    let mut simulated = Vec::new();
    let mut next = 0;
    while next < extent.sittings {
        let beyond = next.saturating_add(BATCH).min(extent.sittings);
        simulated.extend(some(next, beyond));
        next = beyond;
        if largest_error(&simulated, by_sitting(prepared, population)) <= enough {
            break;
        }
    }
    simulated
}

/// The marks of single questions and glasses are kept of at least so many scripts, in whole
/// sittings: a correlation of so many has a simulation error below 0.01.
const STUDIED: u64 = 20_000;
/// Sittings after which it is looked whether the simulation error is small enough.
const BATCH: u32 = 50;

/// What people mark, on the form that has most of it.
fn by_people(prepared: &Prepared<'_>, population: &Population) -> Option<ByPeople> {
    let of_form = |form: &Vec<PreparedQuestion<'_>>| {
        let marks = |by_people: bool| -> f64 {
            form.iter()
                .filter(|q| q.counts && (q.is_marked_by_people() || !by_people))
                .map(|q| q.question.marks.as_f64())
                .sum()
        };
        (marks(true), marks(false))
    };
    let (marks, of) = prepared
        .forms
        .values()
        .map(of_form)
        .max_by(|one, other| one.0.total_cmp(&other.0))?;
    // Two of them mark each script.
    let each = f64::from(population.markers.number.clamp(1, 2));
    (marks > 0.0).then(|| ByPeople {
        marks,
        of,
        severity: marks * population.markers.severity / each.sqrt(),
    })
}

fn alpha_of(prepared: &Prepared<'_>, simulated: &[Simulated]) -> Option<AlphaForecast> {
    let mut tables: BTreeMap<&str, Vec<Vec<&[f64]>>> = BTreeMap::new();
    for scripts in simulated.chunks(prepared.places.len().max(1)) {
        let mut by_form: BTreeMap<&str, Vec<&[f64]>> = BTreeMap::new();
        for (place, script) in prepared.places.iter().zip(scripts) {
            if let Some(form) = &place.form {
                let row = script.first.questions.as_slice();
                if row.is_empty() {
                    continue;
                }
                by_form.entry(form.as_str()).or_default().push(row);
            }
        }
        for (form, rows) in by_form {
            tables.entry(form).or_default().push(rows);
        }
    }
    (!tables.is_empty()).then(|| alpha(&tables))
}

/// What each simulated candidate would have on average over many sittings.
fn true_standings(
    prepared: &Prepared<'_>,
    seed: &ExamSeed,
    population: &Population,
    extent: &Extent,
    marking: &dyn Marking,
    simulated: &[Simulated],
) -> Vec<CandidateMarks> {
    let scripts = u64::from(extent.scripts_per_ability);
    let expected =
        |part| ExpectedShare::simulated(part, scripts, prepared, marking, seed, population);
    let (theory, tasting) = (expected(Part::Theory), expected(Part::Tasting));
    let truth = |part: Option<PartMarks>, share: f64| {
        part.map(|part| PartMarks {
            marks: part.of.credit(share).unwrap_or(Marks::ZERO),
            of: part.of,
            ..PartMarks::default()
        })
    };
    let standing = |one: &Simulated| CandidateMarks {
        theory: truth(one.first.marks.theory, theory.at(one.can.theory)),
        tasting: truth(one.first.marks.tasting, tasting.at(one.can.tasting)),
        answered_anything: true,
        ..CandidateMarks::default()
    };
    simulated.iter().map(standing).collect()
}

/// How decisions come out under a rule, against what the same rule says of true standings.
pub(super) fn decisions(
    pass: &PassRule,
    simulated: &[Simulated],
    truths: &[CandidateMarks],
) -> DecisionForecast {
    let (mut passes, mut wrong_passes, mut wrong_fails, mut waiting) = (0, 0, 0, 0);
    for (one, truth) in simulated.iter().zip(truths) {
        let should_pass = decide(pass, truth).outcome == Outcome::Pass;
        match decide(pass, &one.first.marks).outcome {
            Outcome::Pass => {
                passes += 1;
                wrong_passes += usize::from(!should_pass);
            }
            Outcome::Fail | Outcome::Absent => wrong_fails += usize::from(should_pass),
            Outcome::Waiting => waiting += 1,
        }
    }
    let share = |count| proportion(count, simulated.len() - waiting, CONFIDENCE);
    DecisionForecast {
        passes: share(passes),
        wrong_passes: share(wrong_passes),
        wrong_fails: share(wrong_fails),
        waiting,
    }
}

fn guessers(
    exam: &Exam,
    prepared: &Prepared<'_>,
    seed: &ExamSeed,
    population: &Population,
    extent: &Extent,
    marking: &dyn Marking,
    kind: Guesser,
) -> GuesserForecast {
    let kind_number = match kind {
        Guesser::Blind => 0,
        Guesser::Lister => 1,
        Guesser::Copier => 2,
    };
    let first = (1 << 63) | (kind_number << 48);
    let places = prepared.places.len().max(1);
    let day = Day::usual(population);
    let scripts: Vec<CandidateMarks> = (0..extent.guessers)
        .into_par_iter()
        .filter_map(|number| {
            let place = prepared
                .places
                .get(usize::try_from(number).ok()? % places)?;
            let mut stream = stream_at(seed, first + u64::from(number));
            let at = usize::try_from(number).ok()? % places;
            let neighbour = prepared.neighbour.get(at).copied().flatten();
            let writer = match (kind, neighbour.and_then(|other| prepared.places.get(other))) {
                (Guesser::Copier, Some(neighbour)) => {
                    let can = abilities(&mut stream, population);
                    Writer::Copier(can, &population.taster, neighbour)
                }
                (Guesser::Blind | Guesser::Lister | Guesser::Copier, _) => Writer::Guesser(kind),
            };
            let index = first + u64::from(number);
            let mut unharmed = Around::unharmed(&day, seed, index, at);
            Some(
                run(
                    &mut stream,
                    prepared,
                    marking,
                    place,
                    writer,
                    Parts::Both,
                    &mut unharmed,
                )
                .marks,
            )
        })
        .collect();
    let decided: Vec<_> = scripts
        .iter()
        .map(|marks| decide(&exam.plan.pass, marks))
        .collect();
    let passed = decided.iter().filter(|made| made.outcome == Outcome::Pass);
    let mut mean_share = Vec::new();
    let mut by_part = Vec::new();
    for part in Part::ALL {
        let shares: Vec<f64> = scripts
            .iter()
            .filter_map(|marks| marks.part(part))
            .map(|marks| marks.marks.fraction_of(marks.of))
            .collect();
        mean_share.extend(mean(&shares).ok().map(|share| (part, share)));
        let reached: Vec<_> = decided
            .iter()
            .flat_map(|made| &made.parts)
            .filter(|made| made.part == part)
            .filter_map(|made| made.reached)
            .collect();
        if !reached.is_empty() {
            let yes = reached
                .iter()
                .filter(|r| **r == crate::decide::Reached::Yes);
            by_part.push((part, proportion(yes.count(), reached.len(), CONFIDENCE)));
        }
    }
    GuesserForecast {
        guesser: kind,
        mean_share,
        passes: proportion(passed.count(), scripts.len(), CONFIDENCE),
        by_part,
    }
}

fn minutes(exam: &Exam, pace: &Pace) -> Vec<MinutesForecast> {
    let theory = exam.plan.theory.as_ref().map(|part| MinutesForecast {
        part: Part::Theory,
        needed: pace.per_question * f64::from(part.counted() + part.uncounted()),
        given: part.minutes,
    });
    let tasting = exam.plan.tasting.as_ref().map(|part| MinutesForecast {
        part: Part::Tasting,
        needed: pace.per_glass * part.samples.len() as f64,
        given: part.minutes,
    });
    theory.into_iter().chain(tasting).collect()
}

#[cfg(test)]
mod tests;
