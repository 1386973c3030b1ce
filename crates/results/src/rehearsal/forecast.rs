//! What to expect of a sitting: scores, reliability, guessers, wrong decisions, minutes.

use std::collections::BTreeMap;

use assembler::Sitting;
use base::{ExamSeed, Marks};
use exam_plan::Exam;
use exam_plan::plan::PassRule;
use rayon::prelude::*;
use serde::Serialize;
use statistics::Refusal;
use statistics::descriptive::proportion::{Proportion, proportion};
use statistics::sums::{Divisor, mean, variance};

use super::closer::{Closer, closer};
use super::draws::abilities;
use super::marking::Marking;
use super::population::{Abilities, Guesser, Pace, Population};
use super::prepared::Prepared;
use super::reliability::{AlphaForecast, ParallelReliability, alpha, parallel};
use super::script_run::{Parts, ScriptScore, run};
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

/// Where the scores of a part or of the total will lie.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ScoreForecast {
    /// `theory`, `tasting` or `total`.
    pub what: &'static str,
    /// Full marks; the largest where forms differ.
    pub of: Marks,
    /// Scripts simulated.
    pub n: usize,
    /// Mean, in marks.
    pub mean: Result<f64, Refusal>,
    /// Monte-Carlo standard error of the mean: deviation / sqrt n.
    pub mean_error: Result<f64, Refusal>,
    /// Standard deviation, in marks.
    pub deviation: Result<f64, Refusal>,
    /// Monte-Carlo standard error of the deviation: deviation / sqrt(2 (n − 1)), for scores that
    /// are nearly normal.
    pub deviation_error: Result<f64, Refusal>,
    /// How many scripts lie in each tenth of the full marks; full marks lie in the last.
    pub tenths: [u32; 10],
    /// Reliability by two runs of the same people.
    pub reliability: Result<ParallelReliability, Refusal>,
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
    let scores = score_forecasts(&simulated);
    let truths = true_standings(&prepared, seed, population, extent, marking, &simulated);
    let decisions = decisions(&exam.plan.pass, &simulated, &truths);
    let closer = closer(exam, &prepared, &simulated, &truths, &scores);
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
        guessers: Guesser::ALL
            .into_iter()
            .map(|kind| guessers(exam, &prepared, seed, population, extent, marking, kind))
            .collect(),
        minutes: minutes(exam, &extent.pace),
        closer,
        verdict: Vec::new(),
    };
    forecast.verdict = verdict::sentences(exam, &forecast);
    forecast
}

pub(super) fn sittings(
    prepared: &Prepared<'_>,
    seed: &ExamSeed,
    population: &Population,
    extent: &Extent,
    marking: &dyn Marking,
) -> Vec<Simulated> {
    let one = |number: u64, place| {
        let mut stream = stream_at(seed, number);
        let can = abilities(&mut stream, population);
        let writer = Writer::Able(can, &population.taster);
        let fate = Fate::drawn(seed, number, place, &population.mishaps);
        let first = run(
            &mut stream,
            prepared,
            marking,
            place,
            writer,
            Parts::Both,
            &fate,
        );
        let mut again = stream_at(seed, (1 << 62) | number);
        let unharmed = Fate::default();
        let second = run(
            &mut again,
            prepared,
            marking,
            place,
            writer,
            Parts::Both,
            &unharmed,
        );
        Simulated {
            can,
            first,
            second: second.marks,
            whole: fate.is_whole(),
        }
    };
    let some = |first: u32, beyond: u32| -> Vec<Simulated> {
        (first..beyond)
            .into_par_iter()
            .flat_map_iter(|sitting| {
                let places = prepared.places.iter().zip(0..);
                places.map(move |(place, candidate)| {
                    one(u64::from(sitting) * CANDIDATES + candidate, place)
                })
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
        if largest_error(&simulated) <= enough {
            break;
        }
    }
    simulated
}

/// Sittings after which it is looked whether the simulation error is small enough.
const BATCH: u32 = 50;

/// The largest simulation error of a mean share of marks, over the parts; none: infinite.
fn largest_error(simulated: &[Simulated]) -> f64 {
    let mut largest = 0.0_f64;
    for part in Part::ALL {
        let shares: Vec<f64> = simulated
            .iter()
            .filter_map(|one| one.first.marks.part(part))
            .map(|marks| marks.marks.fraction_of(marks.of))
            .collect();
        if shares.is_empty() {
            continue;
        }
        let error = variance(&shares, Divisor::CountLessOne).map_or(f64::INFINITY, |variance| {
            (variance / shares.len() as f64).sqrt()
        });
        largest = largest.max(error);
    }
    largest
}

fn plain_total(marks: &CandidateMarks) -> PartMarks {
    let mut total = PartMarks::default();
    for part in Part::ALL.into_iter().filter_map(|part| marks.part(part)) {
        total.marks += part.marks;
        total.of += part.of;
    }
    total
}

fn score_forecasts(simulated: &[Simulated]) -> Vec<ScoreForecast> {
    let mut forecasts = Vec::new();
    for part in Part::ALL {
        let pairs: Vec<_> = simulated
            .iter()
            .filter(|one| one.whole)
            .filter_map(|one| Some((one.first.marks.part(part)?, one.second.part(part)?)))
            .collect();
        forecasts.extend(score_forecast(part.word(), &pairs));
    }
    if forecasts.len() > 1 {
        let pairs: Vec<_> = simulated
            .iter()
            .filter(|one| one.whole)
            .map(|one| (plain_total(&one.first.marks), plain_total(&one.second)))
            .collect();
        forecasts.extend(score_forecast("total", &pairs));
    }
    forecasts
}

fn score_forecast(what: &'static str, pairs: &[(PartMarks, PartMarks)]) -> Option<ScoreForecast> {
    let of = pairs.iter().map(|(first, _)| first.of).max()?;
    let first: Vec<f64> = pairs.iter().map(|(one, _)| one.marks.as_f64()).collect();
    let second: Vec<f64> = pairs.iter().map(|(_, two)| two.marks.as_f64()).collect();
    let mut tenths = [0; 10];
    for (one, _) in pairs {
        let tenth = (crate::decide::per_mille(one.marks, one.of) / 100).min(9);
        if let Some(count) = usize::try_from(tenth).ok().and_then(|t| tenths.get_mut(t)) {
            *count += 1;
        }
    }
    let n = first.len();
    let deviation = variance(&first, Divisor::CountLessOne).map(f64::sqrt);
    Some(ScoreForecast {
        what,
        of,
        n,
        mean: mean(&first),
        mean_error: deviation.map(|deviation| deviation / (n as f64).sqrt()),
        deviation,
        deviation_error: deviation.map(|deviation| deviation / (2.0 * (n as f64 - 1.0)).sqrt()),
        tenths,
        reliability: parallel(&first, &second),
    })
}

fn alpha_of(prepared: &Prepared<'_>, simulated: &[Simulated]) -> Option<AlphaForecast> {
    let mut tables: BTreeMap<&str, Vec<Vec<&[f64]>>> = BTreeMap::new();
    for scripts in simulated.chunks(prepared.places.len().max(1)) {
        let mut by_form: BTreeMap<&str, Vec<&[f64]>> = BTreeMap::new();
        for (place, script) in prepared.places.iter().zip(scripts) {
            if let Some(form) = &place.form {
                let row = script.first.questions.as_slice();
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
            let unharmed = Fate::default();
            Some(
                run(
                    &mut stream,
                    prepared,
                    marking,
                    place,
                    writer,
                    Parts::Both,
                    &unharmed,
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
        needed: pace.per_question * f64::from(part.counted() + part.pretest),
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
