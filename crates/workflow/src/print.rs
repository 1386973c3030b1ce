//! Prints every sheet of a sitting into one folder, named so that a copy shop understands.

mod answer_sheets;
mod booklets;
pub(crate) mod closed;
mod file_name;
mod guide;
pub(crate) mod head;
mod labels;
pub(crate) mod open_sheets;
mod reference;
pub(crate) mod templates;

use std::path::{Path, PathBuf};

use base::Fault;
use exam_plan::People;
use rayon::prelude::*;
use register::hex::to_hex;
use register::{Act, Details, digest_of};
use renderer::content::ExamHead;
use renderer::content::examiner::{PrintLine, PrintList};
use renderer::{Look, PdfStamp, Printed, RenderFault, Renderer};
use serde::Serialize;
use sha2::{Digest, Sha256};

pub(crate) use closed::short_name;
pub use file_name::{SheetFile, Sides};
pub(crate) use templates::{pages_for, renderer_for, templates_of};

use crate::failure::Failure;
use crate::open_sitting::{Custody, DrawnSitting, OpenSitting};
use crate::people::{Names, people_of};
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;

/// What `print` is asked.
#[derive(Debug, Clone, Default)]
pub struct PrintRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// Where the papers go; the folder `papers` below the exam's where none is named.
    pub to: Option<PathBuf>,
    /// The label sheet for glasses and kit bottles, by its geometry; the first of the paper's
    /// where none is named.
    pub labels: Option<String>,
    /// How many labels of the first sheet are gone already.
    pub labels_gone: u16,
    /// Whether a test sheet with the outlines of the labels is printed too.
    pub label_test: bool,
    /// A folder with templates of one's own.
    pub templates: Option<PathBuf>,
    /// Where names come from.
    pub names: Names,
    /// In which role it is done, and who agrees.
    pub stated: Stated,
}

/// What was printed.
#[derive(Debug, Clone, Serialize)]
pub struct PrintReport {
    /// The folder.
    pub folder: PathBuf,
    /// The files in the order of their names.
    pub files: Vec<PrintedFile>,
}

/// One printed file.
#[derive(Debug, Clone, Serialize)]
pub struct PrintedFile {
    /// Its name, below the folder.
    pub name: String,
    /// Pages in one copy.
    pub pages: usize,
    /// How often it is to be printed.
    pub copies: usize,
    /// Whether nobody but examiners may see it.
    pub closed: bool,
    /// SHA-256 of its bytes.
    pub sha256: String,
}

/// One sheet to be printed: what it is called and how it is made.
pub(crate) struct Job<'j> {
    /// Its name and handling.
    pub(crate) file: SheetFile,
    /// Names it in the PDF's identifier; holds no key.
    pub(crate) document: String,
    /// Makes it.
    #[allow(
        clippy::type_complexity,
        reason = "one closure a sheet; a named type would say less"
    )]
    pub(crate) make:
        Box<dyn Fn(&Renderer, &Look, &PdfStamp) -> Result<Printed, RenderFault> + Send + Sync + 'j>,
}

/// Prints all sheets of a sitting.
///
/// # Errors
/// When the exam is not assembled, a template or a text cannot be printed, or the folder cannot be
/// written. Nothing is written before every sheet has been made.
pub fn print(around: &dyn Surroundings, request: &PrintRequest) -> Result<PrintReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::Print,
        request.stated,
    )?;
    let renderer = renderer_for(around, &request.folder, request.templates.as_deref())?;
    let folder = request
        .to
        .clone()
        .unwrap_or_else(|| request.folder.join("papers"));
    let people = people_of(around, &request.folder, &open.register, &request.names)?;
    let report = print_open(
        around,
        &open.drawn,
        &renderer,
        request,
        &people,
        &folder,
        "",
    )?;
    let details = Details::from([
        ("files".to_owned(), report.files.len().to_string()),
        ("list".to_owned(), report.list_digest()),
    ]);
    let templates = templates_of(&renderer);
    open.register
        .note_papers(Act::Printed, &by, details, &templates)?;
    open.register.close()?;
    Ok(report)
}

impl PrintReport {
    /// The digest of the list of all files, as `sha256sum` writes it: whoever kept the papers can
    /// show later that they are those of this act.
    fn list_digest(&self) -> String {
        let lines = self
            .files
            .iter()
            .map(|file| format!("{}  {}\n", file.sha256, file.name));
        digest_of(&lines.collect::<String>())
    }
}

