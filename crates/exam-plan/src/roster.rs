//! Who sits the exam.

use base::{CandidateNumber, Place};
use serde::Serialize;

/// A checked roster: every number stands, no number twice. It names nobody: see [`crate::People`].
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Roster {
    /// In the order of the table.
    pub candidates: Vec<Candidate>,
}

/// One candidate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Candidate {
    /// The number under which all papers run.
    pub number: CandidateNumber,
    /// Where the candidate sits.
    pub service: Service,
    /// Where it stands in the roster.
    pub place: Place,
    /// Where the candidate must sit, as far as the room allows.
    pub wishes: Vec<SeatWish>,
}

/// Where a candidate must sit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SeatWish {
    /// At a seat near the door.
    NearDoor,
    /// Next to this candidate, such as a helper or interpreter.
    With(CandidateNumber),
    /// Not next to this candidate.
    Apart(CandidateNumber),
}

/// Where a candidate sits and how the samples come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Service {
    /// In the room; poured in class.
    Room,
    /// Elsewhere; a posted kit of small bottles.
    Kit,
}
