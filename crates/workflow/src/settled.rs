//! From awards as the rules give them to awards that stand: what was answered twice waits, then what
//! happened in the room counts, then what persons decided. Marking and regrading both go this way, so
//! that they cannot differ.

use std::collections::BTreeMap;

use base::Fault;
use grader::{Award, Outcome, Rulings};
use register::{AnswerEntry, Beside};
use results::marker::Marker;
use results::regrade::item_name;

use crate::decisions::settle;
use crate::incidents::{Incident, apply};

/// How the reason begins where a script gave two answers.
const ANSWERED_TWICE: &str = "answered twice";

/// What awards are settled by, besides the rules.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SettledBy<'a> {
    /// The answers with the lines they came from.
    pub answers: &'a [AnswerEntry],
    /// What happened in the room.
    pub happened: &'a [Incident],
    /// What persons decided.
    pub rulings: &'a Rulings,
}

/// What settling found.
#[derive(Debug, Default)]
pub(crate) struct Settled {
    /// What the ledger must say beside the marks.
    pub noted: Vec<Beside>,
    /// How many decisions met an answer.
    pub decisions: usize,
    /// Incidents of glasses that nobody had, and decisions that met no answer.
    pub faults: Vec<Fault>,
}

/// Settles awards in their place.
pub(crate) fn settled(marker: &Marker<'_>, by: SettledBy<'_>, awards: &mut Vec<Award>) -> Settled {
    let twice: BTreeMap<(&str, &str), (u32, u32)> = by
        .answers
        .iter()
        .filter_map(|given| {
            let of = (given.candidate.as_str(), given.item.as_str());
            Some((of, (given.line, given.second_line?)))
        })
        .collect();
    if !twice.is_empty() {
        for award in awards.iter_mut() {
            let item = item_name(&award.item);
            if let Some((first, second)) = twice.get(&(award.candidate.as_str(), item.as_str())) {
                let why = format!(
                    "{ANSWERED_TWICE}, in line {first} and in line {second}: look at the script"
                );
                award.outcome = Outcome::for_a_person(why, Vec::new());
            }
        }
    }
    let mut faults = apply(by.happened, awards);
    let (decided, unused) = settle(marker, by.rulings, awards);
    faults.extend(unused);
    let decisions = decided.len();
    let noted = by.happened.iter().map(Incident::beside);
    Settled {
        noted: noted.chain(decided).collect(),
        decisions,
        faults,
    }
}
