//! Decides by the pass rule and gives results back: class list, summary, one report a candidate.

mod class_pages;
pub(crate) mod class_sheet;
mod report_sheet;
mod standing;

use std::path::{Path, PathBuf};

use base::Fault;
use exam_plan::People;
use rayon::prelude::*;
use register::hex::to_hex;
use register::{Act, By, Details};
use renderer::{HtmlPages, PdfStamp, Printed, RenderFault, Renderer};
use results::candidate_report::candidate_report;
use results::{
    CellWorth, ClassList, SittingSummary, class_list, named_scripts, per_question, per_sample,
    summarise,
};
use serde::Serialize;
use sha2::{Digest, Sha256};

use crate::failure::Failure;
use crate::file_name::safe_file_name;
use crate::open_sitting::OpenSitting;
use crate::people::{Names, people_of};
use crate::print::head::{exam_head, sitting_look};
use crate::print::{pages_for, renderer_for, templates_of};
use crate::review::not_reviewed;
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;
use crate::texts::Sources;

pub(crate) use standing::{NOT_RELEASED, Standing};

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
    let Begun {
        mut open,
        by,
        paper,
        folder,
    } = begin(around, request, Doing::Results)?;
    let standing = Standing::of(&open.register)?;
    let people = people_of(around, &request.folder, &open.register, &request.names)?;
    let made = made(&open, &people, &paper, &folder, standing)?;
    let report = &made.report;
    let details = Details::from([
        (CLASS_LIST.to_owned(), made.class_list.clone()),
        ("files".to_owned(), report.files.len().to_string()),
        ("waiting".to_owned(), report.waiting.to_string()),
    ]);
    let templates = templates_of(&paper.sheets);
    open.register
        .note_papers(Act::ResultsMade, &by, details, &templates)?;
    open.register.close()?;
    made.put_down(around)
}

/// The detail of an entry that says the digest of the class list.
pub(crate) const CLASS_LIST: &str = "class list";

/// What results are set with: sheets to print, and pages to read on a screen.
pub(crate) struct Paper {
    /// Sheets.
    pub(crate) sheets: Renderer,
    /// Pages.
    pub(crate) pages: HtmlPages,
}

impl Paper {
    /// With the templates of an exam, or of a folder that was named.
    ///
    /// # Errors
    /// When a template is broken or cannot be read.
    pub(crate) fn of(
        around: &dyn Surroundings,
        exam: &Path,
        named: Option<&Path>,
    ) -> Result<Self, Failure> {
        Ok(Self {
            sheets: renderer_for(around, exam, named)?,
            pages: pages_for(around, exam, named)?,
        })
    }
}

/// What making and releasing results begin with.
pub(crate) struct Begun {
    /// The sitting.
    pub(crate) open: OpenSitting,
    /// Who acts.
    pub(crate) by: By,
    /// What prints them.
    pub(crate) paper: Paper,
    /// Where they go.
    pub(crate) folder: PathBuf,
}

/// Opens the sitting, asks whether the role may, and gets the templates ready.
///
/// # Errors
/// When the exam is not assembled, the role may not, or a template is broken.
pub(crate) fn begin(
    around: &dyn Surroundings,
    request: &ResultsRequest,
    doing: Doing,
) -> Result<Begun, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let by = acting(around, Some(&mut open.register), doing, request.stated)?;
    let paper = Paper::of(around, &request.folder, request.templates.as_deref())?;
    let folder = request
        .to
        .clone()
        .unwrap_or_else(|| request.folder.join("results"));
    Ok(Begun {
        open,
        by,
        paper,
        folder,
    })
}

