//! The sheet of a learner in a guided flight: known samples, room for notes, nothing to be marked.

use serde::Serialize;

use crate::content::ExamHead;

/// The sheets of a class, one for each learner.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ClassSheets {
    /// The class.
    pub exam: ExamHead,
    /// How to go about it, in sentences.
    pub how: Vec<String>,
    /// To be read before the first glass.
    pub cautions: Vec<String>,
    /// How much alcohol the glasses hold, in sentences.
    pub ethanol: Vec<String>,
    /// The samples in the order of tasting.
    pub samples: Vec<ClassSample>,
    /// Who gets one; a line without number and name for a sheet to be copied.
    pub learners: Vec<ClassLearner>,
}

/// A learner.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ClassLearner {
    /// The number; empty on a sheet to be copied.
    pub number: String,
    /// The name; empty on a sheet to be copied.
    pub name: String,
}

/// A sample, which everybody may know.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ClassSample {
    /// Its place in the flight.
    pub number: usize,
    /// The name on the bottle.
    pub name: String,
    /// Producer, category, region, age, strength in the glass.
    pub what: String,
    /// Allergens; empty for none.
    pub allergens: String,
    /// What is noted, from look to liking.
    pub rows: Vec<ClassRow>,
}

/// One row of a sample's grid.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ClassRow {
    /// What it is about.
    pub heading: String,
    /// A word of help under it.
    pub help: String,
    /// Lines to write on; 0 for a row that has a scale alone.
    pub lines: usize,
    /// The numbers of a scale to ring; empty for words.
    pub scale: Vec<u8>,
    /// What the low end means.
    pub low: String,
    /// What the high end means.
    pub high: String,
}
