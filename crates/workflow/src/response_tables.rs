//! Reads tables of answers or marks that came from anywhere, for the analysis.
//!
//! Two shapes: wide, one row for each candidate (or for each candidate and marker) and one column
//! for each question; or long, one row for each candidate and question, told by a column named
//! `question` and one named `answer`, `mark` or `marks` (or by naming them). Cells are marks, or
//! answers beside a key. Read with the reader of tables edited by hand, whose faults show their cell;
//! a table of 10,000 candidates and 60 questions has about 2 MB.

mod columns;
mod group_table;
mod key_table;
mod resolve;
mod seat_table;

use std::path::{Path, PathBuf};

use base::table::Table;
use base::{Fault, SourceText};
use results::analysis::{MarkedScript, Responses};

use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};
use columns::{Columns, Shape};
pub(crate) use group_table::GroupTable;
pub(crate) use seat_table::SeatTable;

/// How tables are to be read: names of columns, and what stands for no answer.
#[derive(Debug, Clone, Default)]
pub struct TableOptions {
    /// A table with the right answers.
    pub key: Option<PathBuf>,
    /// The column that names the candidate.
    pub candidate: Option<String>,
    /// The column that names the form.
    pub form: Option<String>,
    /// The column that names the sitting.
    pub sitting: Option<String>,
    /// The column that names the marker.
    pub marker: Option<String>,
    /// Long tables: the column that names the question.
    pub question: Option<String>,
    /// Long tables: the column with the answer or mark.
    pub answer: Option<String>,
    /// The column that says for how many candidates a row stands.
    pub count: Option<String>,
    /// The column that names the group.
    pub group: Option<String>,
    /// Columns that are no questions.
    pub leave_out: Vec<String>,
    /// What stands for an answer left out, besides an empty cell.
    pub omitted: Vec<String>,
    /// What stands for a question that was not reached.
    pub not_reached: Vec<String>,
    /// What stands for a question that was not put to the candidate.
    pub not_asked: Vec<String>,
    /// Full marks of each question; the highest mark seen where it is not given.
    pub full_marks: Option<f64>,
}

/// What was read.
#[derive(Debug, Clone, Default)]
pub struct ReadTables {
    /// The answers.
    pub responses: Responses,
    /// Each marker's marks; empty without a column of markers.
    pub scripts: Vec<MarkedScript>,
    /// What was assumed, in sentences.
    pub notes: Vec<String>,
}

/// One row of a table, not yet marked: cells by the place of the question.
#[derive(Debug, Clone)]
pub(crate) struct RawRow {
    candidate: String,
    sitting: String,
    form: String,
    marker: String,
    group: String,
    times: usize,
    cells: Vec<(usize, base::table::Cell)>,
    place: base::Place,
    /// The table it stands in, by its place among the requested ones.
    table: usize,
}

/// Rows of all tables with the names of the questions.
#[derive(Debug, Default)]
pub(crate) struct RawTables {
    questions: Vec<String>,
    rows: Vec<RawRow>,
}

impl RawTables {
    fn question(&mut self, name: &str) -> usize {
        let known = self.questions.iter().position(|q| q == name);
        known.unwrap_or_else(|| {
            self.questions.push(name.to_owned());
            self.questions.len() - 1
        })
    }
}

/// The most candidates that one row may stand for.
const MOST_TIMES: usize = 100_000;

/// The most candidates that all rows together may stand for.
pub(crate) const MOST_CANDIDATES: usize = 500_000;

/// Too many candidates for memory.
pub(crate) fn too_many(place: base::Place) -> Fault {
    Fault::new(
        "too-many-candidates",
        place,
        "with this row the table stands for too many candidates",
    )
    .allowed(format!("at most {MOST_CANDIDATES} in all"))
}

