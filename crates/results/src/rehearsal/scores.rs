//! Where scores will lie: means, deviations, tenths and reliability, each with its simulation error.

use std::collections::BTreeMap;

use base::Marks;
use serde::Serialize;
use statistics::Refusal;
use statistics::sums::{Divisor, mean, variance};

use super::forecast::Simulated;
use super::population::Population;
use super::prepared::Prepared;
use super::reliability::{ParallelReliability, parallel};
use crate::decide::{CandidateMarks, Part, PartMarks};

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

/// The largest simulation error of a mean share of marks, over the parts; none: infinite.
pub(super) fn largest_error(simulated: &[Simulated], by_sitting: Option<usize>) -> f64 {
    let mut largest = 0.0_f64;
    for part in Part::ALL {
        let (mut shares, mut sittings) = (Vec::new(), Vec::new());
        for (number, one) in simulated.iter().enumerate() {
            if let Some(marks) = one.first.marks.part(part) {
                shares.push(marks.marks.fraction_of(marks.of));
                sittings.push(by_sitting.map_or(0, |many| number / many));
            }
        }
        if shares.is_empty() {
            continue;
        }
        largest = largest.max(error_of_mean(&shares, &sittings).unwrap_or(f64::INFINITY));
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

/// Candidates of a sitting, where difficulties differ from sitting to sitting and so make people of
/// one sitting alike; none where all sittings are one population.
pub(super) fn by_sitting(prepared: &Prepared<'_>, population: &Population) -> Option<usize> {
    (population.question_doubt > 0.0).then_some(prepared.places.len().max(1))
}

/// The two runs of one candidate, with the sitting.
type Pair = (usize, PartMarks, PartMarks);

pub(super) fn score_forecasts(
    simulated: &[Simulated],
    by_sitting: Option<usize>,
) -> Vec<ScoreForecast> {
    let mut forecasts = Vec::new();
    let whole = || {
        let numbered = simulated.iter().enumerate().filter(|(_, one)| one.whole);
        numbered.map(|(number, one)| (by_sitting.map_or(0, |many| number / many), one))
    };
    for part in Part::ALL {
        let pairs: Vec<Pair> = whole()
            .filter_map(|(sitting, one)| {
                Some((sitting, one.first.marks.part(part)?, one.second.part(part)?))
            })
            .collect();
        forecasts.extend(score_forecast(part.word(), &pairs));
    }
    if forecasts.len() > 1 {
        let pairs: Vec<Pair> = whole()
            .map(|(sitting, one)| {
                let second = plain_total(&one.second);
                (sitting, plain_total(&one.first.marks), second)
            })
            .collect();
        forecasts.extend(score_forecast("total", &pairs));
    }
    forecasts
}

/// The Monte-Carlo standard error of a mean: deviation / sqrt n; where people of one sitting are
/// alike, that of the means of sittings.
fn error_of_mean(values: &[f64], sittings: &[usize]) -> Result<f64, Refusal> {
    let mut sums: BTreeMap<usize, (f64, f64)> = BTreeMap::new();
    for (value, sitting) in values.iter().zip(sittings) {
        let sum = sums.entry(*sitting).or_default();
        sum.0 += value;
        sum.1 += 1.0;
    }
    let means: Vec<f64> = sums.values().map(|(sum, n)| sum / n).collect();
    let independent = if means.len() > 1 { &means } else { values };
    variance(independent, Divisor::CountLessOne)
        .map(|variance| (variance / independent.len() as f64).sqrt())
}

/// Values less the mean of their sitting, where there is more than one.
fn within_sittings(values: &[f64], pairs: &[Pair]) -> Vec<f64> {
    let mut sums: BTreeMap<usize, (f64, f64)> = BTreeMap::new();
    for (value, (sitting, _, _)) in values.iter().zip(pairs) {
        let sum = sums.entry(*sitting).or_default();
        sum.0 += value;
        sum.1 += 1.0;
    }
    if sums.len() < 2 {
        return values.to_vec();
    }
    let less_mean = |(value, (sitting, _, _)): (&f64, &Pair)| {
        let (sum, n) = sums.get(sitting).copied().unwrap_or((0.0, 1.0));
        value - sum / n
    };
    values.iter().zip(pairs).map(less_mean).collect()
}

fn score_forecast(what: &'static str, pairs: &[Pair]) -> Option<ScoreForecast> {
    let of = pairs.iter().map(|(_, first, _)| first.of).max()?;
    let first: Vec<f64> = pairs.iter().map(|(_, one, _)| one.marks.as_f64()).collect();
    let second: Vec<f64> = pairs.iter().map(|(_, _, two)| two.marks.as_f64()).collect();
    let mut tenths = [0; 10];
    for (_, one, _) in pairs {
        let tenth = (crate::decide::per_mille(one.marks, one.of) / 100).min(9);
        if let Some(count) = usize::try_from(tenth).ok().and_then(|t| tenths.get_mut(t)) {
            *count += 1;
        }
    }
    let n = first.len();
    let sittings: Vec<usize> = pairs.iter().map(|(sitting, _, _)| *sitting).collect();
    let deviation = variance(&first, Divisor::CountLessOne).map(f64::sqrt);
    Some(ScoreForecast {
        what,
        of,
        n,
        mean: mean(&first),
        mean_error: error_of_mean(&first, &sittings),
        deviation,
        deviation_error: deviation.map(|deviation| deviation / (2.0 * (n as f64 - 1.0)).sqrt()),
        tenths,
        reliability: parallel(
            &within_sittings(&first, pairs),
            &within_sittings(&second, pairs),
        ),
    })
}
