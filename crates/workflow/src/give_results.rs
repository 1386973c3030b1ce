//! Decides by the pass rule and gives results back: class list, summary, one report a candidate.

mod class_sheet;
mod report_sheet;

use std::path::{Path, PathBuf};

use base::Fault;
use exam_plan::People;
use rayon::prelude::*;
use register::hex::to_hex;
use register::{Act, Details};
use renderer::{PdfStamp, Renderer};
use results::candidate_report::candidate_report;
use results::{CellWorth, ClassList, SittingSummary, class_list, named_scripts, summarise};
use serde::Serialize;
use sha2::{Digest, Sha256};

use crate::failure::Failure;
use crate::file_name::safe_file_name;
use crate::open_sitting::OpenSitting;
use crate::people::{Names, people_of};
use crate::print::head::{exam_head, sitting_look};
use crate::print::{renderer_for, templates_of};
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
    /// Where names come from.
    pub names: Names,
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
    /// Whether they are released, so that they may be handed out.
    pub released: bool,
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
    let released = open.register.is_released()?;
    let notes = match (released, open.register.corrected_since_release()?) {
        (false, _) => Notes::on_all(NOT_RELEASED),
        (true, false) => Notes::default(),
        (true, true) => Notes {
            class: CORRECTED,
            reports: "",
        },
    };
    let people = people_of(around, &request.folder, &open.register, &request.names)?;
    let mut made = made(&open, &people, &renderer, &folder, notes)?;
    made.report.released = released;
    let report = &made.report;
    let details = Details::from([
        (CLASS_LIST.to_owned(), report.class_list_digest()),
        ("files".to_owned(), report.files.len().to_string()),
        ("waiting".to_owned(), report.waiting.to_string()),
    ]);
    let templates = templates_of(&renderer);
    open.register
        .note_papers(Act::ResultsMade, &by, details, &templates)?;
    open.register.close()?;
    made.put_down(around)
}

/// The detail of an entry that says the digest of the class list.
pub(crate) const CLASS_LIST: &str = "class list";
/// Stands on every sheet until results are released.
pub(crate) const NOT_RELEASED: &str =
    "Not released: for the chief examiner alone, not to be handed out.";
/// Stands on the summary where results were corrected since.
const CORRECTED: &str = "Corrected since the results were released.";

/// What stands on sheets besides their contents.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Notes<'n> {
    class: &'n str,
    reports: &'n str,
}

impl<'n> Notes<'n> {
    /// The same on the summary and on each report.
    pub(crate) const fn on_all(note: &'n str) -> Self {
        Self {
            class: note,
            reports: note,
        }
    }
}

/// Results that are made and not yet put down.
#[derive(Debug)]
pub(crate) struct MadeResults {
    /// What is reported of them.
    pub(crate) report: ResultsReport,
    files: Vec<(String, Vec<u8>)>,
}

impl MadeResults {
    /// Writes the files.
    ///
    /// # Errors
    /// When the folder cannot be written.
    pub(crate) fn put_down(self, around: &dyn Surroundings) -> Result<ResultsReport, Failure> {
        for (name, bytes) in &self.files {
            around.write(&self.report.folder.join(name), bytes)?;
        }
        Ok(self.report)
    }
}

impl ResultsReport {
    /// SHA-256 of the class list without names: who was erased cannot be found by trying names out.
    pub(crate) fn class_list_digest(&self) -> String {
        to_hex(&Sha256::digest(self.class.without_names().csv()))
    }
}

/// Decides and writes the results of an open sitting; `note` stands on every sheet.
pub(crate) fn results_open(
    around: &dyn Surroundings,
    open: &OpenSitting,
    people: &People,
    renderer: &Renderer,
    folder: &Path,
    note: &str,
) -> Result<ResultsReport, Failure> {
    made(open, people, renderer, folder, Notes::on_all(note))?.put_down(around)
}

/// Decides and makes the results of an open sitting.
///
/// # Errors
/// When the sitting is not marked, or a sheet cannot be made.
pub(crate) fn made(
    open: &OpenSitting,
    people: &People,
    renderer: &Renderer,
    folder: &Path,
    notes: Notes<'_>,
) -> Result<MadeResults, Failure> {
    let awards = open.register.marks()?;
    let open = &open.drawn;
    if awards.is_empty() {
        return Err(Failure::Refused {
            what: "this sitting is not marked yet".to_owned(),
            hint: "valinch mark FOLDER --answers TABLE".to_owned(),
        });
    }
    let scripts = named_scripts(&open.exam, &open.sitting, &awards, people);
    let class = class_list(&scripts);
    let summary = summarise(&open.exam, &open.sitting, &scripts);
    let look = sitting_look(open);
    let mut head = exam_head(&open.exam);
    head.note = notes.class.to_owned();

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
    head.note = notes.reports.to_owned();
    let worth = CellWorth::of(&open.exam, &scripts);
    let reports: Vec<_> = scripts
        .par_iter()
        .map(|script| {
            let report = candidate_report(&open.exam, &open.sitting, script, &worth);
            let content = report_sheet::content(&head, &report);
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
    Ok(MadeResults {
        report: ResultsReport {
            folder: folder.to_owned(),
            files: files.iter().map(|(name, _)| name.clone()).collect(),
            class,
            summary,
            waiting: waiting.len(),
            released: false,
        },
        files,
    })
}
