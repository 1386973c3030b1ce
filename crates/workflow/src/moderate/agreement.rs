//! How far the markers of a sitting agree, read from their tables; nothing is written.

use std::path::Path;

use grader::Award;
use grader::script_sharing::Essay;
use results::moderation::{Moderation, moderate as figures};

use super::marker_table::{GivenMarks, Sheet};
use super::sharing::sharing;
use super::{MODERATION, TABLES, Together, markers, rubric_of};
use crate::failure::Failure;
use crate::open_sitting::DrawnSitting;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// What the tables of the markers say so far, with the number of rows that were not taken; none
/// where no script was marked twice.
///
/// # Errors
/// When a table cannot be read.
pub(crate) fn agreement(
    around: &dyn Surroundings,
    folder: &Path,
    drawn: &DrawnSitting,
    awards: &[Award],
) -> Result<Option<(Moderation, usize)>, Failure> {
    let home = folder.join(MODERATION);
    let names = markers(around, &home, &[])?;
    let mut faults = Vec::new();
    let noted = (&mut faults, &mut Sources::new());
    let Ok(shared) = sharing(around, folder, drawn, awards, &names, noted)? else {
        return Ok(None);
    };
    let rubric = |essay: &Essay| rubric_of(drawn, essay);
    let sheet = Sheet {
        essays: &shared.essays,
        rubric: &rubric,
        third_readers: None,
    };
    let mut given = Vec::new();
    for (place, name) in names.iter().enumerate() {
        let own = shared.all_of(place);
        let mut marks = GivenMarks::default();
        for kind in TABLES {
            let path = home.join(format!("{kind}-{name}.csv"));
            if around.has_file(&path)
                && let Some(source) = read_text(around, &path, &mut faults)?
            {
                sheet.take(&source, &own, &mut marks, &mut faults);
            }
        }
        given.push(marks);
    }
    let together = Together {
        shared: &shared,
        given: &given,
        third: &GivenMarks::default(),
        gap: None,
    };
    let marked = together.marked();
    Ok((!marked.twice.is_empty()).then(|| (figures(&names, &marked), faults.len())))
}
