//! Writes what each question did at each sitting into the history of its bank.
//!
//! One file a sitting, `history/NAME.csv` in the bank's folder, so that a second analysis of the
//! same sitting replaces its own figures and no others.

use std::path::PathBuf;

use results::analysis::{Responses, analyse};

use super::sitting_responses::ReadSittings;
use crate::failure::Failure;
use crate::surroundings::Surroundings;

/// The columns of a history file.
const HEADER: &str = "sitting,question,form,n,difficulty,discrimination\n";

/// Writes the history of all sittings; gives the files.
pub(super) fn keep(
    around: &dyn Surroundings,
    read: &ReadSittings,
) -> Result<Vec<PathBuf>, Failure> {
    let Some(theory) = read
        .parts
        .iter()
        .find(|part| part.responses.what == "theory")
    else {
        return Ok(Vec::new());
    };
    let mut written = Vec::new();
    for (sitting, bank) in &read.banks {
        let mut text = HEADER.to_owned();
        for line in lines(&theory.responses, sitting) {
            text.push_str(&line);
        }
        let name: String = sitting
            .chars()
            .map(|c| {
                if c.is_alphanumeric() || c == '-' {
                    c
                } else {
                    '-'
                }
            })
            .collect();
        let path = bank.join("history").join(format!("{name}.csv"));
        around.write(&path, text.as_bytes())?;
        written.push(path);
    }
    Ok(written)
}

/// A row for each question and form of one sitting; the discrimination is empty where n does not
/// carry it.
fn lines(theory: &Responses, sitting: &str) -> Vec<String> {
    let mut forms: Vec<&str> = theory
        .candidates
        .iter()
        .filter(|candidate| candidate.sitting == sitting)
        .map(|candidate| candidate.form.as_str())
        .filter(|form| !form.is_empty())
        .collect();
    forms.sort_unstable();
    forms.dedup();
    let mut lines = Vec::new();
    for form in forms {
        let of_form = Responses {
            candidates: theory
                .candidates
                .iter()
                .filter(|c| c.sitting == sitting && c.form == form)
                .cloned()
                .collect(),
            ..theory.clone()
        };
        for question in analyse(&of_form, None).questions {
            let Ok(difficulty) = &question.difficulty else {
                continue;
            };
            let discrimination = question
                .with_rest
                .as_ref()
                .map_or_else(|_| String::new(), |made| format!("{:.4}", made.r));
            lines.push(format!(
                "{},{},{},{},{:.4},{discrimination}\n",
                quoted(sitting),
                quoted(&question.name),
                quoted(form),
                question.n,
                difficulty.share,
            ));
        }
    }
    lines
}

/// A cell, in quotes where it must be.
fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}