/// Results that are made and not yet put down.
#[derive(Debug)]
pub(crate) struct MadeResults {
    /// What is reported of them.
    pub(crate) report: ResultsReport,
    /// SHA-256 of the class list as it stands in the folder once it is released.
    pub(crate) class_list: String,
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

/// Decides and writes the results of a rehearsed sitting; `note` stands on every sheet.
pub(crate) fn results_open(
    around: &dyn Surroundings,
    open: &OpenSitting,
    people: &People,
    paper: &Paper,
    folder: &Path,
    note: &str,
) -> Result<ResultsReport, Failure> {
    made(open, people, paper, folder, Standing::Rehearsed(note))?.put_down(around)
}

/// Decides and makes the results of an open sitting.
///
/// # Errors
/// When the sitting is not marked, or a sheet cannot be made.
pub(crate) fn made(
    open: &OpenSitting,
    people: &People,
    paper: &Paper,
    folder: &Path,
    standing: Standing<'_>,
) -> Result<MadeResults, Failure> {
    let awards = open.register.marks()?;
    let register = &open.register;
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
    head.note = standing.on_summary().to_owned();

    let mut files: Vec<(String, Vec<u8>)> = vec![(
        "01-class-list.csv".to_owned(),
        class.csv(standing.in_class_list()).into_bytes(),
    )];
    let waiting: Vec<_> = awards
        .iter()
        .filter(|award| award.outcome.waits())
        .collect();
    let not_reviewed = not_reviewed(register, &summary.review)?;
    let sheet = class_sheet::content(
        &head,
        &class_sheet::Class {
            scripts: &scripts,
            summary: &summary,
            waiting: &waiting,
            not_reviewed: &not_reviewed,
            custody: &open.custody,
        },
    );
    let stamp = |what: &str| PdfStamp::new(format!("{}/{}/{what}", head.title, head.date));
    let mut faults: Vec<Fault> = Vec::new();
    let mut put = |name: &str, printed: Result<Printed, RenderFault>| match printed {
        Ok(printed) => files.push((name.to_owned(), printed.pdf)),
        Err(fault) => faults.extend(fault.into_faults()),
    };
    put(
        "02-class-summary_chief-examiner.pdf",
        paper
            .sheets
            .class_summary(&sheet, &look, &stamp("class-summary")),
    );
    let samples = per_sample(&open.exam, &scripts, &summary);
    if !samples.is_empty() {
        put(
            "03-samples_chief-examiner.pdf",
            paper.sheets.sample_pages(
                &class_pages::samples(&head, &samples),
                &look,
                &stamp("samples"),
            ),
        );
    }
    let questions = per_question(&open.exam, &open.sitting, &scripts, &summary);
    if !questions.is_empty() {
        put(
            "04-questions_chief-examiner.pdf",
            paper.sheets.question_pages(
                &class_pages::questions(&head, &questions),
                &look,
                &stamp("questions"),
            ),
        );
    }
    head.note = standing.on_reports().to_owned();
    let worth = CellWorth::of(&open.exam, &scripts);
    let reports: Vec<_> = scripts
        .par_iter()
        .map(|script| {
            let report = candidate_report(&open.exam, &open.sitting, script, &worth);
            let content = report_sheet::content(&head, &report);
            let number = script.place.candidate.as_str();
            let name = safe_file_name(number);
            let stamp = PdfStamp::new(format!("{}/{}/report/{number}", head.title, head.date));
            let printed = paper
                .sheets
                .candidate_report(&content, &look, &stamp)
                .map_err(RenderFault::into_faults)?;
            let page = paper
                .pages
                .candidate_report(&content, &look.language)
                .map_err(|fault| vec![*fault])?;
            Ok([
                (format!("reports/{name}.pdf"), printed.pdf),
                (format!("reports/{name}.html"), page.into_bytes()),
            ])
        })
        .collect();
    for outcome in reports {
        match outcome {
            Ok(both) => files.extend(both),
            Err(found) => faults.extend::<Vec<Fault>>(found),
        }
    }
    if !faults.is_empty() {
        return Err(Failure::Faults {
            faults,
            sources: Sources::new(),
        });
    }
    Ok(MadeResults {
        class_list: to_hex(&Sha256::digest(
            class
                .without_names()
                .csv(standing.once_released().in_class_list()),
        )),
        report: ResultsReport {
            folder: folder.to_owned(),
            files: files.iter().map(|(name, _)| name.clone()).collect(),
            class,
            summary,
            waiting: waiting.len(),
            released: standing.is_released(),
        },
        files,
    })
}
