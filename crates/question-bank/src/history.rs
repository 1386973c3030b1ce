//! What became of questions in sittings: read from and written to `history/*.csv` beside a bank,
//! never in a question's own text, so that a difference of two states of a bank shows authoring
//! only.
//!
//! One row for each question of each form of a sitting: `sitting`, `question`, `form`, `n` (answers
//! that count), `difficulty` (mean share of the marks, 0 to 1) and `discrimination` (corrected
//! item-total correlation, -1 to 1; empty where it could not be computed).

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use base::table::{Column, Row, Table};
use base::{Checked, Fault, FormName, QuestionId, SourceText};
use serde::Serialize;

/// One question on one form of one sitting.
#[derive(Debug, Clone, PartialEq)]
pub struct UseRecord {
    /// The sitting: a date or another name of the school's choosing.
    pub sitting: String,
    /// Which question.
    pub question: QuestionId,
    /// On which form.
    pub form: FormName,
    /// How many answers count.
    pub n: u32,
    /// Mean share of the marks, 0 to 1.
    pub difficulty: f64,
    /// Corrected item-total correlation, -1 to 1, where it could be computed.
    pub discrimination: Option<f64>,
}

/// What is known of one question over all sittings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QuestionUse {
    /// In how many sittings it stood.
    pub sittings: usize,
    /// How many answers count in all.
    pub n: u64,
    /// Mean share of the marks over all answers; none without answers.
    pub difficulty: Option<f64>,
    /// Mean correlation, each form weighted by its answers; none where none was computed.
    pub discrimination: Option<f64>,
}

/// The columns in the order in which they are written.
const COLUMNS: [&str; 6] = [
    "sitting",
    "question",
    "form",
    "n",
    "difficulty",
    "discrimination",
];
const MOST_ANSWERS: u32 = 10_000_000;

/// Reads one table.
#[must_use]
pub fn read_history(source: &SourceText) -> Checked<Vec<UseRecord>> {
    let table = match Table::read(source) {
        Ok(table) => table,
        Err(fault) => return Checked::new(None, vec![*fault]),
    };
    let mut faults = Vec::new();
    let Some(columns) = table.columns(COLUMNS, &[], &mut faults) else {
        return Checked::new(None, faults);
    };
    let mut records = Vec::new();
    let mut seen = BTreeSet::new();
    for row in table.rows() {
        if let Some(record) = read_row(&table, row, columns, &mut faults) {
            let key = (
                record.sitting.clone(),
                record.question.clone(),
                record.form.clone(),
            );
            if seen.insert(key) {
                records.push(record);
            } else {
                let [_, question, ..] = columns;
                faults.push(
                    Fault::new(
                        "doubled-entry",
                        table.place(&row.cell(question).bytes),
                        format!(
                            "question {} of form {} of sitting {} stands twice",
                            record.question, record.form, record.sitting
                        ),
                    )
                    .hint("remove one of the rows"),
                );
            }
        }
    }
    Checked::new(Some(records), faults)
}

fn read_row(
    table: &Table<'_>,
    row: &Row,
    columns: [Column; 6],
    faults: &mut Vec<Fault>,
) -> Option<UseRecord> {
    let [sitting, question, form, n, difficulty, discrimination] = columns;
    let mut refuse = |column: Column, what: &str, allowed: &str| {
        let cell = row.cell(column);
        let written = base::walk::shortened(&cell.text);
        faults.push(
            Fault::new(
                "bad-cell",
                table.place(&cell.bytes),
                format!("\"{written}\" is no {what}"),
            )
            .allowed(allowed.to_owned()),
        );
    };
    let text = |column: Column| row.cell(column).text;
    let number = |column: Column, low: f64, high: f64| {
        let read = text(column).parse::<f64>().ok();
        read.filter(|number| (low..=high).contains(number))
    };
    let sitting_name = Some(text(sitting)).filter(|name| is_sitting(name));
    if sitting_name.is_none() {
        refuse(
            sitting,
            "name of a sitting",
            "letters, digits, spaces, dots and hyphens, at most 64",
        );
    }
    let question_id = QuestionId::parse(&text(question)).ok();
    if question_id.is_none() {
        refuse(question, "question id", QuestionId::ALLOWED);
    }
    let form_name = FormName::parse(&text(form)).ok();
    if form_name.is_none() {
        refuse(form, "name of a form", "A to ZZ");
    }
    let answers = text(n).parse::<u32>().ok().filter(|n| *n <= MOST_ANSWERS);
    if answers.is_none() {
        refuse(n, "number of answers", "a whole number up to 10000000");
    }
    let share = number(difficulty, 0.0, 1.0);
    if share.is_none() {
        refuse(
            difficulty,
            "mean share of the marks",
            "a number from 0 to 1",
        );
    }
    let correlation = if text(discrimination).is_empty() {
        Some(None)
    } else {
        number(discrimination, -1.0, 1.0).map(Some)
    };
    if correlation.is_none() {
        refuse(
            discrimination,
            "correlation",
            "a number from -1 to 1, or nothing where it could not be computed",
        );
    }
    Some(UseRecord {
        sitting: sitting_name?,
        question: question_id?,
        form: form_name?,
        n: answers?,
        difficulty: share?,
        discrimination: correlation?,
    })
}

