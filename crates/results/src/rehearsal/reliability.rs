//! How far simulated scores can be told from chance: two runs of the same people, and alpha.

use std::collections::BTreeMap;

use serde::Serialize;
use statistics::descriptive::correlation_interval::correlation;
use statistics::reliability::cronbach_alpha::{CronbachAlpha, cronbach_alpha};
use statistics::{Interval, Refusal, ScoreTable};

use crate::summary::CONFIDENCE;

/// The correlation of two runs of the same people on the same paper and on glasses as hard as
/// these: the reliability of one run by its definition (parallel measurements; Lord and Novick
/// 1968). What a taster knows of each glass is drawn anew, so that it speaks of other samples too.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ParallelReliability {
    /// The correlation.
    pub value: f64,
    /// Pairs of scores.
    pub n: usize,
    /// Fisher's interval: the Monte-Carlo error.
    pub interval: Result<Interval, Refusal>,
}

/// The reliability of scores by two runs.
pub(super) fn parallel(first: &[f64], second: &[f64]) -> Result<ParallelReliability, Refusal> {
    correlation(first, second, CONFIDENCE).map(|made| ParallelReliability {
        value: made.r,
        n: made.n,
        interval: made.interval,
    })
}

/// Alpha of the theory paper over all simulated sittings, form by form, and how much it will move.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AlphaForecast {
    /// Over all candidates of all sittings, each form by itself.
    pub by_form: Vec<(String, Result<CronbachAlpha, Refusal>)>,
    /// Their mean.
    pub mean: Result<f64, Refusal>,
    /// Between these lie nine tenths of the alphas of single sittings of this size.
    pub single_sittings: Option<(f64, f64)>,
}

/// Alpha from the question marks of scripts: by form name, then by sitting, rows of marks.
pub(super) fn alpha(tables: &BTreeMap<&str, Vec<Vec<&[f64]>>>) -> AlphaForecast {
    let by_form: Vec<_> = tables
        .iter()
        .map(|(form, sittings)| {
            let rows: Vec<&[f64]> = sittings.iter().flatten().copied().collect();
            let made = ScoreTable::new(&rows).and_then(|table| cronbach_alpha(&table, CONFIDENCE));
            ((*form).to_owned(), made)
        })
        .collect();
    let mut singles: Vec<f64> = tables
        .values()
        .flatten()
        .filter_map(|rows| ScoreTable::new(rows).ok())
        .filter_map(|table| cronbach_alpha(&table, CONFIDENCE).ok())
        .map(|made| made.alpha)
        .collect();
    singles.sort_by(f64::total_cmp);
    let at = |share: f64| {
        let place = (share * singles.len().saturating_sub(1) as f64).round();
        singles.get(place as usize).copied()
    };
    let refusal = Refusal::NotDefined {
        of: "alpha",
        because: "no form has one",
    };
    let mut mean = Err(refusal);
    let known: Vec<f64> = by_form
        .iter()
        .filter_map(|(_, made)| made.as_ref().ok().map(|made| made.alpha))
        .collect();
    if !known.is_empty() {
        mean = Ok(known.iter().sum::<f64>() / known.len() as f64);
    } else if let Some((_, Err(first))) = by_form.first() {
        mean = Err(*first);
    }
    AlphaForecast {
        by_form,
        mean,
        single_sittings: at(0.05).zip(at(0.95)),
    }
}
