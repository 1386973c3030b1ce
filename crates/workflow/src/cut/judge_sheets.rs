//! Judges' sheets for each form of a sitting: a table to type into, and a paper to write on.

use std::path::PathBuf;

use renderer::PdfStamp;
use renderer::content::examiner::{JudgeSheet, JudgedQuestion};
use serde::Serialize;

use crate::failure::Failure;
use crate::open_sitting::OpenSitting;
use crate::print::head::{exam_head, look};
use crate::print::renderer_for;
use crate::surroundings::Surroundings;
use crate::texts::Sources;

/// What `cut sheets` is asked.
#[derive(Debug, Clone)]
pub struct JudgeSheetsRequest {
    /// The folder of an assembled sitting.
    pub folder: PathBuf,
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
/// When the exam is not assembled, has no theory, or a file cannot be written.
pub fn judge_sheets(
    around: &dyn Surroundings,
    request: &JudgeSheetsRequest,
) -> Result<JudgeSheetsReport, Failure> {
    let open = OpenSitting::open(around, &request.folder)?;
    let drawn = &open.drawn;
    let renderer = renderer_for(around, &request.folder, None)?;
    let folder = request
        .to
        .clone()
        .unwrap_or_else(|| request.folder.join("cut"));
    let head = exam_head(&drawn.exam);
    let mut files = Vec::new();
    for form in &drawn.sitting.forms {
        let name = form.name.to_string();
        let mut table = format!("question,stem,{}\n", request.judges.join(","));
        let mut questions = Vec::new();
        for (place, printed) in form.questions.iter().enumerate() {
            let Some(question) = drawn.exam.bank.questions.get(&printed.question) else {
                continue;
            };
            if !printed.counts {
                continue;
            }
            let stem = question.kind.stem();
            table.push_str(&format!(
                "{},\"{}\"{}\n",
                printed.question,
                stem.replace('"', "\"\"").replace(['\n', '\r'], " "),
                ",".repeat(request.judges.len())
            ));
            questions.push(JudgedQuestion {
                number: place + 1,
                stem: stem.to_owned(),
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
            .judge_sheet(&sheet, &look(&drawn.exam), &stamp)
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
        let typed = folder.join(format!("ratings_form-{name}_round-1.csv"));
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
