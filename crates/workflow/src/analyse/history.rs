//! Makes what each question did at each sitting into lines for the history of its bank.
//!
//! One file a sitting, `history/NAME.csv` in the bank's folder, so that a second analysis of the
//! same sitting replaces its own figures and no others.

use std::path::PathBuf;

use base::{FormName, QuestionId};
use question_bank::history::{UseRecord, write_history};
use results::analysis::{Responses, analyse};

use super::sitting_responses::ReadSittings;

/// The history of all sittings: each file with its text.
pub(super) fn made(read: &ReadSittings) -> Vec<(PathBuf, String)> {
    let Some(theory) = read
        .parts
        .iter()
        .find(|part| part.responses.what == "theory")
    else {
        return Vec::new();
    };
    let mut made = Vec::new();
    for (sitting, bank) in &read.banks {
        // A sitting's name is that of a folder and may hold what a history's may not.
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
        let records = records(&theory.responses, sitting, &name);
        made.push((path, write_history(&records)));
    }
    made
}

/// A record for each question and form of one sitting; without discrimination where n does not carry
/// it.
fn records(theory: &Responses, sitting: &str, name: &str) -> Vec<UseRecord> {
    let mut forms: Vec<&str> = theory
        .candidates
        .iter()
        .filter(|candidate| candidate.sitting == sitting)
        .map(|candidate| candidate.form.as_str())
        .filter(|form| !form.is_empty())
        .collect();
    forms.sort_unstable();
    forms.dedup();
    let mut records = Vec::new();
    for form in forms {
        let Ok(form_name) = FormName::parse(form) else {
            continue;
        };
        let of_form = Responses {
            candidates: theory
                .candidates
                .iter()
                .filter(|c| c.sitting == sitting && c.form == form)
                .cloned()
                .collect(),
            what: theory.what.clone(),
            questions: theory.questions.clone(),
        };
        for question in analyse(&of_form, None).questions {
            let (Ok(difficulty), Ok(id)) =
                (&question.difficulty, QuestionId::parse(&question.name))
            else {
                continue;
            };
            records.push(UseRecord {
                sitting: name.to_owned(),
                question: id,
                form: form_name.clone(),
                n: u32::try_from(question.n).unwrap_or(u32::MAX),
                difficulty: difficulty.share,
                discrimination: question.with_rest.as_ref().ok().map(|made| made.r),
            });
        }
    }
    records
}
