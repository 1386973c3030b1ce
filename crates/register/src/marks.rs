//! Marks with their reasons.

use base::{CandidateNumber, Marks, QuestionId, SampleId};
use grader::award::UnknownWord;
use grader::{Award, Item, Outcome};
use rusqlite::{Connection, Row, params};

use crate::error::RegisterError;

/// What separates near words in the store, and the lists of them (the unit and the record separator
/// of ASCII, which no text of a person keeps).
const UNIT: char = '\u{1f}';
/// See [`UNIT`].
const RECORD: char = '\u{1e}';

/// Near words of the whole answer, then each unknown word with those near it.
fn written_near(near: &[String], words: &[UnknownWord]) -> String {
    let mut records = vec![near.join(&UNIT.to_string())];
    records.extend(words.iter().map(|unknown| {
        std::iter::once(&unknown.word)
            .chain(&unknown.near)
            .cloned()
            .collect::<Vec<_>>()
            .join(&UNIT.to_string())
    }));
    records.join(&RECORD.to_string())
}

/// The reverse of [`written_near`].
fn read_near(stored: &str) -> (Vec<String>, Vec<UnknownWord>) {
    let list = |record: &str| -> Vec<String> {
        record
            .split(UNIT)
            .filter(|word| !word.is_empty())
            .map(str::to_owned)
            .collect()
    };
    let mut records = stored.split(RECORD);
    let near = records.next().map(list).unwrap_or_default();
    let words = records
        .filter_map(|record| {
            let mut all = list(record).into_iter();
            all.next().map(|word| UnknownWord {
                word,
                near: all.collect(),
            })
        })
        .collect();
    (near, words)
}

pub(crate) fn write<'a>(
    connection: &Connection,
    awards: impl Iterator<Item = &'a Award>,
) -> Result<(), RegisterError> {
    connection.execute("DELETE FROM mark", [])?;
    let mut insert = connection.prepare(
        "INSERT INTO mark (candidate, part, place, question, asked, code, answer, thousandths,
                           of_thousandths, counts, extra, waiting, reason, rule, near)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15)",
    )?;
    for award in awards {
        let (part, place, question, asked, code) = match &award.item {
            Item::Theory { number, question } => ("theory", number, question.as_str(), "", ""),
            Item::Tasting {
                glass,
                code,
                sample,
                asked,
            } => (
                "tasting",
                glass,
                sample.as_str(),
                asked.as_str(),
                code.as_str(),
            ),
        };
        let (waiting, reason, rule, near) = match &award.outcome {
            Outcome::Marked { reason, rule, .. } => {
                (false, reason.as_str(), rule.as_ref(), String::new())
            }
            Outcome::ForAPerson {
                why, near, words, ..
            } => (true, why.as_str(), "", written_near(near, words)),
        };
        insert.execute(params![
            award.candidate.as_str(),
            part,
            place,
            question,
            asked,
            code,
            award.answer,
            award.marks().thousandths(),
            award.of.thousandths(),
            award.counts,
            award.extra,
            waiting,
            reason,
            rule,
            near
        ])?;
    }
    Ok(())
}

/// All marks, in the order of the papers.
pub(crate) fn read(connection: &Connection) -> Result<Vec<Award>, RegisterError> {
    let mut select = connection.prepare(
        "SELECT m.candidate, m.part, m.place, m.question, m.asked, m.code, m.answer, m.thousandths,
                m.of_thousandths, m.counts, m.extra, m.waiting, m.reason, m.rule, m.near
         FROM mark AS m JOIN candidate AS c ON c.number = m.candidate
         ORDER BY c.place, m.part DESC, m.place, m.asked",
    )?;
    let mut rows = select.query([])?;
    let mut awards = Vec::new();
    while let Some(row) = rows.next()? {
        awards.push(award(row)?);
    }
    Ok(awards)
}

fn award(row: &Row<'_>) -> Result<Award, RegisterError> {
    let damaged = |why: base::BadId| RegisterError::Damaged(why.to_string());
    let part: String = row.get(1)?;
    let place: u32 = row.get(2)?;
    let question: String = row.get(3)?;
    let marks = Marks::from_thousandths(row.get(7)?);
    let waiting: bool = row.get(11)?;
    let reason: String = row.get(12)?;
    let rule: String = row.get(13)?;
    let near: String = row.get(14)?;
    Ok(Award {
        candidate: CandidateNumber::parse(&row.get::<_, String>(0)?).map_err(damaged)?,
        item: if part == "theory" {
            Item::Theory {
                number: place,
                question: QuestionId::parse(&question).map_err(damaged)?,
            }
        } else {
            Item::Tasting {
                glass: place,
                code: row.get(5)?,
                sample: SampleId::parse(&question).map_err(damaged)?,
                asked: row.get(4)?,
            }
        },
        answer: row.get(6)?,
        outcome: if waiting {
            let (near, words) = read_near(&near);
            Outcome::ForAPerson {
                why: reason,
                near,
                provisional: marks,
                words,
            }
        } else {
            Outcome::Marked {
                marks,
                reason,
                rule: rule.into(),
            }
        },
        of: Marks::from_thousandths(row.get(8)?),
        counts: row.get(9)?,
        extra: row.get(10)?,
    })
}
