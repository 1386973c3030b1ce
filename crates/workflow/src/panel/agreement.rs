//! How far people agree who rated the same things: a table with a row for each thing and a column for
//! each rater.

use std::path::Path;

use base::Fault;
use base::table::Table;
pub use results::agreement::RatedAs;
use results::agreement::agreement;
use results::analysis::FurtherFigure;
use serde::Serialize;

use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// How far raters agree.
#[derive(Debug, Clone, Serialize)]
pub struct AgreementReport {
    /// The raters, in the order of the columns.
    pub raters: Vec<String>,
    /// Things that were rated.
    pub things: usize,
    /// What the ratings were taken for.
    pub rated_as: RatedAs,
    /// The figures that fit.
    pub figures: Vec<FurtherFigure>,
}

/// Reads the table and works out the figures. An empty cell is a rating that was not given.
///
/// # Errors
/// When the table cannot be read or has faults.
pub fn panel_agreement(
    around: &dyn Surroundings,
    path: &Path,
    rated_as: RatedAs,
) -> Result<AgreementReport, Failure> {
    let mut faults = Vec::new();
    let Some(source) = read_text(around, path, &mut faults)? else {
        return Err(Failure::Faults {
            faults,
            sources: Sources::new(),
        });
    };
    let read = match Table::read(&source) {
        Ok(table) => ratings(&table, rated_as, &mut faults),
        Err(fault) => {
            faults.push(*fault);
            None
        }
    };
    let Some((raters, rows)) = read.filter(|_| faults.is_empty()) else {
        let sources = Sources::from([(source.name.clone(), source.text.clone())]);
        return Err(Failure::Faults { faults, sources });
    };
    let things = rows.len();
    let figures = agreement(rows, rated_as).map_err(|why| Failure::Refused {
        what: why.to_string(),
        hint: "a row for each thing that was rated, a column for each who rated it".to_owned(),
    })?;
    Ok(AgreementReport {
        raters,
        things,
        rated_as,
        figures,
    })
}

type Read = (Vec<String>, Vec<Vec<Option<f64>>>);

/// Columns that name what was rated; all others are raters.
const THINGS: [&str; 6] = ["sample", "subject", "candidate", "script", "thing", "id"];

/// The raters and their ratings; names are numbered in the order in which they first stand.
fn ratings(table: &Table<'_>, rated_as: RatedAs, faults: &mut Vec<Fault>) -> Option<Read> {
    let columns: Vec<(usize, String)> = table
        .header()
        .iter()
        .enumerate()
        .filter(|(_, cell)| {
            !THINGS
                .iter()
                .any(|name| cell.text.eq_ignore_ascii_case(name))
        })
        .map(|(place, cell)| (place, cell.text.clone()))
        .collect();
    let raters: Vec<String> = columns.iter().map(|(_, name)| name.clone()).collect();
    if raters.len() < 2 || table.rows().is_empty() {
        faults.push(
            Fault::new(
                "too-few-raters",
                table.place(&table.header().first().map_or(0..0, |c| c.bytes.clone())),
                "agreement takes two raters and something that they rated",
            )
            .allowed(format!(
                "a column for each rater; one named {} says what was rated",
                THINGS.join(", ")
            )),
        );
        return None;
    }
    let mut names: Vec<String> = Vec::new();
    let mut rows = Vec::new();
    for row in table.rows() {
        let mut own = Vec::with_capacity(raters.len());
        for (place, _) in &columns {
            let cell = row.cells().get(*place).cloned().unwrap_or_default();
            if cell.text.is_empty() {
                own.push(None);
                continue;
            }
            let number = cell.text.replace(',', ".").parse::<f64>().ok();
            match (rated_as, number.filter(|n| n.is_finite() && n.abs() <= 1e9)) {
                (RatedAs::Names, Some(number)) if number == 0.0 || number == 1.0 => {
                    // Ones and noughts stay what they are: they may be right and wrong.
                    own.push(Some(number));
                }
                (RatedAs::Names, _) => {
                    let known = names.iter().position(|name| *name == cell.text);
                    let place = known.unwrap_or_else(|| {
                        names.push(cell.text.clone());
                        names.len() - 1
                    });
                    own.push(Some((place + 2) as f64));
                }
                (RatedAs::Levels | RatedAs::Numbers, Some(number)) => own.push(Some(number)),
                (RatedAs::Levels | RatedAs::Numbers, None) => faults.push(
                    Fault::new(
                        "no-number",
                        table.place(&cell.bytes),
                        format!("\"{}\" is no number", base::walk::shortened(&cell.text)),
                    )
                    .allowed("numbers, or an empty cell")
                    .hint("--as names takes words"),
                ),
            }
        }
        rows.push(own);
    }
    Some((raters, rows))
}
