//! Reads counts of right answers: a table with one row for each taster.

use std::path::Path;

use base::table::Table;
use base::{Fault, Place};
use statistics::discrimination_test::replicated::TasterAnswers;

use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// Reads `taster,right,answers`.
///
/// # Errors
/// When the file cannot be read, or cells hold no counts: all at once.
pub fn read_counts(around: &dyn Surroundings, path: &Path) -> Result<Vec<TasterAnswers>, Failure> {
    let mut faults = Vec::new();
    let Some(source) = read_text(around, path, &mut faults)? else {
        return Err(Failure::Faults {
            faults,
            sources: Sources::new(),
        });
    };
    let mut tasters = Vec::new();
    match Table::read(&source) {
        Ok(table) => {
            if let Some([taster, right, answers]) =
                table.columns(["taster", "right", "answers"], &[], &mut faults)
            {
                for row in table.rows() {
                    let (right, answers) = (row.cell(right), row.cell(answers));
                    let number = |cell: &base::table::Cell, faults: &mut Vec<Fault>| {
                        let read = cell.text.parse::<u32>().ok().filter(|n| *n <= 1_000_000);
                        if read.is_none() {
                            faults.push(
                                Fault::new(
                                    "no-count",
                                    table.place(&cell.bytes),
                                    format!("\"{}\" is no number of answers", cell.text),
                                )
                                .allowed("a whole number, 0 or more"),
                            );
                        }
                        read
                    };
                    let (r, a) = (number(&right, &mut faults), number(&answers, &mut faults));
                    let (Some(r), Some(a)) = (r, a) else { continue };
                    if r > a {
                        faults.push(Fault::new(
                            "more-right-than-answers",
                            table.place(&right.bytes),
                            format!("\"{}\" has {r} right answers of {a}", row.cell(taster).text),
                        ));
                    } else {
                        tasters.push(TasterAnswers {
                            right: r,
                            answers: a,
                        });
                    }
                }
                if tasters.is_empty() && faults.is_empty() {
                    faults.push(
                        Fault::new(
                            "empty-table",
                            Place::whole(&source.name),
                            "no taster stands here",
                        )
                        .hint("one row for each taster: taster,right,answers"),
                    );
                }
            }
        }
        Err(fault) => faults.push(*fault),
    }
    if faults.is_empty() {
        Ok(tasters)
    } else {
        let sources = Sources::from([(source.name.clone(), source.text.clone())]);
        Err(Failure::Faults { faults, sources })
    }
}
