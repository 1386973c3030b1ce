//! Which glasses a second person looks at after pouring, against the pour sheet.
//!
//! Three glasses by lot, of different samples and candidates as far as there are. Purpose "cross
//! check".

use base::{CandidateNumber, ExamSeed, Purpose, SampleId, SeatName, Stream};

use crate::sitting::Sitting;

/// So many glasses are looked at.
pub const GLASSES_TO_CHECK: usize = 3;

/// One glass to be looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CrossCheck {
    /// Whose.
    pub candidate: CandidateNumber,
    /// At which seat; none by kit.
    pub seat: Option<SeatName>,
    /// Its place in the serving order, counted from 1.
    pub glass: usize,
    /// The code that must be on it.
    pub code: String,
    /// What must be in it.
    pub sample: SampleId,
}

/// Draws the glasses to be looked at; fewer where there are fewer.
#[must_use]
pub fn cross_checks(sitting: &Sitting, seed: &ExamSeed) -> Vec<CrossCheck> {
    let mut all: Vec<CrossCheck> = sitting
        .places
        .iter()
        .flat_map(|place| {
            place
                .glasses
                .iter()
                .enumerate()
                .map(|(number, glass)| CrossCheck {
                    candidate: place.candidate.clone(),
                    seat: place.seat.clone(),
                    glass: number + 1,
                    code: glass.code.clone(),
                    sample: glass.sample.clone(),
                })
        })
        .collect();
    Stream::new(seed, Purpose::CrossCheck, 0).shuffle(&mut all);
    let mut chosen: Vec<CrossCheck> = Vec::new();
    while chosen.len() < GLASSES_TO_CHECK && !all.is_empty() {
        let met = |check: &CrossCheck| {
            let samples = chosen.iter().filter(|c| c.sample == check.sample).count();
            let candidates = chosen
                .iter()
                .filter(|c| c.candidate == check.candidate)
                .count();
            (samples, candidates)
        };
        // The first of the shuffled with fewest in common: ties go by lot.
        let next = (0..all.len()).min_by_key(|&place| met(&all[place]));
        let Some(next) = next else { break };
        chosen.push(all.remove(next));
    }
    chosen
}
