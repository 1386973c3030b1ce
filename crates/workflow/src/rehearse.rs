//! Walks the whole way of a sitting with simulated candidates, before a drop is poured.
//!
//! The same functions as on the day draw, print, take in, mark and decide; only the answers are
//! simulated. Everything goes into one folder that is replaced as a whole by the next rehearsal.

mod against_sitting;
mod forecast_page;
mod forecast_sheet;

pub use against_sitting::{
    AgainstReport, AgainstRequest, Kept, population_as_in, rehearse_against,
};

use std::path::{Path, PathBuf};

use assembler::Sitting;
use base::ExamSeed;
use exam_plan::TastingWay;
use register::{By, Register, Role};
use renderer::{PdfStamp, Renderer};
use results::rehearsal::{
    Extent, Forecast, GraderMarking, Population, SimulatedAnswer, Wanted, forecast, not_met,
    simulate_answers,
};
use serde::Serialize;
use sha2::{Digest, Sha256};

use crate::assemble::{LoadedFolder, REGISTER};
use crate::failure::Failure;
use crate::give_results::{Paper, ResultsReport, results_open};
use crate::mark::{MarkReport, mark_open};
use crate::open_sitting::{Custody, DrawnSitting, OpenSitting};
use crate::pour::{PourReport, plan_of, report as pour_report};
use crate::print::head::{exam_head, look};
use crate::print::templates::pages_for;
use crate::print::{PrintReport, PrintRequest, print_open, renderer_for};
use crate::surroundings::Surroundings;
use crate::texts::Texts;

/// What stands on every sheet of a rehearsal.
const NOTE: &str = "Rehearsal: simulated candidates, not the exam";
/// The file by which a folder is known to be a rehearsal of ours, which may be replaced.
const FORECAST: &str = "forecast.json";

/// What `rehearse` is asked.
#[derive(Debug, Clone)]
pub struct RehearseRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// Where the rehearsal goes; the folder `rehearsal` below the exam's where none is named.
    pub to: Option<PathBuf>,
    /// The seed; made from the texts where none is given, so that the same exam rehearses alike.
    pub seed: Option<ExamSeed>,
    /// Sittings to simulate for the forecast.
    pub sittings: u32,
    /// Whom to simulate.
    pub population: Population,
    /// No more sittings once the simulation error of each part's mean share is at most this.
    pub error_at_most: Option<f64>,
    /// What is wanted of the exam.
    pub wanted: Wanted,
}

/// What came of it.
#[derive(Debug, Clone, Serialize)]
pub struct RehearseReport {
    /// The folder.
    pub folder: PathBuf,
    /// What to expect.
    pub forecast: Forecast,
    /// What to buy and pour; none without a tasting part.
    pub pour: Option<PourReport>,
    /// The printed papers.
    pub papers: PrintReport,
    /// The marking of one simulated sitting.
    pub marking: MarkReport,
    /// Its results.
    pub results: ResultsReport,
    /// What could not be had in the draw.
    pub shortfalls: Vec<String>,
    /// What was wanted of the exam and is not forecast.
    pub not_met: Vec<String>,
}

/// Rehearses an exam.
///
/// # Errors
/// When the texts have faults, the bank cannot fill the plan, or the folder cannot be written.
pub fn rehearse(
    around: &dyn Surroundings,
    request: &RehearseRequest,
) -> Result<RehearseReport, Failure> {
    let loaded = LoadedFolder::load(around, &request.folder)?;
    let seed = request
        .seed
        .clone()
        .unwrap_or_else(|| seed_of_texts(&loaded));
    let renderer = renderer_for(around, &request.folder, None)?;
    let folder = request
        .to
        .clone()
        .unwrap_or_else(|| request.folder.join("rehearsal"));
    let growing = around.begin_folder(&folder, FORECAST)?;
    let way = Way {
        around,
        request,
        loaded: &loaded,
        seed: &seed,
        renderer: &renderer,
        growing: &growing,
        folder: &folder,
    };
    let walked = way.walk();
    if walked.is_err() {
        around.give_up_folder(&growing);
    }
    walked
}

/// A rehearsal is nobody's act and has no time, so that the same texts rehearse alike.
const fn nobody() -> By {
    By::new(Role::Assembler, None)
}

/// Everything that the way of one rehearsal needs.
struct Way<'w> {
    around: &'w dyn Surroundings,
    request: &'w RehearseRequest,
    loaded: &'w LoadedFolder,
    seed: &'w ExamSeed,
    renderer: &'w Renderer,
    growing: &'w Path,
    folder: &'w Path,
}

