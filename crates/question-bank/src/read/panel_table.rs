//! Reads `samples/ID.panel.csv`: the raw notes of the reference panel.
//!
//! Two shapes: a row for each citation (assessor, stage, descriptor, intensity), or a row for each
//! assessor and stage with a column for each descriptor ([`super::panel_wide`]). Either may have the
//! columns `session` (or `replicate`) and `scale`, the top of the scale of intensity; without it
//! intensities run from 1 to 5.

use std::collections::BTreeMap;

use base::table::{Cell, Table};
use base::walk::shortened;
use base::{Fault, Place, SourceText};

use crate::lexicon::Lexicon;
use crate::reference_tasting::{PanelNote, ReferenceTasting, STRONGEST, Stage};
use crate::word_match::{How, Resolved, fold, resolve};

use super::panel_wide;

/// A panel of fewer assessors is hardly one. Common practice, no source.
const FEWEST_ASSESSORS: usize = 5;

/// The top of the quality scale.
const BEST: f64 = 10.0;

/// The top of the scale of intensity where the table states none.
pub(super) const USUAL_SCALE: f64 = 5.0;

/// The highest top of a scale that can be stated.
const HIGHEST_SCALE: f64 = 1000.0;

/// So many equal intensities are no accident.
const MANY_NOTES: usize = 12;

/// What a row of the table is about.
pub(super) enum RowStage {
    Notes(Stage),
    Quality,
}

/// Reads the table. Descriptors become the lexicon's main words; without a lexicon they stay as
/// written and nothing is said about them.
pub(crate) fn read_panel_table(
    source: &SourceText,
    lexicon: Option<&Lexicon>,
    faults: &mut Vec<Fault>,
) -> ReferenceTasting {
    let mut reading = Reading {
        lexicon,
        faults: Vec::new(),
        tasting: ReferenceTasting::default(),
        seen: BTreeMap::new(),
        scales: BTreeMap::new(),
    };
    match Table::read(source) {
        Ok(table) => {
            if panel_wide::is_wide(&table) {
                panel_wide::rows(&mut reading, &table);
            } else {
                reading.rows(&table);
            }
            reading.equal_intensities(&source.name);
            if reading.faults.is_empty() && reading.tasting.notes.is_empty() {
                reading.faults.push(
                    Fault::new(
                        "empty-panel",
                        Place::whole(&source.name),
                        "the panel has no notes",
                    )
                    .hint("one row for each assessor, stage and descriptor"),
                );
            } else if reading.tasting.assessors.len() < FEWEST_ASSESSORS
                && !reading.tasting.notes.is_empty()
            {
                reading.faults.push(
                    Fault::weakness(
                        "small-panel",
                        Place::whole(&source.name),
                        match reading.tasting.assessors.len() {
                            1 => {
                                "one assessor is no panel: what one alone says never enters the key"
                                    .to_owned()
                            }
                            few => format!("{few} assessors are hardly a panel"),
                        },
                    )
                    .allowed(format!("{FEWEST_ASSESSORS} or more without a second look")),
                );
            }
        }
        Err(fault) => reading.faults.push(*fault),
    }
    faults.append(&mut reading.faults);
    reading.tasting
}

pub(super) struct Reading<'l> {
    lexicon: Option<&'l Lexicon>,
    pub(super) faults: Vec<Fault>,
    pub(super) tasting: ReferenceTasting,
    /// Assessor, stage, word and session of a row → how the word was written, and the line.
    seen: BTreeMap<(usize, &'static str, String, String), (String, u32)>,
    /// Word → the top of the scale on which it was first cited, and the line.
    scales: BTreeMap<String, (f64, u32)>,
}

