//! Who sits the exam.

use base::{CandidateNumber, Place};
use serde::Serialize;

use crate::part::Part;

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
    /// Who teaches the candidate, by the names under which they mark: they do not mark this one.
    pub teachers: Vec<String>,
    /// Whether the candidate tastes or noses only.
    pub way: TastingWay,
    /// A part that was passed in an earlier sitting and is not sat again.
    pub brings: Option<BroughtPart>,
}

/// How a candidate meets the glasses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TastingWay {
    /// By eye, nose and palate.
    #[default]
    Full,
    /// By eye and nose: nothing is drunk, and nothing is asked that the palate would have to say.
    NosingOnly,
}

/// A part that was passed in an earlier sitting.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BroughtPart {
    /// Which.
    pub part: Part,
    /// The day of that sitting, `YYYY-MM-DD`.
    pub passed_on: String,
    /// The share of its marks in thousandths.
    pub per_mille: u32,
}

impl BroughtPart {
    /// "theory of 2026-06-12 with 68.5 %".
    #[must_use]
    pub fn in_words(&self) -> String {
        format!(
            "{} of {} with {}.{} %",
            self.part,
            self.passed_on,
            self.per_mille / 10,
            self.per_mille % 10
        )
    }
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