/// Prints all sheets of an open sitting; `note` stands on every sheet.
pub(crate) fn print_open(
    around: &dyn Surroundings,
    open: &DrawnSitting,
    renderer: &Renderer,
    request: &PrintRequest,
    people: &People,
    folder: &Path,
    note: &str,
) -> Result<PrintReport, Failure> {
    let look = head::sitting_look(open);
    let mut head = head::exam_head(&open.exam);
    head.note = note.to_owned();
    let mut jobs = booklets::jobs(open, people, &head);
    jobs.extend(answer_sheets::jobs(open, &head));
    jobs.extend(reference::jobs(open, &head));
    jobs.extend(labels::jobs(open, request)?);
    jobs.extend(open_sheets::jobs(open, &head)?);
    jobs.extend(closed::jobs(open, &head)?);
    jobs.extend(guide::jobs(open, &head));
    let mut made = run(renderer, &look, &head, jobs)?;
    made.push(print_list(renderer, &look, &head, &open.custody, &made)?);
    made.sort_by(|a, b| a.0.name.cmp(&b.0.name));
    clear(around, folder)?;
    let mut files: Vec<PrintedFile> = Vec::new();
    for (file, pdf) in made {
        if let Err(failure) = around.write(&folder.join(&file.name), &pdf) {
            // Half a set of papers is worse than none: somebody might print it.
            for written in &files {
                around.remove(&folder.join(&written.name))?;
            }
            return Err(failure);
        }
        files.push(file);
    }
    Ok(PrintReport {
        folder: folder.to_owned(),
        files,
    })
}

/// Makes all sheets, each on whichever core is free; the result does not depend on it.
pub(crate) fn run(
    renderer: &Renderer,
    look: &Look,
    head: &ExamHead,
    jobs: Vec<Job<'_>>,
) -> Result<Vec<(PrintedFile, Vec<u8>)>, Failure> {
    let outcomes: Vec<_> = jobs
        .into_par_iter()
        .map(|job| {
            let stamp = PdfStamp::new(format!("{}/{}/{}", head.title, head.date, job.document));
            (job.make)(renderer, look, &stamp).map(|printed| {
                let file = PrintedFile {
                    name: job.file.name_for(printed.pages),
                    pages: printed.pages,
                    copies: job.file.copies,
                    closed: job.file.closed,
                    sha256: to_hex(&Sha256::digest(&printed.pdf)),
                };
                (file, printed.pdf)
            })
        })
        .collect();
    let mut made = Vec::new();
    let mut faults: Vec<Fault> = Vec::new();
    for outcome in outcomes {
        match outcome {
            Ok(file) => made.push(file),
            Err(fault) => faults.extend(fault.into_faults()),
        }
    }
    if faults.is_empty() {
        Ok(made)
    } else {
        faults.sort();
        faults.dedup();
        Err(Failure::Faults {
            faults,
            sources: crate::texts::Sources::new(),
        })
    }
}

/// The page that says what to print how often.
fn print_list(
    renderer: &Renderer,
    look: &Look,
    head: &ExamHead,
    custody: &Custody,
    made: &[(PrintedFile, Vec<u8>)],
) -> Result<(PrintedFile, Vec<u8>), Failure> {
    let mut lines: Vec<PrintLine> = made
        .iter()
        .map(|(file, _)| PrintLine {
            file: file.name.clone(),
            what: file_name::in_words(&file.name),
            copies: file.copies.to_string(),
            pages: file.pages.to_string(),
            paper: if file.name.contains("labels") {
                "labels".to_owned()
            } else {
                look.paper.name().to_owned()
            },
            sides: file_name::sides_of(&file.name).to_owned(),
            closed: file.closed,
        })
        .collect();
    lines.sort_by(|a, b| a.file.cmp(&b.file));
    let list = PrintList {
        exam: head.clone(),
        lines,
        notes: vec![
            "Print labels at 100 %, without fitting to the page, and try one sheet on plain paper first.".to_owned(),
            "Files in the folder for examiners hold the key: print them yourself and keep them closed.".to_owned(),
        ],
        ledger_head: custody.head_in_words(),
    };
    let job = Job {
        file: SheetFile::new(0, "print-list", "office", 1, Sides::Single),
        document: "print-list".to_owned(),
        make: Box::new(move |renderer, look, stamp| renderer.print_list(&list, look, stamp)),
    };
    run(renderer, look, head, vec![job])?
        .pop()
        .ok_or_else(|| Failure::Defect("the print list was not made".to_owned()))
}

/// Takes away what an earlier call printed, so that no stale sheet lies between the new ones. Only
/// files with names as this program gives them are touched.
fn clear(around: &dyn Surroundings, folder: &Path) -> Result<(), Failure> {
    for folder in [folder.to_owned(), folder.join(file_name::CLOSED)] {
        for name in around
            .files_in(&folder)?
            .iter()
            .filter(|name| file_name::is_ours(name))
        {
            around.remove(&folder.join(name))?;
        }
    }
    Ok(())
}
