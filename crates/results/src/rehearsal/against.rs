//! A forecast set beside what happened: which outcomes lay where nine tenths of simulated sittings
//! of the same size lie.
//!
//! Each figure is taken from every simulated sitting by itself, so that its interval is that of one
//! sitting and not of the mean of many. Of ten outcomes about nine should lie inside; how many do,
//! over all sittings so compared, says whether forecasts can be believed.

use std::collections::BTreeMap;

use assembler::Sitting;
use base::ExamSeed;
use exam_plan::Exam;
use grader::{Award, Item};
use serde::Serialize;
use statistics::descriptive::quantile::sorted_quantile;
use statistics::sums::{Divisor, mean, variance};

use super::forecast::{Extent, Simulated, sittings};
use super::marking::Marking;
use super::population::Population;
use super::prepared::Prepared;
use crate::decide::{CandidateMarks, Outcome, Part, decide};
use crate::script::scripts;

/// Between these shares of simulated sittings an outcome is inside.
const INSIDE: (f64, f64) = (0.05, 0.95);

/// A forecast beside an outcome.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Against {
    /// Who took part.
    pub candidates: usize,
    /// Sittings simulated.
    pub sittings: u32,
    /// Figures of the class.
    pub figures: Vec<AgainstLine>,
    /// The mean share of marks of each counted question.
    pub questions: Vec<AgainstLine>,
    /// How well it was forecast, in plain sentences.
    pub verdict: Vec<String>,
}

/// One figure.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AgainstLine {
    /// What.
    pub what: String,
    /// The mean over simulated sittings.
    pub forecast: f64,
    /// Below this lies one simulated sitting in twenty.
    pub low: f64,
    /// Above this lies one in twenty.
    pub high: f64,
    /// What came out.
    pub outcome: f64,
    /// Whether it came out between low and high.
    pub inside: bool,
}

/// Figures of a class by name, in order.
type Figures = Vec<(String, f64)>;

/// Sets a forecast beside the marks of a sitting. Candidates who were absent are left out of both.
#[must_use]
pub fn against(
    exam: &Exam,
    sitting: &Sitting,
    awards: &[Award],
    seed: &ExamSeed,
    population: &Population,
    extent: &Extent,
    marking: &dyn Marking,
) -> Against {
    let scripts = scripts(exam, sitting, awards);
    let came: Vec<bool> = scripts
        .iter()
        .map(|script| script.marks.answered_anything)
        .collect();
    let outcome: Vec<CandidateMarks> = scripts.iter().map(|script| script.marks).collect();
    let prepared = Prepared::new(exam, sitting);
    let simulated = sittings(&prepared, seed, population, extent, marking);
    let chunks: Vec<&[Simulated]> = simulated.chunks(came.len().max(1)).collect();

    let mut of_class: BTreeMap<usize, (String, Vec<f64>)> = BTreeMap::new();
    for chunk in &chunks {
        let marks: Vec<CandidateMarks> = chunk.iter().map(|one| one.first.marks).collect();
        for (place, (name, value)) in class_figures(exam, &marks, &came).into_iter().enumerate() {
            of_class
                .entry(place)
                .or_insert_with(|| (name, Vec::new()))
                .1
                .push(value);
        }
    }
    let figures: Vec<AgainstLine> = class_figures(exam, &outcome, &came)
        .into_iter()
        .enumerate()
        .filter_map(|(place, (name, value))| {
            let (_, values) = of_class.remove(&place)?;
            line(name, values, value)
        })
        .collect();

    let mut of_question: BTreeMap<String, Vec<f64>> = BTreeMap::new();
    for chunk in &chunks {
        for (name, share) in simulated_shares(&prepared, chunk, &came) {
            of_question.entry(name).or_default().push(share);
        }
    }
    let mut observed: BTreeMap<String, (f64, f64)> = BTreeMap::new();
    for award in awards.iter().filter(|award| award.counts && !award.extra) {
        let here = sitting
            .places
            .iter()
            .position(|place| place.candidate == award.candidate);
        if let (Item::Theory { question, .. }, Some(true)) =
            (&award.item, here.and_then(|here| came.get(here)).copied())
        {
            let sums = observed.entry(question.to_string()).or_default();
            sums.0 += award.marks().fraction_of(award.of);
            sums.1 += 1.0;
        }
    }
    let questions: Vec<AgainstLine> = observed
        .into_iter()
        .filter_map(|(name, (sum, n))| {
            let values = of_question.remove(&name)?;
            line(name, values, sum / n)
        })
        .collect();
    let verdict = verdict(&figures, &questions);
    Against {
        candidates: came.iter().filter(|came| **came).count(),
        sittings: extent.sittings,
        figures,
        questions,
        verdict,
    }
}