/// Reads tables and pools them.
///
/// # Errors
/// When a table cannot be read, or has faults: all of them at once.
pub fn read_tables(
    around: &dyn Surroundings,
    paths: &[PathBuf],
    options: &TableOptions,
) -> Result<ReadTables, Failure> {
    let mut faults = Vec::new();
    let mut sources = Sources::new();
    let mut texts: Vec<SourceText> = Vec::new();
    for path in paths {
        if let Some(text) = read_text(around, path, &mut faults)? {
            sources.insert(text.name.clone(), text.text.clone());
            texts.push(text);
        }
    }
    let key = match &options.key {
        Some(path) => match read_text(around, path, &mut faults)? {
            Some(text) => {
                sources.insert(text.name.clone(), text.text.clone());
                key_table::read_key(&text, &mut faults)
            }
            None => None,
        },
        None => None,
    };
    let mut raw = RawTables::default();
    let mut tables = Vec::new();
    for text in &texts {
        match Table::read(text) {
            Ok(table) => tables.push(table),
            Err(fault) => faults.push(*fault),
        }
    }
    let mut sound = tables.len() == paths.len() && (options.key.is_none() || key.is_some());
    for (number, table) in tables.iter().enumerate() {
        let name = if tables.len() > 1 {
            paths.get(number).map_or_else(String::new, |p| stem(p))
        } else {
            String::new()
        };
        if let Some(columns) = Columns::of(table, options, &mut faults) {
            rows_of(table, number, &columns, &name, &mut raw, &mut faults);
        } else {
            sound = false;
        }
    }
    let mut read = ReadTables::default();
    // Rows without a candidate do not hide what is wrong with the others.
    if sound {
        read = resolve::resolve(&raw, &tables, key.as_ref(), options, &mut faults);
    }
    if faults.iter().any(|fault| !fault.is_weakness()) {
        return Err(Failure::Faults { faults, sources });
    }
    read.responses.what = paths.first().map_or_else(String::new, |p| stem(p));
    Ok(read)
}

/// A file's name without its ending.
pub(crate) fn stem(path: &Path) -> String {
    path.file_stem()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned()
}

/// Takes in the rows of one table.
fn rows_of(
    table: &Table<'_>,
    number: usize,
    columns: &Columns,
    sitting: &str,
    raw: &mut RawTables,
    faults: &mut Vec<Fault>,
) {
    let text = |row: &base::table::Row, column: Option<base::table::Column>| {
        column
            .map(|column| row.cell(column).text)
            .unwrap_or_default()
    };
    let places: Vec<usize> = match &columns.shape {
        Shape::Wide(questions) => questions
            .iter()
            .map(|(name, _)| raw.question(name))
            .collect(),
        Shape::Long { .. } => Vec::new(),
    };
    for (line, row) in table.rows().iter().enumerate() {
        let mut candidate = text(row, columns.candidate);
        if candidate.is_empty() {
            // Without a column of its own a candidate is the row; with one, a nameless row is a fault.
            if columns.candidate.is_some() {
                faults.push(
                    Fault::new(
                        "missing-candidate",
                        table.place(row.bytes()),
                        "this row names no candidate",
                    )
                    .hint(
                        "each row needs a candidate; leave the column out where there are no names",
                    ),
                );
                continue;
            }
            candidate = (line + 1).to_string();
        }
        let times = match columns.count {
            Some(column) => match times(table, &row.cell(column)) {
                Ok(times) => times,
                Err(fault) => {
                    faults.push(*fault);
                    continue;
                }
            },
            None => 1,
        };
        let own = text(row, columns.sitting);
        let mut made = RawRow {
            candidate,
            sitting: if own.is_empty() {
                sitting.to_owned()
            } else {
                own
            },
            form: text(row, columns.form),
            marker: text(row, columns.marker),
            group: text(row, columns.group),
            times,
            cells: Vec::new(),
            place: table.place(row.bytes()),
            table: number,
        };
        match &columns.shape {
            Shape::Wide(questions) => {
                for ((_, column), place) in questions.iter().zip(&places) {
                    made.cells.push((*place, row.cell(*column)));
                }
            }
            Shape::Long { question, answer } => {
                let name = row.cell(*question).text;
                if name.is_empty() {
                    faults.push(Fault::new(
                        "missing-question",
                        table.place(row.bytes()),
                        "this row names no question",
                    ));
                    continue;
                }
                made.cells.push((raw.question(&name), row.cell(*answer)));
            }
        }
        raw.rows.push(made);
    }
    if table.rows().is_empty() {
        faults.push(
            Fault::new(
                "empty-table",
                table.place(&(0..0)),
                "this table has a header and no rows",
            )
            .hint("each row below the header is a candidate"),
        );
    }
}

/// For how many candidates a row stands.
pub(crate) fn times(table: &Table<'_>, cell: &base::table::Cell) -> Result<usize, Box<Fault>> {
    match cell.text.parse::<usize>() {
        Ok(times) if times <= MOST_TIMES => Ok(times),
        Ok(_) | Err(_) => Err(Box::new(
            Fault::new(
                "bad-count",
                table.place(&cell.bytes),
                format!(
                    "\"{}\" is no number of candidates",
                    base::walk::shortened(&cell.text)
                ),
            )
            .allowed(format!("whole numbers from 0 to {MOST_TIMES}")),
        )),
    }
}
