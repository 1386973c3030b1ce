//! The raw notes of a reference panel.

use serde::Serialize;

/// Everything a panel wrote about one sample.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ReferenceTasting {
    /// The assessors, by the names the panel gave them, in order.
    pub assessors: Vec<String>,
    /// The notes in the order of the table; descriptors are lexicon words.
    pub notes: Vec<PanelNote>,
    /// Quality ratings, 0 to 10, by assessor (place in `assessors`).
    pub quality: Vec<(usize, f64)>,
    /// The sessions by their names, in order; one without a name where the table tells none.
    pub sessions: Vec<String>,
}

/// The strongest intensity: notes are kept in thousandths of the scale on which they were written,
/// so that panels with different scales can be set side by side.
pub const STRONGEST: u32 = 1000;

/// One citation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PanelNote {
    /// Who, as a place in the list of assessors.
    pub assessor: usize,
    /// When.
    pub stage: Stage,
    /// The lexicon's main word.
    pub descriptor: String,
    /// In thousandths of the scale: 1 (hardly there) to [`STRONGEST`].
    pub intensity: u32,
    /// In which session (or replicate), as a place in the list of sessions.
    pub session: usize,
}

/// Intensities as a table: one row for each assessor, one column for each word, 0 where the word was
/// not cited; each the strongest of the stages and sessions that count, as a share of the scale.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct IntensityTable {
    /// The words, in order of the alphabet.
    pub words: Vec<String>,
    /// By assessor and word, 0 to 1.
    pub rows: Vec<Vec<f64>>,
}

impl ReferenceTasting {
    /// The table of the stages that count.
    #[must_use]
    pub fn intensities(&self, counts: impl Fn(Stage) -> bool) -> IntensityTable {
        self.table(|note| counts(note.stage))
    }

    /// The table of one session, over the words of all sessions in these stages.
    #[must_use]
    pub fn intensities_of_session(
        &self,
        session: usize,
        counts: impl Fn(Stage) -> bool,
    ) -> IntensityTable {
        let words = self.intensities(&counts).words;
        let own = self.table(|note| counts(note.stage) && note.session == session);
        own.over(&words)
    }

    fn table(&self, counts: impl Fn(&PanelNote) -> bool) -> IntensityTable {
        let notes: Vec<&PanelNote> = self.notes.iter().filter(|note| counts(note)).collect();
        let mut words: Vec<String> = notes.iter().map(|note| note.descriptor.clone()).collect();
        words.sort();
        words.dedup();
        let mut rows = vec![vec![0.0_f64; words.len()]; self.assessors.len()];
        for note in notes {
            let column = words.binary_search(&note.descriptor);
            if let (Some(row), Ok(column)) = (rows.get_mut(note.assessor), column)
                && let Some(cell) = row.get_mut(column)
            {
                *cell = cell.max(f64::from(note.intensity) / f64::from(STRONGEST));
            }
        }
        IntensityTable { words, rows }
    }
}

impl IntensityTable {
    /// The same table over other words; those that are not here are 0.
    #[must_use]
    pub fn over(&self, words: &[String]) -> Self {
        let places: Vec<Option<usize>> = words
            .iter()
            .map(|word| self.words.iter().position(|own| own == word))
            .collect();
        let pick = |row: &Vec<f64>| -> Vec<f64> {
            places
                .iter()
                .map(|place| place.and_then(|p| row.get(p).copied()).unwrap_or(0.0))
                .collect()
        };
        Self {
            words: words.to_vec(),
            rows: self.rows.iter().map(pick).collect(),
        }
    }
}

/// The stages of a tasting that carry descriptors.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Stage {
    /// Neat, smelled.
    Nose,
    /// Neat, tasted.
    Palate,
    /// Neat, afterwards.
    Finish,
    /// After a little water.
    Water,
}

impl Stage {
    /// All stages, in order.
    pub const ALL: [Self; 4] = [Self::Nose, Self::Palate, Self::Finish, Self::Water];
    /// The word in texts.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Nose => "nose",
            Self::Palate => "palate",
            Self::Finish => "finish",
            Self::Water => "water",
        }
    }
    /// Whether the stage is tasted neat.
    #[must_use]
    pub const fn neat(self) -> bool {
        match self {
            Self::Nose | Self::Palate | Self::Finish => true,
            Self::Water => false,
        }
    }
}
