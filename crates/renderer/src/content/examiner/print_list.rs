//! What to print, how often, on what paper.

use serde::Serialize;

use crate::content::ExamHead;

/// The print list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PrintList {
    /// The exam.
    pub exam: ExamHead,
    /// The files in the order of their names.
    pub lines: Vec<PrintLine>,
    /// Sentences for the person at the printer.
    pub notes: Vec<String>,
    /// The head of the ledger when this was made; empty where there is none.
    pub ledger_head: String,
}

/// One file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PrintLine {
    /// The file's name.
    pub file: String,
    /// What it is and for whom.
    pub what: String,
    /// How often it is printed.
    pub copies: String,
    /// Pages in one copy; empty where it is not known.
    pub pages: String,
    /// The paper: "A4", "label sheet a4-3x7-63.5x38.1".
    pub paper: String,
    /// "single-sided" or "double-sided".
    pub sides: String,
    /// Whether nobody but examiners may see it.
    pub closed: bool,
}