fn line(what: String, mut values: Vec<f64>, outcome: f64) -> Option<AgainstLine> {
    values.sort_by(f64::total_cmp);
    let (low, high) = (
        sorted_quantile(&values, INSIDE.0).ok()?,
        sorted_quantile(&values, INSIDE.1).ok()?,
    );
    // Shares that are the same number may come of sums in another order.
    let slack = 1e-9;
    Some(AgainstLine {
        what,
        forecast: mean(&values).ok()?,
        low,
        high,
        outcome,
        inside: outcome >= low - slack && outcome <= high + slack,
    })
}

/// The figures of a class that came.
fn class_figures(exam: &Exam, marks: &[CandidateMarks], came: &[bool]) -> Figures {
    let here = || {
        marks
            .iter()
            .zip(came)
            .filter(|(_, came)| **came)
            .map(|(marks, _)| marks)
    };
    let mut figures = Vec::new();
    for part in Part::ALL {
        let shares: Vec<f64> = here()
            .filter_map(|marks| marks.part(part))
            .map(|part| part.marks.fraction_of(part.of))
            .collect();
        if let Ok(mean) = mean(&shares) {
            figures.push((format!("{part}: mean share of marks"), mean));
        }
        if let Ok(variance) = variance(&shares, Divisor::CountLessOne) {
            figures.push((
                format!("{part}: standard deviation of shares"),
                variance.sqrt(),
            ));
        }
    }
    let passes: Vec<f64> = here()
        .map(|marks| match decide(&exam.plan.pass, marks).outcome {
            Outcome::Pass => 1.0,
            Outcome::Fail | Outcome::Absent | Outcome::Waiting => 0.0,
        })
        .collect();
    if let Ok(share) = mean(&passes) {
        figures.push(("share of candidates who pass".to_owned(), share));
    }
    figures
}

/// The mean share of marks of each counted question in one simulated sitting.
fn simulated_shares(
    prepared: &Prepared<'_>,
    chunk: &[Simulated],
    came: &[bool],
) -> BTreeMap<String, f64> {
    let mut sums: BTreeMap<String, (f64, f64)> = BTreeMap::new();
    for ((place, one), came) in prepared.places.iter().zip(chunk).zip(came) {
        let form = place
            .form
            .as_ref()
            .and_then(|form| prepared.forms.get(form));
        let counted = form
            .into_iter()
            .flatten()
            .filter(|question| question.counts);
        for (question, marks) in counted.zip(&one.first.questions).filter(|_| *came) {
            let sum = sums.entry(question.question.id.to_string()).or_default();
            sum.0 += marks / question.question.marks.as_f64().max(f64::MIN_POSITIVE);
            sum.1 += 1.0;
        }
    }
    sums.into_iter()
        .map(|(name, (sum, n))| (name, sum / n))
        .collect()
}

fn verdict(figures: &[AgainstLine], questions: &[AgainstLine]) -> Vec<String> {
    let mut all = Vec::new();
    for figure in figures.iter().filter(|figure| !figure.inside) {
        let side = if figure.outcome < figure.low {
            "below"
        } else {
            "above"
        };
        all.push(format!(
            "{} came out at {:.2}, {side} the {:.2} to {:.2} that nine sittings in ten should have.",
            figure.what, figure.outcome, figure.low, figure.high
        ));
    }
    let inside = |lines: &[AgainstLine]| lines.iter().filter(|line| line.inside).count();
    all.push(format!(
        "{} of {} figures of the class lie where nine in ten should.",
        inside(figures),
        figures.len()
    ));
    if !questions.is_empty() {
        let harder = questions.iter().filter(|q| q.outcome < q.low).count();
        let easier = questions.iter().filter(|q| q.outcome > q.high).count();
        all.push(format!(
            "{} of {} questions do; {harder} were harder than forecast, {easier} easier.",
            inside(questions),
            questions.len()
        ));
    }
    all
}
