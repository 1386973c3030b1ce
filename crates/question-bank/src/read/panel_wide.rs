//! Reads a panel's notes with one column for each descriptor, as panels often write them.
//!
//! A row is an assessor at a stage (and a session); or, without the column `stage`, an assessor, and
//! each column says its stage before the word: `nose: peat`. An empty cell or 0 is a word that was
//! not cited. A column `quality` holds the rating, in any one row of its assessor.

use base::Fault;
use base::table::{Cell, Table};
use base::walk::shortened;

use super::panel_table::{Reading, RowStage, USUAL_SCALE};
use crate::reference_tasting::{PanelNote, Stage};

/// The columns that are no descriptors.
const OTHERS: [&str; 6] = [
    "assessor",
    "stage",
    "session",
    "replicate",
    "scale",
    "quality",
];

/// Whether a table has a column for each descriptor: it names neither descriptor nor intensity, and
/// has at least one further column.
pub(super) fn is_wide(table: &Table<'_>) -> bool {
    let has = |name: &str| table.column(name).is_some();
    has("assessor") && !has("descriptor") && !has("intensity") && {
        let known = OTHERS.iter().filter(|name| has(name)).count();
        table.header().len() > known
    }
}

/// One column of a descriptor.
struct WordColumn {
    place: usize,
    word: String,
    /// None where the row tells it.
    stage: Option<Stage>,
}

pub(super) fn rows(reading: &mut Reading<'_>, table: &Table<'_>) {
    let with_stage = table.column("stage").is_some();
    let Some([assessor]) = table.columns(["assessor"], &[], &mut Vec::new()) else {
        return;
    };
    let mut words = Vec::new();
    for (place, head) in table.header().iter().enumerate() {
        let name = head.text.trim().to_lowercase();
        if OTHERS.contains(&name.as_str()) || name.is_empty() {
            continue;
        }
        if let Some(column) = word_column(reading, table, head, place, with_stage) {
            words.push(column);
        }
    }
    let session_column = table
        .column("session")
        .or_else(|| table.column("replicate"));
    for row in table.rows() {
        let session = session_column.map_or_else(String::new, |column| row.cell(column).text);
        let scale = match table.column("scale") {
            Some(column) => reading.scale(table, &row.cell(column)),
            None => Some(None),
        };
        let stage = match table.column("stage") {
            Some(column) => match reading.stage(table, &row.cell(column)) {
                Some(RowStage::Notes(stage)) => Some(stage),
                Some(RowStage::Quality) => None,
                None => continue,
            },
            None => None,
        };
        let (Some(who), Some(scale)) = (reading.assessor(table, &row.cell(assessor)), scale) else {
            continue;
        };
        if let Some(cell) = table.column("quality").map(|column| row.cell(column))
            && !cell.text.is_empty()
            && let Some(rating) = reading.quality(table, &cell)
        {
            let place = table.place(&cell.bytes);
            reading.note_doubled(place, who, "quality", "", "", session.clone());
            reading.tasting.quality.push((who, rating));
        }
        for column in &words {
            let Some(cell) = row.cells().get(column.place) else {
                continue;
            };
            let Some(stage) = column.stage.or(stage) else {
                continue;
            };
            if cell.text.is_empty() || cell.text == "0" {
                continue;
            }
            let Some(intensity) = reading.intensity(table, cell, scale) else {
                continue;
            };
            let place = table.place(&cell.bytes);
            reading.one_scale(&place, &column.word, scale.unwrap_or(USUAL_SCALE));
            reading.note_doubled(
                place,
                who,
                stage.word(),
                &column.word,
                &column.word,
                session.clone(),
            );
            let session = reading.session(&session);
            reading.tasting.notes.push(PanelNote {
                assessor: who,
                stage,
                descriptor: column.word.clone(),
                intensity,
                session,
            });
        }
    }
}

/// What a column's head says.
fn word_column(
    reading: &mut Reading<'_>,
    table: &Table<'_>,
    head: &Cell,
    place: usize,
    with_stage: bool,
) -> Option<WordColumn> {
    if with_stage {
        let word = reading.descriptor(table, head)?;
        return Some(WordColumn {
            place,
            word,
            stage: None,
        });
    }
    let (before, word) = head
        .text
        .split_once(':')
        .or_else(|| head.text.split_once(' '))
        .unwrap_or(("", head.text.as_str()));
    let before = before.trim().to_lowercase();
    let Some(stage) = Stage::ALL.into_iter().find(|stage| stage.word() == before) else {
        let stages: Vec<&str> = Stage::ALL.into_iter().map(Stage::word).collect();
        reading.faults.push(
            Fault::new(
                "unknown-stage",
                table.place(&head.bytes),
                format!("the column \"{}\" tells no stage", shortened(&head.text)),
            )
            .allowed(format!("{} before the word: nose: peat", stages.join(", ")))
            .hint("or add a column \"stage\""),
        );
        return None;
    };
    let cell = Cell {
        text: word.trim().to_owned(),
        bytes: head.bytes.clone(),
    };
    let word = reading.descriptor(table, &cell)?;
    Some(WordColumn {
        place,
        word,
        stage: Some(stage),
    })
}
