//! Sets the forecast of a past sitting beside what happened, and keeps how well it was forecast.

use std::path::{Path, PathBuf};

use results::rehearsal::{Against, Extent, GraderMarking, Population, against, population_of};
use serde::Serialize;

use super::seed_from;
use crate::failure::Failure;
use crate::open_sitting::OpenSitting;
use crate::surroundings::Surroundings;

/// The table in which comparisons are kept, beside the plan that is rehearsed.
const KEPT: &str = "forecast-record.csv";
/// Its columns.
const COLUMNS: [&str; 7] = [
    "sitting", "what", "forecast", "low", "high", "outcome", "inside",
];

/// What is asked.
#[derive(Debug, Clone)]
pub struct AgainstRequest {
    /// The exam's folder, in which the comparison is kept.
    pub folder: PathBuf,
    /// The folder of the marked sitting.
    pub sitting: PathBuf,
    /// Sittings to simulate.
    pub sittings: u32,
    /// Whom to simulate.
    pub population: Population,
}

/// What came of it.
#[derive(Debug, Clone, Serialize)]
pub struct AgainstReport {
    /// The sitting: title and day.
    pub sitting: String,
    /// Forecast and outcome.
    pub against: Against,
    /// All that was kept so far, this sitting included.
    pub kept: Kept,
}

/// How often outcomes lay where nine in ten should, over all sittings that were compared.
#[derive(Debug, Clone, Serialize)]
pub struct Kept {
    /// The table.
    pub table: PathBuf,
    /// Sittings in it.
    pub sittings: usize,
    /// Outcomes in it.
    pub outcomes: usize,
    /// Those that lay inside.
    pub inside: usize,
}

/// Compares forecast and outcome of a marked sitting.
///
/// # Errors
/// When the sitting is not assembled or not marked, or the table of comparisons cannot be used.
pub fn rehearse_against(
    around: &dyn Surroundings,
    request: &AgainstRequest,
) -> Result<AgainstReport, Failure> {
    let open = OpenSitting::open(around, &request.sitting)?;
    let awards = open.register.marks()?;
    if awards.is_empty() {
        return Err(Failure::Refused {
            what: format!(
                "the sitting in {} is not marked yet",
                request.sitting.display()
            ),
            hint: "valinch mark FOLDER --answers TABLE".to_owned(),
        });
    }
    let drawn = &open.drawn;
    let extent = Extent {
        sittings: request.sittings,
        ..Extent::default()
    };
    let made = against(
        &drawn.exam,
        &drawn.sitting,
        &awards,
        &seed_from(&drawn.texts),
        &request.population,
        &extent,
        &GraderMarking::new(&drawn.exam),
    );
    let sitting = format!("{}, {}", drawn.exam.plan.title, drawn.exam.plan.date);
    let kept = keep(around, request, &sitting, &made)?;
    open.register.close()?;
    Ok(AgainstReport {
        sitting,
        against: made,
        kept,
    })
}

/// The population that fits the marks of a past sitting.
///
/// # Errors
/// When the sitting is not assembled, not marked, or too small.
pub fn population_as_in(
    around: &dyn Surroundings,
    sitting: &Path,
    usual: &Population,
) -> Result<Population, Failure> {
    let open = OpenSitting::open(around, sitting)?;
    let awards = open.register.marks()?;
    let drawn = &open.drawn;
    let fitted = population_of(
        &drawn.exam,
        &drawn.sitting,
        &awards,
        &seed_from(&drawn.texts),
        usual,
        &GraderMarking::new(&drawn.exam),
    );
    open.register.close()?;
    fitted.ok_or_else(|| Failure::Refused {
        what: format!(
            "the sitting in {} has too few marked candidates",
            sitting.display()
        ),
        hint: "five or more show how able a class was; mark it first".to_owned(),
    })
}

/// Puts the comparison into the table in place of an older one of the same sitting.
fn keep(
    around: &dyn Surroundings,
    request: &AgainstRequest,
    sitting: &str,
    made: &Against,
) -> Result<Kept, Failure> {
    let table = request.folder.join(KEPT);
    let unreadable = |why: String| Failure::Refused {
        what: format!(
            "{} cannot be read as a table of comparisons: {why}",
            table.display()
        ),
        hint: "mend it, or move it away to begin anew".to_owned(),
    };
    let mut rows: Vec<Vec<String>> = Vec::new();
    if around.has_file(&table) {
        let bytes = around.read(&table)?;
        let mut reader = csv::Reader::from_reader(bytes.as_slice());
        let head = reader
            .headers()
            .map_err(|error| unreadable(error.to_string()))?;
        if head.iter().ne(COLUMNS) {
            return Err(unreadable(format!(
                "its columns are not {}",
                COLUMNS.join(", ")
            )));
        }
        for row in reader.records() {
            let row = row.map_err(|error| unreadable(error.to_string()))?;
            if row.get(0) != Some(sitting) {
                rows.push(row.iter().map(str::to_owned).collect());
            }
        }
    }
    for line in made.figures.iter().chain(&made.questions) {
        let number = |value: f64| format!("{value:.4}");
        rows.push(vec![
            sitting.to_owned(),
            line.what.clone(),
            number(line.forecast),
            number(line.low),
            number(line.high),
            number(line.outcome),
            if line.inside { "yes" } else { "no" }.to_owned(),
        ]);
    }
    let defect = |error: csv::Error| Failure::Defect(error.to_string());
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(COLUMNS).map_err(defect)?;
    for row in &rows {
        writer.write_record(row).map_err(defect)?;
    }
    let bytes = writer
        .into_inner()
        .map_err(|error| Failure::Defect(error.to_string()))?;
    around.write(&table, &bytes)?;
    let at = |row: &Vec<String>, column: usize| row.get(column).cloned().unwrap_or_default();
    let mut sittings: Vec<String> = rows.iter().map(|row| at(row, 0)).collect();
    sittings.sort();
    sittings.dedup();
    Ok(Kept {
        sittings: sittings.len(),
        outcomes: rows.len(),
        inside: rows.iter().filter(|row| at(row, 6) == "yes").count(),
        table,
    })
}
