//! Judges' sheets for each form of a sitting: a table to type into, and a paper to write on.

use std::path::{Path, PathBuf};

use base::table_out::row;
use renderer::PdfStamp;
use renderer::content::examiner::{JudgeSheet, JudgedQuestion};
use serde::Serialize;

use crate::failure::Failure;
use crate::fresh_file::only_fresh;
use crate::open_sitting::OpenSitting;
use crate::print::head::{exam_head, sitting_look};
use crate::print::renderer_for;
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;
use crate::texts::Sources;

/// What `cut sheets` is asked.
#[derive(Debug, Clone)]
pub struct JudgeSheetsRequest {
    /// The folder of an assembled sitting.
    pub folder: PathBuf,
    /// In which role they are printed: the sheets show keys.
    pub stated: Stated,
    /// The judges.
    pub judges: Vec<String>,
    /// How many rounds have a column on the paper.
    pub rounds: usize,
    /// Where the sheets go; the folder `cut` below the exam's where none is named.
    pub to: Option<PathBuf>,
}

/// What was written.
#[derive(Debug, Clone, Serialize)]
pub struct JudgeSheetsReport {
    /// The files.
    pub files: Vec<PathBuf>,
}

/// What a judge is told.
const ADVICE: [&str; 4] = [
    "Think of ten candidates who just pass: they know what must be known and little more.",
    "How many of the ten answer this question rightly? Write it as a per cent. Guessing helps them: with three options nobody is below 30.",
    "Work alone in the first round. Between rounds you see where the others stand; nobody has to move.",
    "The key is printed so that you judge the question and not your memory. This sheet stays in the room.",
];

/// Writes judges' sheets.
///
/// # Errors
/// When the exam is not assembled, has no theory, a table to type into is there already, or a file
/// cannot be written.
pub fn judge_sheets(
    around: &dyn Surroundings,
    request: &JudgeSheetsRequest,
) -> Result<JudgeSheetsReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    acting(
        around,
        Some(&mut open.register),
        Doing::Print,
        request.stated,
    )?;
    let drawn = &open.drawn;
    let renderer = renderer_for(around, &request.folder, None)?;
    let folder = request
        .to
        .clone()
        .unwrap_or_else(|| request.folder.join("cut"));
    // Judges' work stands in these tables: all are looked for before anything is written.
    let forms = drawn.sitting.forms.iter();
    let tables: Vec<PathBuf> = forms
        .map(|form| typed_in(&folder, &form.name.to_string()))
        .collect();
    only_fresh(around, tables.iter().map(PathBuf::as_path))?;
    let head = exam_head(&drawn.exam);
    let mut files = Vec::new();
    for form in &drawn.sitting.forms {
        let name = form.name.to_string();
        let head_of_table = ["question", "stem"].into_iter();
        let mut table = row(head_of_table.chain(request.judges.iter().map(String::as_str)));
        let mut questions = Vec::new();
        for (place, printed) in form.questions.iter().enumerate() {
            if !printed.counts {
                continue;
            }
            // As it stands on this form, with the numbers that were drawn for it.
            let Some(question) = printed.in_bank(&drawn.exam.bank) else {
                return Err(Failure::Defect(format!(
                    "question {} of form {name} cannot be read back",
                    printed.question
                )));
            };
            let stem = question.in_words();
            let id = printed.question.to_string();
            let cells = [id, stem.replace(['\n', '\r'], " ")].into_iter();
            table.push_str(&row(
                cells.chain(request.judges.iter().map(|_| String::new()))
            ));
            questions.push(JudgedQuestion {
                number: place + 1,
                stem,
                key: question.kind.shape().key_in_words(),
            });
        }
        let sheet = JudgeSheet {
            exam: head.clone(),
            form: name.clone(),
            rounds: request.rounds,
            advice: ADVICE.map(str::to_owned).to_vec(),
            questions,
        };
        let stamp = PdfStamp::new(format!("{}/{}/judge/{name}", head.title, head.date));
        let printed = renderer
            .judge_sheet(&sheet, &sitting_look(drawn), &stamp)
            .map_err(|fault| Failure::Faults {
                faults: fault.into_faults(),
                sources: Sources::new(),
            })?;
        let paper = folder.join(format!(
            "judge-sheet_form-{name}_{}-times_{}-pages.pdf",
            request.judges.len(),
            printed.pages
        ));
        around.write(&paper, &printed.pdf)?;
        let typed = typed_in(&folder, &name);
        around.write(&typed, table.as_bytes())?;
        files.extend([paper, typed]);
    }
    open.register.close()?;
    if files.is_empty() {
        return Err(Failure::Refused {
            what: "this sitting has no theory form to judge".to_owned(),
            hint: "the cut of a tasting part is set by borderline-group or contrasting-groups"
                .to_owned(),
        });
    }
    Ok(JudgeSheetsReport { files })
}

/// The table that the judges' first estimates on a form are typed into.
fn typed_in(folder: &Path, form: &str) -> PathBuf {
    folder.join(format!("ratings_form-{form}_round-1.csv"))
}