fn is_sitting(name: &str) -> bool {
    !name.is_empty()
        && name.len() <= 64
        && name
            .chars()
            .all(|c| c.is_alphanumeric() || matches!(c, ' ' | '.' | '-' | '_'))
}

/// Writes records as [`read_history`] reads them, figures with four decimals.
#[must_use]
pub fn write_history(records: &[UseRecord]) -> String {
    let mut text = COLUMNS.join(",");
    text.push('\n');
    for record in records {
        let discrimination = record
            .discrimination
            .map_or_else(String::new, |figure| format!("{figure:.4}"));
        // Writing to a text does not fail.
        let _ = writeln!(
            text,
            "{},{},{},{},{:.4},{discrimination}",
            record.sitting, record.question, record.form, record.n, record.difficulty
        );
    }
    text
}

/// What is known of each question.
#[must_use]
pub fn uses(records: &[UseRecord]) -> BTreeMap<QuestionId, QuestionUse> {
    let mut of_question: BTreeMap<&QuestionId, Vec<&UseRecord>> = BTreeMap::new();
    for record in records {
        of_question
            .entry(&record.question)
            .or_default()
            .push(record);
    }
    of_question
        .into_iter()
        .map(|(question, records)| {
            let sittings: BTreeSet<&str> = records.iter().map(|r| r.sitting.as_str()).collect();
            let difficulty = weighted(records.iter().map(|r| (r.n, r.difficulty)));
            let discrimination = weighted(
                records
                    .iter()
                    .filter_map(|r| Some((r.n, r.discrimination?))),
            );
            let known = QuestionUse {
                sittings: sittings.len(),
                n: records.iter().map(|r| u64::from(r.n)).sum(),
                difficulty,
                discrimination,
            };
            (question.clone(), known)
        })
        .collect()
}

fn weighted(figures: impl Iterator<Item = (u32, f64)>) -> Option<f64> {
    let (mut sum, mut weight) = (0.0, 0.0);
    for (n, figure) in figures {
        sum += f64::from(n) * figure;
        weight += f64::from(n);
    }
    (weight > 0.0).then(|| sum / weight)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const TEXT: &str = "sitting,question,form,n,difficulty,discrimination
2026-06,rum-age,A,30,0.5000,0.2000
2026-06,rum-age,B,10,0.9000,
2026-11,rum-age,A,20,0.6000,0.4000
";

    fn read(text: &str) -> Checked<Vec<UseRecord>> {
        read_history(&SourceText::new("history/a.csv", text))
    }

    #[test]
    fn what_is_written_is_read_again() {
        let records = read(TEXT).value.unwrap();
        assert_eq!(write_history(&records), TEXT);
        let uses = uses(&records);
        let known = uses.values().next().unwrap();
        assert_eq!((known.sittings, known.n), (2, 60));
        // By hand: (15 + 9 + 12) / 60; (6 + 8) / 50.
        assert!((known.difficulty.unwrap() - 0.6).abs() < 1e-12);
        assert!((known.discrimination.unwrap() - 0.28).abs() < 1e-12);
    }

    #[test]
    fn every_fault_is_told() {
        let text = "sitting,question,form,n,difficulty,discrimination\n,Rum,1,-1,2,3\n";
        assert_eq!(read(text).faults.len(), 6);
        let doubled = format!("{TEXT}2026-06,rum-age,A,1,0,0\n");
        assert_eq!(read(&doubled).faults[0].rule, "doubled-entry");
        assert!(read("sitting,question\n").value.is_none());
    }

    proptest! {
        #[test]
        fn any_text_is_read_without_panic(text in "[a-z,\n0-9.\"-]{0,80}|.{0,40}") {
            let _ = read(&text);
            let _ = read(&format!("sitting,question,form,n,difficulty,discrimination\n{text}"));
        }
    }
}
