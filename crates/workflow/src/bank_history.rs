//! What became of a bank's questions in earlier sittings, for who checks the bank.

use std::collections::BTreeSet;
use std::path::Path;

use base::{Fault, Place};
use question_bank::Bank;
use question_bank::history::{QuestionUse, read_history, uses};
use serde::Serialize;

use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, Texts};

/// What became of one question.
#[derive(Debug, Clone, Serialize)]
pub struct HistoryLine {
    /// The question.
    pub question: String,
    /// What is known of it.
    #[serde(flatten)]
    pub known: QuestionUse,
}

/// The use history that stands beside a bank, weakest discrimination first, with the texts it was
/// read from. A question that the bank does not hold is a weakness, since questions come and go.
///
/// # Errors
/// When a file cannot be read.
pub(crate) fn of_bank(
    around: &dyn Surroundings,
    folder: &Path,
    bank: &Bank,
    faults: &mut Vec<Fault>,
) -> Result<(Vec<HistoryLine>, Sources), Failure> {
    let tables = Texts::history_of_bank(around, folder, faults)?;
    let mut records = Vec::new();
    for table in tables.all() {
        let Some(read) = read_history(table).collect_into(faults) else {
            continue;
        };
        let unknown: BTreeSet<&str> = read
            .iter()
            .filter(|record| !bank.questions.contains_key(&record.question))
            .map(|record| record.question.as_str())
            .collect();
        if !unknown.is_empty() {
            let names: Vec<&str> = unknown.into_iter().collect();
            faults.push(
                Fault::weakness(
                    "history-of-unknown-question",
                    Place::whole(&table.name),
                    format!("the bank does not hold {}", names.join(", ")),
                )
                .hint("leave the rows where the question was taken out; mend its id where it was renamed"),
            );
        }
        records.extend(read);
    }
    let mut lines: Vec<HistoryLine> = uses(&records)
        .into_iter()
        .map(|(question, known)| HistoryLine {
            question: question.to_string(),
            known,
        })
        .collect();
    let of = |line: &HistoryLine| line.known.discrimination.unwrap_or(f64::INFINITY);
    lines.sort_by(|a, b| of(a).total_cmp(&of(b)).then(a.question.cmp(&b.question)));
    Ok((lines, tables.sources()))
}
