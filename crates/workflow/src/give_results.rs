//! Decides by the pass rule and gives results back: class list, summary, one report a candidate.

mod class_sheet;
mod report_sheet;

use std::path::{Path, PathBuf};

use base::Fault;
use rayon::prelude::*;
use register::hex::to_hex;
use register::{Act, Details};
use renderer::{PdfStamp, Renderer};
use results::candidate_report::candidate_report;
use results::{ClassList, SittingSummary, class_list, scripts, summarise};
use serde::Serialize;
use sha2::{Digest, Sha256};

use crate::failure::Failure;
use crate::file_name::safe_file_name;
use crate::open_sitting::OpenSitting;
use crate::print::head::{exam_head, look};
use crate::print::renderer_for;
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;
use crate::texts::Sources;

/// What `results` is asked.
#[derive(Debug, Clone, Default)]
pub struct ResultsRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// Where the results go; the folder `results` below the exam's where none is named.
    pub to: Option<PathBuf>,
    /// A folder with templates of one's own.
    pub templates: Option<PathBuf>,
    /// In which role it is done, and who agrees.
    pub stated: Stated,
}

/// What was decided and put down.
#[derive(Debug, Clone, Serialize)]
pub struct ResultsReport {
    /// The folder.
    pub folder: PathBuf,
    /// The files, below the folder, in order.
    pub files: Vec<String>,
    /// Everybody with the decision.
    pub class: ClassList,
    /// The figures.
    pub summary: SittingSummary,
    /// Answers that still wait for a person.
    pub waiting: usize,
}

/// Decides and writes the results of a marked sitting.
///
/// # Errors
/// When the exam is not assembled or not marked, or a file cannot be written.
pub fn give_results(
    around: &dyn Surroundings,
    request: &ResultsRequest,
) -> Result<ResultsReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::Results,
        request.stated,
    )?;
    let renderer = renderer_for(around, &request.folder, request.templates.as_deref())?;
    let folder = request
        .to
        .clone()
        .unwrap_or_else(|| request.folder.join("results"));
    let report = results_open(around, &open, &renderer, &folder, "")?;
    let details = Details::from([
        (
            "class list".to_owned(),
            to_hex(&Sha256::digest(report.class.csv())),
        ),
        ("files".to_owned(), report.files.len().to_string()),
        ("waiting".to_owned(), report.waiting.to_string()),
    ]);
    open.register.note(Act::ResultsMade, &by, details)?;
    open.register.close()?;
    Ok(report)
}

/// Decides and writes the results of an open sitting; `note` stands on every sheet.
pub(crate) fn results_open(
    around: &dyn Surroundings,
    open: &OpenSitting,
    renderer: &Renderer,
    folder: &Path,
    note: &str,
) -> Result<ResultsReport, Failure> {
    let awards = open.register.marks()?;
    let open = &open.drawn;
    if awards.is_empty() {
        return Err(Failure::Refused {
            what: "this sitting is not marked yet".to_owned(),
            hint: "valinch mark FOLDER --answers TABLE".to_owned(),
        });
    }
    let scripts = scripts(&open.exam, &open.sitting, &awards);
    let class = class_list(&scripts);
    let summary = summarise(&open.exam, &open.sitting, &scripts);
    let look = look(&open.exam);
    let mut head = exam_head(&open.exam);
    head.note = note.to_owned();

    let mut files: Vec<(String, Vec<u8>)> =
        vec![("01-class-list.csv".to_owned(), class.csv().into_bytes())];
    let waiting: Vec<_> = awards
        .iter()
        .filter(|award| award.outcome.waits())
        .collect();
    let sheet = class_sheet::content(&head, &scripts, &summary, &waiting, &open.custody);
    let stamp = PdfStamp::new(format!("{}/{}/class-summary", head.title, head.date));
    let mut faults: Vec<Fault> = Vec::new();
    match renderer.class_summary(&sheet, &look, &stamp) {
        Ok(printed) => files.push((
            "02-class-summary_chief-examiner.pdf".to_owned(),
            printed.pdf,
        )),
        Err(fault) => faults.extend(fault.into_faults()),
    }
    let reports: Vec<_> = scripts
        .par_iter()
        .map(|script| {
            let content =
                report_sheet::content(&head, &candidate_report(&open.exam, &open.sitting, script));
            let number = script.place.candidate.as_str();
            let stamp = PdfStamp::new(format!("{}/{}/report/{number}", head.title, head.date));
            let name = format!("reports/{}.pdf", safe_file_name(number));
            renderer
                .candidate_report(&content, &look, &stamp)
                .map(|printed| (name, printed.pdf))
        })
        .collect();
    for outcome in reports {
        match outcome {
            Ok(file) => files.push(file),
            Err(fault) => faults.extend(fault.into_faults()),
        }
    }
    if !faults.is_empty() {
        return Err(Failure::Faults {
            faults,
            sources: Sources::new(),
        });
    }
    for (name, bytes) in &files {
        around.write(&folder.join(name), bytes)?;
    }
    Ok(ResultsReport {
        folder: folder.to_owned(),
        files: files.into_iter().map(|(name, _)| name).collect(),
        class,
        summary,
        waiting: waiting.len(),
    })
}
