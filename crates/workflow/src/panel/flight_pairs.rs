//! Which samples of a flight candidates could not tell apart.

use std::path::Path;

use question_bank::SampleRecord;
use question_bank::flight_care::distance;
use serde::Serialize;

use super::records::Records;
use crate::failure::Failure;
use crate::surroundings::Surroundings;

/// All pairs of a flight, or of a bank.
#[derive(Debug, Clone, Serialize)]
pub struct PairsReport {
    /// The nearest first; pairs without a figure last.
    pub pairs: Vec<PairLine>,
}

/// One pair.
#[derive(Debug, Clone, Serialize)]
pub struct PairLine {
    /// One sample.
    pub first: String,
    /// The other.
    pub second: String,
    /// The distance; none where it is not given.
    pub d_prime: Option<f64>,
    /// Its 95 % limits.
    pub interval: Option<[f64; 2]>,
    /// Share of pairs told apart.
    pub told_apart: Option<f64>,
    /// Whether they are twins.
    pub twin: bool,
    /// Assessors of both panels.
    pub n: [usize; 2],
    /// Why there is no figure.
    pub not_given: Option<String>,
}

/// Sets every two samples of a folder side by side.
///
/// # Errors
/// When the folder cannot be read or has fewer than two samples.
pub fn flight_pairs(around: &dyn Surroundings, folder: &Path) -> Result<PairsReport, Failure> {
    let records = Records::load(around, folder, None)?.records;
    if records.len() < 2 {
        return Err(Failure::Refused {
            what: "one sample alone has nothing to be told apart from".to_owned(),
            hint: "name a folder with two samples or more".to_owned(),
        });
    }
    let mut pairs = Vec::new();
    for (place, one) in records.iter().enumerate() {
        for other in records.iter().skip(place + 1) {
            pairs.push(line(one, other));
        }
    }
    let height = |line: &PairLine| line.d_prime.unwrap_or(f64::INFINITY);
    pairs.sort_by(|a, b| height(a).total_cmp(&height(b)));
    Ok(PairsReport { pairs })
}

fn line(one: &SampleRecord, other: &SampleRecord) -> PairLine {
    let found = distance(one, other);
    PairLine {
        first: one.id.to_string(),
        second: other.id.to_string(),
        d_prime: found.as_ref().ok().map(|d| d.d_prime),
        interval: found
            .as_ref()
            .ok()
            .map(|d| [d.interval.lower, d.interval.upper]),
        told_apart: found.as_ref().ok().map(|d| d.share_told_apart),
        twin: found.as_ref().is_ok_and(|d| d.is_twin()),
        n: [one.tasting.assessors.len(), other.tasting.assessors.len()],
        not_given: found.err().map(|refusal| refusal.to_string()),
    }
}
