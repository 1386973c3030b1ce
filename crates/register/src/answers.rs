//! Answers as they came in, with their origin.

use base::CandidateNumber;
use rusqlite::{Connection, params};

use crate::error::RegisterError;

/// One answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnswerEntry {
    /// Who.
    pub candidate: CandidateNumber,
    /// To what: `theory 7`, or `tasting 417 aroma`.
    pub item: String,
    /// As written.
    pub answer: String,
    /// The file it came from.
    pub source: String,
    /// The line in that file.
    pub line: u32,
}

pub(crate) fn write(
    connection: &Connection,
    answers: impl Iterator<Item = AnswerEntry>,
) -> Result<usize, RegisterError> {
    connection.execute("DELETE FROM answer", [])?;
    let mut insert = connection.prepare(
        "INSERT INTO answer (candidate, item, answer, source, line) VALUES (?1, ?2, ?3, ?4, ?5)",
    )?;
    let mut number = 0;
    for a in answers {
        insert.execute(params![
            a.candidate.as_str(),
            a.item,
            a.answer,
            a.source,
            a.line
        ])?;
        number += 1;
    }
    Ok(number)
}