impl Way<'_> {
    fn walk(&self) -> Result<RehearseReport, Failure> {
        let Self {
            around,
            request,
            loaded,
            seed,
            renderer,
            growing,
            folder,
        } = *self;
        let sitting = loaded.draw(seed)?;
        Register::create(
            &growing.join(REGISTER),
            &loaded.texts.to_store(),
            seed,
            &sitting,
            &[],
            &nobody(),
        )?
        .close()?;
        let mut open = OpenSitting::open(around, growing)?;
        open.drawn.custody = Custody::default();
        let print = PrintRequest {
            folder: growing.to_owned(),
            ..PrintRequest::default()
        };
        let papers = print_open(
            around,
            &open.drawn,
            renderer,
            &print,
            &loaded.people,
            &growing.join("papers"),
            NOTE,
        )?;

        let table = growing.join("answers").join("simulated.csv");
        let answers = simulate_answers(
            &open.drawn.exam,
            &open.drawn.sitting,
            seed,
            &request.population,
        );
        around.write(&table, &table_of(&answers)?)?;
        let marking = mark_open(
            around,
            &mut open,
            &[table],
            &grader::Rulings::default(),
            &[],
            &nobody(),
        )?;
        let paper = Paper::of(around, &request.folder, None)?;
        let results = results_open(
            around,
            &open,
            &loaded.people,
            &paper,
            &growing.join("results"),
            NOTE,
        )?;

        let extent = Extent {
            sittings: request.sittings,
            error_at_most: request.error_at_most,
            ..Extent::default()
        };
        let (usual, left_out) = who_sits_all(&open.drawn);
        let forecast = forecast(
            &open.drawn.exam,
            &usual,
            seed,
            &request.population,
            &extent,
            &GraderMarking::new(&open.drawn.exam),
        );
        let pour = match &open.drawn.exam.plan.tasting {
            Some(_) => Some(pour_report(&open.drawn, &plan_of(&open.drawn)?)),
            None => None,
        };
        let mut head = exam_head(&open.drawn.exam);
        head.note = NOTE.to_owned();
        let sheet = forecast_sheet::content(&head, &forecast, pour.as_ref());
        let stamp = PdfStamp::new(format!("{}/{}/forecast", head.title, head.date));
        let printed = renderer
            .rehearsal_forecast(&sheet, &look(&open.drawn.exam), &stamp)
            .map_err(|fault| Failure::Faults {
                faults: fault.into_faults(),
                sources: crate::texts::Sources::new(),
            })?;
        around.write(&growing.join("forecast.pdf"), &printed.pdf)?;
        let page = forecast_page::content(&open.drawn.exam, &forecast, pour.as_ref());
        let html = pages_for(around, &request.folder, None)?
            .report(&page)
            .map_err(|fault| Failure::Faults {
                faults: vec![*fault],
                sources: crate::texts::Sources::new(),
            })?;
        around.write(&growing.join("forecast.html"), html.as_bytes())?;
        let mut shortfalls = open.drawn.sitting.shortfalls.clone();
        shortfalls.extend(left_out);
        open.register.close()?;
        let json = serde_json::to_vec_pretty(&forecast)
            .map_err(|error| Failure::Defect(error.to_string()))?;
        around.write(&growing.join(FORECAST), &json)?;
        around.finish_folder(growing, folder)?;

        let moved = |path: &Path| folder.join(path.strip_prefix(growing).unwrap_or(path));
        Ok(RehearseReport {
            papers: PrintReport {
                folder: moved(&papers.folder),
                ..papers
            },
            results: ResultsReport {
                folder: moved(&results.folder),
                ..results
            },
            folder: folder.to_owned(),
            not_met: not_met(&forecast, &request.wanted),
            forecast,
            pour,
            marking,
            shortfalls,
        })
    }
}

/// The sitting of those who sit everything, and a sentence about the others: the forecast is of one
/// kind of script, and a part that was brought along or a shorter paper is another.
fn who_sits_all(drawn: &DrawnSitting) -> (Sitting, Option<String>) {
    let mut usual = drawn.sitting.clone();
    usual.places.retain(|place| {
        drawn.exam.brought_by(&place.candidate).is_none()
            && drawn.exam.way_of(&place.candidate) == TastingWay::Full
    });
    let others = drawn.sitting.places.len() - usual.places.len();
    if others == 0 || usual.places.is_empty() {
        return (drawn.sitting.clone(), None);
    }
    let said = format!(
        "The forecast is of the {} who sit everything; {others} nose only or bring a part along.",
        usual.places.len()
    );
    (usual, Some(said))
}

/// A seed from the texts: no secret, since nothing of a rehearsal is.
fn seed_of_texts(loaded: &LoadedFolder) -> ExamSeed {
    seed_from(&loaded.texts)
}

/// A seed from texts.
fn seed_from(texts: &Texts) -> ExamSeed {
    let mut hash = Sha256::new();
    hash.update(b"valinch rehearsal 1");
    for text in texts.as_written() {
        for part in [text.name.as_bytes(), text.text.as_bytes()] {
            hash.update((part.len() as u64).to_be_bytes());
            hash.update(part);
        }
    }
    ExamSeed::from_bytes(hash.finalize().into())
}

/// Simulated answers as a table of the long shape.
fn table_of(answers: &[SimulatedAnswer]) -> Result<Vec<u8>, Failure> {
    let defect = |error: csv::Error| Failure::Defect(error.to_string());
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer
        .write_record(["candidate", "part", "question", "answer"])
        .map_err(defect)?;
    for answer in answers {
        let (part, question) = match &answer.item {
            grader::Item::Theory { number, .. } => ("theory", number.to_string()),
            grader::Item::Tasting { code, asked, .. } => ("tasting", format!("{code} {asked}")),
        };
        writer
            .write_record([answer.candidate.as_str(), part, &question, &answer.answer])
            .map_err(defect)?;
    }
    writer
        .into_inner()
        .map_err(|error| Failure::Defect(error.to_string()))
}
