//! A bank at a glance: its questions by cell, state and level, and by kind.

use std::collections::BTreeMap;

use base::CellId;
use question_bank::question::{Level, ReviewState};
use question_bank::{Bank, Question, QuestionKind};
use serde::Serialize;

/// Numbers of questions by state and level; a pair without questions is not named.
pub type Counts = BTreeMap<ReviewState, BTreeMap<Level, usize>>;

/// The bank at a glance.
#[derive(Debug, Clone, Serialize)]
pub struct BankTable {
    /// Its title.
    pub title: String,
    /// One row a cell, in the order of the bank.
    pub cells: Vec<CellLine>,
    /// One row a kind of question, in the order of the kinds' list.
    pub kinds: Vec<KindLine>,
    /// All questions by state and level.
    pub counts: Counts,
    /// Questions in all.
    pub questions: usize,
    /// Sample records in all.
    pub samples: usize,
    /// Words of the lexicon.
    pub words: usize,
    /// What the tree of categories follows, in its own words.
    pub categories: String,
    /// What the tree of regions follows, in its own words.
    pub regions: String,
}

/// One cell of the bank.
#[derive(Debug, Clone, Serialize)]
pub struct CellLine {
    /// Its id.
    pub id: CellId,
    /// Its name.
    pub cell: String,
    /// Its questions by state and level.
    pub counts: Counts,
    /// Its questions in all.
    pub questions: usize,
}

/// One kind of question.
#[derive(Debug, Clone, Serialize)]
pub struct KindLine {
    /// The kind as texts name it.
    pub kind: &'static str,
    /// Its questions in all.
    pub questions: usize,
    /// Those that may be used in an exam and count.
    pub operational: usize,
}

/// The table of a bank.
#[must_use]
pub fn bank_table(bank: &Bank) -> BankTable {
    let cells = bank
        .cells
        .iter()
        .map(|(id, name)| {
            let own = || bank.questions.values().filter(|q| q.cell == *id);
            CellLine {
                id: id.clone(),
                cell: name.clone(),
                counts: counts(own()),
                questions: own().count(),
            }
        })
        .collect();
    let kinds = QuestionKind::NAMES
        .into_iter()
        .map(|kind| {
            let own = || bank.questions.values().filter(|q| q.kind.name() == kind);
            KindLine {
                kind,
                questions: own().count(),
                operational: own().filter(|q| q.state.counts()).count(),
            }
        })
        .collect();
    BankTable {
        title: bank.title.clone(),
        cells,
        kinds,
        counts: counts(bank.questions.values()),
        questions: bank.questions.len(),
        samples: bank.samples.len(),
        words: bank.lexicon.words().count(),
        categories: bank.categories.scheme().to_owned(),
        regions: bank.regions.scheme().to_owned(),
    }
}

fn counts<'q>(questions: impl Iterator<Item = &'q Question>) -> Counts {
    let mut counts = Counts::new();
    for question in questions {
        *counts
            .entry(question.state)
            .or_default()
            .entry(question.level)
            .or_default() += 1;
    }
    counts
}
