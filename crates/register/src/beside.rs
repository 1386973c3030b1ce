//! What is entered in the ledger beside an act and in its transaction: a person's decision, an
//! incident. Only what the ledger does not say already, so that marking again says nothing twice.

use std::collections::{BTreeMap, BTreeSet};

use base::ExamSeed;
use rusqlite::Connection;

use crate::error::RegisterError;
use crate::ledger::{Act, Details, Entry};
use crate::ledger_store;
use crate::role::By;

/// One thing that is entered beside an act.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beside {
    /// What was done or happened.
    pub act: Act,
    /// What it is about. The last entry of this act about the same is the one that counts.
    pub about: Details,
    /// What it says of that; empty where `about` says all.
    pub says: Details,
}

impl Beside {
    /// The details of its entry.
    #[must_use]
    pub fn details(&self) -> Details {
        let said = self.about.iter().chain(&self.says);
        said.map(|(name, words)| (name.clone(), words.clone()))
            .collect()
    }
}

/// Enters each that the ledger does not say already. Within a transaction of the caller.
pub(crate) fn enter(
    connection: &Connection,
    seed: &ExamSeed,
    beside: &[Beside],
    by: &By,
) -> Result<(), RegisterError> {
    if beside.is_empty() {
        return Ok(());
    }
    let mut last = said_last(connection, beside)?;
    for one in beside {
        let about = (one.act, one.about.clone());
        if last.get(&about) == Some(&one.says) {
            continue;
        }
        let act = ledger_store::begin(connection, seed, &[])?;
        act.enter(connection, one.act, by, one.details())?;
        last.insert(about, one.says.clone());
    }
    Ok(())
}

/// What the ledger says last, by act and by what it is about.
fn said_last(
    connection: &Connection,
    beside: &[Beside],
) -> Result<BTreeMap<(Act, Details), Details>, RegisterError> {
    // The names of what is said tell it apart from what it is about.
    let kinds: BTreeSet<(Act, Vec<&String>)> = beside
        .iter()
        .map(|one| (one.act, one.says.keys().collect()))
        .collect();
    let mut last = BTreeMap::new();
    for text in ledger_store::texts(connection)? {
        // What is no entry any more is told by the check, and says nothing here.
        let Ok(entry) = Entry::read(&text) else {
            continue;
        };
        for (_, names) in kinds.iter().filter(|(act, _)| *act == entry.act) {
            let (says, about): (Details, Details) = entry
                .details
                .clone()
                .into_iter()
                .partition(|(name, _)| names.contains(&name));
            if says.len() == names.len() {
                last.insert((entry.act, about), says);
            }
        }
    }
    Ok(last)
}