impl Reading<'_> {
    fn rows(&mut self, table: &Table<'_>) {
        let Some([assessor, stage, descriptor, intensity]) = table.columns(
            ["assessor", "stage", "descriptor", "intensity"],
            &["session", "replicate", "scale"],
            &mut self.faults,
        ) else {
            return;
        };
        let session = table
            .column("session")
            .or_else(|| table.column("replicate"));
        let scale = table.column("scale");
        let columns = table.header().len();
        for row in table.rows() {
            if let Some(extra) = row
                .cells()
                .iter()
                .skip(columns)
                .find(|c| !c.text.is_empty())
            {
                self.faults.push(
                    Fault::new(
                        "extra-cell",
                        table.place(&extra.bytes),
                        format!(
                            "\"{}\" stands beyond the last column",
                            shortened(&extra.text)
                        ),
                    )
                    .hint("put texts that hold the separator in double quotes"),
                );
                continue;
            }
            let session = session.map_or_else(String::new, |column| row.cell(column).text);
            let scale = match scale {
                Some(column) => self.scale(table, &row.cell(column)),
                None => Some(None),
            };
            let assessor = self.assessor(table, &row.cell(assessor));
            let stage = self.stage(table, &row.cell(stage));
            let (descriptor, intensity) = (row.cell(descriptor), row.cell(intensity));
            match stage {
                Some(RowStage::Notes(stage)) => {
                    let word = self.descriptor(table, &descriptor);
                    let strength = scale.and_then(|top| self.intensity(table, &intensity, top));
                    let (Some(assessor), Some(word), Some(strength)) = (assessor, word, strength)
                    else {
                        continue;
                    };
                    let place = table.place(&descriptor.bytes);
                    self.one_scale(&place, &word, scale.flatten().unwrap_or(USUAL_SCALE));
                    let number = self.session(&session);
                    self.note_doubled(
                        place,
                        assessor,
                        stage.word(),
                        &word,
                        &descriptor.text,
                        session,
                    );
                    self.tasting.notes.push(PanelNote {
                        assessor,
                        stage,
                        descriptor: word,
                        intensity: strength,
                        session: number,
                    });
                }
                Some(RowStage::Quality) => {
                    if !descriptor.text.is_empty() {
                        self.faults.push(
                            Fault::new(
                                "quality-with-descriptor",
                                table.place(&descriptor.bytes),
                                format!(
                                    "\"{}\" stands in a row of quality",
                                    shortened(&descriptor.text)
                                ),
                            )
                            .hint("leave the descriptor of a quality row empty"),
                        );
                    }
                    let rating = self.quality(table, &intensity);
                    let (Some(assessor), Some(rating)) = (assessor, rating) else {
                        continue;
                    };
                    let place = table.place(&intensity.bytes);
                    self.note_doubled(place, assessor, "quality", "", "", session);
                    self.tasting.quality.push((assessor, rating));
                }
                None => {
                    // The other cells are looked at all the same.
                    if !descriptor.text.is_empty() {
                        self.descriptor(table, &descriptor);
                    }
                }
            }
        }
    }

    pub(super) fn assessor(&mut self, table: &Table<'_>, cell: &Cell) -> Option<usize> {
        if cell.text.is_empty() {
            self.faults.push(
                Fault::new(
                    "empty-cell",
                    table.place(&cell.bytes),
                    "this row names no assessor",
                )
                .hint("every row names its assessor, such as A1"),
            );
            return None;
        }
        let assessors = &mut self.tasting.assessors;
        let known = assessors.iter().position(|name| *name == cell.text);
        Some(known.unwrap_or_else(|| {
            assessors.push(cell.text.clone());
            assessors.len() - 1
        }))
    }

    pub(super) fn stage(&mut self, table: &Table<'_>, cell: &Cell) -> Option<RowStage> {
        let written = cell.text.to_lowercase();
        if written == "quality" {
            return Some(RowStage::Quality);
        }
        if let Some(stage) = Stage::ALL.into_iter().find(|stage| stage.word() == written) {
            return Some(RowStage::Notes(stage));
        }
        let words: Vec<&str> = Stage::ALL
            .into_iter()
            .map(Stage::word)
            .chain(["quality"])
            .collect();
        self.faults.push(
            Fault::new(
                "unknown-stage",
                table.place(&cell.bytes),
                format!("\"{}\" is no stage of a tasting", shortened(&cell.text)),
            )
            .allowed(words.join(", "))
            .near(&written, words.iter().copied()),
        );
        None
    }

    pub(super) fn descriptor(&mut self, table: &Table<'_>, cell: &Cell) -> Option<String> {
        if cell.text.is_empty() {
            self.faults.push(
                Fault::new(
                    "empty-cell",
                    table.place(&cell.bytes),
                    "this row has no descriptor",
                )
                .allowed("a word of the lexicon"),
            );
            return None;
        }
        let Some(lexicon) = self.lexicon else {
            return Some(cell.text.clone());
        };
        match resolve(lexicon, &cell.text) {
            Resolved::Known { word, how } => {
                match how {
                    How::Exact | How::Synonym | How::Plural => {}
                    How::Spelling => self.faults.push(
                        Fault::weakness(
                            "descriptor-slip",
                            table.place(&cell.bytes),
                            format!("\"{}\" is read as \"{word}\"", shortened(&cell.text)),
                        )
                        .hint(format!("write \"{word}\" if that is meant")),
                    ),
                }
                Some(word)
            }
            Resolved::Negated { word, .. } => {
                self.faults.push(unknown_descriptor(
                    table.place(&cell.bytes),
                    &cell.text,
                    &[word],
                    "leave the row out where something was not found",
                ));
                None
            }
            Resolved::Unknown { near } => {
                self.faults.push(unknown_descriptor(
                    table.place(&cell.bytes),
                    &cell.text,
                    &near,
                    "the key cannot be computed from it",
                ));
                None
            }
        }
    }

    /// An intensity in thousandths of its scale. Without a stated scale only whole numbers from 1 to 5
    /// are understood.
    pub(super) fn intensity(
        &mut self,
        table: &Table<'_>,
        cell: &Cell,
        scale: Option<f64>,
    ) -> Option<u32> {
        let top = scale.unwrap_or(USUAL_SCALE);
        let read = match scale {
            None => cell.text.parse::<u32>().ok().map(f64::from),
            // A spreadsheet may write a decimal comma.
            Some(_) => cell.text.replace(',', ".").parse::<f64>().ok(),
        };
        if let Some(strength) = read.filter(|n| *n > 0.0 && *n <= top) {
            let thousandths = (strength / top * f64::from(STRONGEST)).round();
            // 1 to 1000 after the bounds above.
            return Some((thousandths as u32).clamp(1, STRONGEST));
        }
        let fault = Fault::new(
            "intensity",
            table.place(&cell.bytes),
            format!("\"{}\" is no intensity", shortened(&cell.text)),
        )
        .allowed(match scale {
            None => format!(
                "a whole number from 1 (just there) to {USUAL_SCALE} (very strong), or a column \"scale\" that states another top"
            ),
            Some(top) => format!("a number above 0 and up to {top}, the top of the stated scale"),
        });
        self.faults.push(if read == Some(0.0) {
            fault.hint("leave the row out where nothing was found")
        } else {
            fault
        });
        None
    }

    /// The stated top of the scale; the usual one (`Some(None)`) where the cell is empty.
    pub(super) fn scale(&mut self, table: &Table<'_>, cell: &Cell) -> Option<Option<f64>> {
        if cell.text.is_empty() {
            return Some(None);
        }
        let written = cell.text.trim_start_matches("0-").trim_start_matches("0–");
        let top = written.replace(',', ".").parse::<f64>().ok();
        let top = top.filter(|top| (1.0..=HIGHEST_SCALE).contains(top));
        if top.is_none() {
            self.faults.push(
                Fault::new(
                    "scale",
                    table.place(&cell.bytes),
                    format!("\"{}\" is no top of a scale", shortened(&cell.text)),
                )
                .allowed(format!("a number from 1 to {HIGHEST_SCALE}, such as 100")),
            );
        }
        top.map(Some)
    }

    /// Tells when a word was cited on two scales: shares of different scales do not add up.
    pub(super) fn one_scale(&mut self, place: &Place, word: &str, top: f64) {
        match self.scales.get(word) {
            Some((before, line)) if (before - top).abs() > f64::EPSILON => self.faults.push(
                Fault::new(
                    "two-scales",
                    place.clone(),
                    format!("\"{word}\" is cited on a scale up to {top} and, in line {line}, up to {before}"),
                )
                .hint("one scale for a descriptor: convert the panel's figures before they are put together"),
            ),
            Some(_) => {}
            None => {
                self.scales.insert(word.to_owned(), (top, place.line));
            }
        }
    }

    /// The place of a session in the list of sessions.
    pub(super) fn session(&mut self, name: &str) -> usize {
        let sessions = &mut self.tasting.sessions;
        let known = sessions.iter().position(|own| own == name);
        known.unwrap_or_else(|| {
            sessions.push(name.to_owned());
            sessions.len() - 1
        })
    }

    /// Tells when all intensities are equal: the weights are then mere counts.
    fn equal_intensities(&mut self, name: &base::SourceName) {
        let notes = &self.tasting.notes;
        let first = notes.first().map(|note| note.intensity);
        if notes.len() >= MANY_NOTES && notes.iter().all(|note| Some(note.intensity) == first) {
            self.faults.push(
                Fault::weakness(
                    "equal-intensities",
                    Place::whole(name),
                    format!("all {} intensities of this panel are equal", notes.len()),
                )
                .hint(
                    "was the scale used? The weights of the key are then mere counts of citations",
                ),
            );
        }
    }

    pub(super) fn quality(&mut self, table: &Table<'_>, cell: &Cell) -> Option<f64> {
        // A spreadsheet may write a decimal comma.
        let rating = cell.text.replace(',', ".").parse::<f64>().ok();
        let rating = rating.filter(|rating| (0.0..=BEST).contains(rating));
        if rating.is_none() {
            self.faults.push(
                Fault::new(
                    "quality",
                    table.place(&cell.bytes),
                    format!("\"{}\" is no quality rating", shortened(&cell.text)),
                )
                .allowed(format!(
                    "a number from 0 to {BEST}, in the column intensity"
                )),
            );
        }
        rating
    }

    /// Notes a row that says what another has said: a fault where it is written alike, a weakness
    /// where two words of the row are synonyms (the stronger one counts).
    pub(super) fn note_doubled(
        &mut self,
        place: Place,
        assessor: usize,
        stage: &'static str,
        word: &str,
        written: &str,
        session: String,
    ) {
        let name = self
            .tasting
            .assessors
            .get(assessor)
            .cloned()
            .unwrap_or_default();
        let key = (assessor, stage, word.to_owned(), session);
        let written = fold(written);
        match self.seen.get(&key) {
            Some((before, line)) if *before == written => self.faults.push(
                Fault::new(
                    "doubled-row",
                    place,
                    format!(
                        "{name} has {stage} {} twice; it stands in line {line} already",
                        if word.is_empty() { "ratings" } else { word }
                    ),
                )
                .hint("keep one of them; a second session needs the column \"session\""),
            ),
            Some((before, line)) => self.faults.push(
                Fault::weakness(
                    "doubled-synonym",
                    place,
                    format!(
                        "{name} writes \"{written}\" and, in line {line}, \"{before}\" at the {stage}: both are \"{word}\""
                    ),
                )
                .hint("the stronger one counts"),
            ),
            None => {
                self.seen.insert(key, (written, place.line));
            }
        }
    }
}

/// A word that the lexicon does not hold, with near ones.
pub(crate) fn unknown_descriptor(place: Place, written: &str, near: &[String], so: &str) -> Fault {
    let fault = Fault::new(
        "unknown-descriptor",
        place,
        format!(
            "\"{}\" does not stand in the lexicon: {so}",
            shortened(written)
        ),
    );
    if near.is_empty() {
        fault.hint("choose a word of the lexicon, or add this one to it")
    } else {
        let near: Vec<_> = near.iter().map(|word| format!("\"{word}\"")).collect();
        fault.hint(format!(
            "did you mean {}? Else add it to the lexicon",
            near.join(" or ")
        ))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests;
