//! What an appeal is decided by: the items in dispute of one candidate and nothing else.

use serde::Serialize;

use crate::content::ExamHead;

/// The appeal file of one candidate.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct AppealFile {
    /// The exam.
    pub exam: ExamHead,
    /// The candidate's number.
    pub candidate_number: String,
    /// What the file holds and what it leaves out, one sentence each.
    pub scope: Vec<String>,
    /// The items in dispute.
    pub items: Vec<AppealEntry>,
    /// What was done to the sitting, in order, as far as it concerns these items.
    pub acts: Vec<String>,
}

/// One item in dispute.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct AppealEntry {
    /// What it is: `Theory 7`.
    pub item: String,
    /// What was asked.
    pub asked: String,
    /// What was answered; empty for no answer.
    pub answered: String,
    /// What was right.
    pub right: String,
    /// Marks, as printed.
    pub marks: String,
    /// The most marks, as printed.
    pub of: String,
    /// Why, in one sentence.
    pub reason: String,
    /// The rule and its source; empty while a person must decide.
    pub rule: String,
    /// Where the key comes from.
    pub evidence: String,
    /// Where the answer came in: table and row.
    pub origin: String,
    /// The panel's words; none for theory.
    pub words: Vec<AppealWord>,
}

/// A word of the reference panel.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct AppealWord {
    /// The word.
    pub word: String,
    /// Its weight, as printed.
    pub weight: String,
    /// How many assessors cited it, as printed.
    pub cited: String,
    /// Whether the candidate named it or a synonym.
    pub found: bool,
}
