//! Questions of a bank out to a table or a reviewers' paper, and back.

use std::path::{Path, PathBuf};

use base::{Fault, SourceText};
use question_bank::{Bank, exchange};
use serde::Serialize;

use crate::failure::Failure;
use crate::fresh_file::write_fresh;
use crate::load;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, Texts, read_text};

/// What went out.
#[derive(Debug, Clone, Serialize)]
pub struct OutReport {
    /// The text itself, where no file was named.
    pub text: Option<String>,
    /// The file, where one was named.
    pub file: Option<PathBuf>,
    /// How many questions stand in it.
    pub questions: usize,
    /// Those that do not, each with why.
    pub left_out: Vec<LeftOut>,
}

/// A question that did not go out.
#[derive(Debug, Clone, Serialize)]
pub struct LeftOut {
    /// Its id.
    pub id: String,
    /// Why not, in words.
    pub why: String,
}

/// What came in.
#[derive(Debug, Clone, Serialize)]
pub struct InReport {
    /// The text itself, where no file was named.
    pub text: Option<String>,
    /// The files that were written.
    pub files: Vec<PathBuf>,
    /// How many questions came in, or how many verdicts were read.
    pub questions: usize,
}

/// The questions of a bank as a table for a spreadsheet.
///
/// # Errors
/// When the bank has faults, when the file to be written is there already (reviewers and spreadsheets
/// write into it), or a file cannot be read or written.
pub fn bank_to_csv(
    around: &dyn Surroundings,
    folder: &Path,
    to: Option<&Path>,
) -> Result<OutReport, Failure> {
    let (bank, _) = sound_bank(around, folder)?;
    let table = exchange::to_table(bank.questions.values());
    let left_out = table
        .left_out
        .into_iter()
        .map(|left| LeftOut {
            id: left.id.to_string(),
            why: left.why,
        })
        .collect();
    out(around, table.text, table.rows, left_out, to)
}

/// The questions of a bank as a paper for reviewers.
///
/// # Errors
/// When the bank has faults, when the file to be written is there already, or a file cannot be read
/// or written.
pub fn bank_to_review(
    around: &dyn Surroundings,
    folder: &Path,
    to: Option<&Path>,
) -> Result<OutReport, Failure> {
    let (bank, _) = sound_bank(around, folder)?;
    let text = exchange::to_review(&bank);
    out(around, text, bank.questions.len(), Vec::new(), to)
}

/// A table as a text of questions.
///
/// # Errors
/// When the table has faults, when the file to be written is there already, or a file cannot be
/// read or written.
pub fn bank_from_csv(
    around: &dyn Surroundings,
    table: &Path,
    to: Option<&Path>,
) -> Result<InReport, Failure> {
    let source = sound_text(around, table)?;
    let read = exchange::from_table(&source);
    let Some(exchange::TableIn { text, questions }) = read.value else {
        return Err(faulty(read.faults, &[source]));
    };
    let mut report = InReport {
        text: None,
        files: Vec::new(),
        questions,
    };
    match to {
        Some(path) => {
            write_fresh(around, path, text.as_bytes())?;
            report.files.push(path.to_owned());
        }
        None => report.text = Some(text),
    }
    Ok(report)
}

/// The states and reviewers of a paper into the questions of a bank. Nothing is written
/// where anything is at fault; each text is then put down whole, one after the other.
///
/// # Errors
/// When the paper has faults or names questions that the bank has not, or a file cannot be read or
/// written.
pub fn bank_from_review(
    around: &dyn Surroundings,
    review: &Path,
    folder: &Path,
) -> Result<InReport, Failure> {
    let (_, texts) = sound_bank(around, folder)?;
    let paper = sound_text(around, review)?;
    let read = exchange::read_review(&paper);
    let verdicts = match (read.value, read.faults) {
        (Some(verdicts), faults) if faults.is_empty() => verdicts,
        (_, faults) => return Err(faulty(faults, &[paper])),
    };
    let questions = texts
        .bank(&mut Vec::new())
        .map_or_else(Vec::new, |texts| texts.questions);
    let changed = exchange::apply_review(&verdicts, &questions);
    let Some(changed) = changed.value else {
        let mut sources = questions;
        sources.push(paper);
        return Err(faulty(changed.faults, &sources));
    };
    let mut files = Vec::new();
    for (name, text) in changed {
        // The name that faults show may have lost what no text can say of the folder's own name.
        let file = Path::new(name.as_str()).file_name().unwrap_or_default();
        let path = folder.join("questions").join(file);
        around.write(&path, text.as_bytes())?;
        files.push(path);
    }
    Ok(InReport {
        text: None,
        files,
        questions: verdicts.len(),
    })
}

fn out(
    around: &dyn Surroundings,
    text: String,
    questions: usize,
    left_out: Vec<LeftOut>,
    to: Option<&Path>,
) -> Result<OutReport, Failure> {
    let text = match to {
        Some(path) => {
            write_fresh(around, path, text.as_bytes())?;
            None
        }
        None => Some(text),
    };
    Ok(OutReport {
        text,
        file: to.map(Path::to_owned),
        questions,
        left_out,
    })
}

/// A bank without faults, and the texts it was read from.
fn sound_bank(around: &dyn Surroundings, folder: &Path) -> Result<(Bank, Texts), Failure> {
    if !around.has_file(&folder.join("bank.yaml")) {
        return Err(Failure::Refused {
            what: format!("{} is no bank", folder.display()),
            hint: "a bank's folder holds bank.yaml".to_owned(),
        });
    }
    let mut faults = Vec::new();
    let texts = Texts::of_bank(around, folder, &mut faults)?;
    let bank = load::bank(&texts, &mut faults);
    match bank {
        Some(bank) if faults.iter().all(Fault::is_weakness) => Ok((bank, texts)),
        Some(_) | None => Err(Failure::Faults {
            faults,
            sources: texts.sources(),
        }),
    }
}

fn sound_text(around: &dyn Surroundings, path: &Path) -> Result<SourceText, Failure> {
    let mut faults = Vec::new();
    match read_text(around, path, &mut faults)? {
        Some(text) => Ok(text),
        None => Err(faulty(faults, &[])),
    }
}

fn faulty(faults: Vec<Fault>, texts: &[SourceText]) -> Failure {
    let sources: Sources = texts
        .iter()
        .map(|text| (text.name.clone(), text.text.clone()))
        .collect();
    Failure::Faults { faults, sources }
}
