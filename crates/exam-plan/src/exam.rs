//! Everything one exam is made from, after checking: what the assembler takes.

use std::collections::BTreeMap;

use base::{CandidateNumber, SampleId};
use question_bank::{Bank, SampleRecord};

use crate::plan::Plan;
use crate::room::Room;
use crate::roster::{BroughtPart, Candidate, Roster, TastingWay};

/// A checked exam: the plan, the bank it names, the numbers and the seats. It
/// names nobody.
#[derive(Debug, Clone, PartialEq)]
pub struct Exam {
    /// What the exam consists of.
    pub plan: Plan,
    /// The bank.
    pub bank: Bank,
    /// Sample records of the exam folder; they go before the bank's.
    pub own_samples: BTreeMap<SampleId, SampleRecord>,
    /// Who sits it, by number.
    pub roster: Roster,
    /// Where.
    pub room: Room,
}

impl Exam {
    /// A sample record by its id: the exam's own before the bank's.
    #[must_use]
    pub fn sample(&self, id: &SampleId) -> Option<&SampleRecord> {
        self.own_samples
            .get(id)
            .or_else(|| self.bank.samples.get(id))
    }

    /// A candidate of the roster.
    #[must_use]
    pub fn candidate(&self, number: &CandidateNumber) -> Option<&Candidate> {
        self.roster
            .candidates
            .iter()
            .find(|candidate| candidate.number == *number)
    }

    /// How this candidate meets the glasses.
    #[must_use]
    pub fn way_of(&self, number: &CandidateNumber) -> TastingWay {
        self.candidate(number)
            .map_or(TastingWay::Full, |candidate| candidate.way)
    }

    /// The part that this candidate brings along from an earlier sitting.
    #[must_use]
    pub fn brought_by(&self, number: &CandidateNumber) -> Option<&BroughtPart> {
        self.candidate(number)?.brings.as_ref()
    }
}
