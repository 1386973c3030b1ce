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
    /// The line of another answer to the same, which differs or not; none where it was answered once.
    /// Such an answer waits for a person, however often it is marked.
    pub second_line: Option<u32>,
    /// The picture of the answer sheet that it was read from, as the table names it.
    pub sheet: Option<String>,
    /// Who typed it in, as the table names them.
    pub keyed_by: Option<String>,
}

/// All answers, by candidate in the order of the roster and by item.
pub(crate) fn read(connection: &Connection) -> Result<Vec<AnswerEntry>, RegisterError> {
    let mut select = connection.prepare(
        "SELECT a.candidate, a.item, a.answer, a.source, a.line, a.second_line, a.sheet, a.keyed_by
         FROM answer AS a JOIN candidate AS c ON c.number = a.candidate
         ORDER BY c.place, a.item",
    )?;
    let mut rows = select.query([])?;
    let mut answers = Vec::new();
    while let Some(row) = rows.next()? {
        let candidate: String = row.get(0)?;
        answers.push(AnswerEntry {
            candidate: CandidateNumber::parse(&candidate)
                .map_err(|why| RegisterError::Damaged(why.to_string()))?,
            item: row.get(1)?,
            answer: row.get(2)?,
            source: row.get(3)?,
            line: row.get(4)?,
            second_line: row.get(5)?,
            sheet: row.get(6)?,
            keyed_by: row.get(7)?,
        });
    }
    Ok(answers)
}

pub(crate) fn write(
    connection: &Connection,
    answers: impl Iterator<Item = AnswerEntry>,
) -> Result<usize, RegisterError> {
    connection.execute("DELETE FROM answer", [])?;
    let mut insert = connection.prepare(
        "INSERT INTO answer (candidate, item, answer, source, line, second_line, sheet, keyed_by)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
    )?;
    let mut number = 0;
    for a in answers {
        insert.execute(params![
            a.candidate.as_str(),
            a.item,
            a.answer,
            a.source,
            a.line,
            a.second_line,
            a.sheet,
            a.keyed_by
        ])?;
        number += 1;
    }
    Ok(number)
}
