//! A bank after checking: questions, sample records, lexicon and trees.

use std::collections::BTreeMap;

use base::{CellId, QuestionId, SampleId};

use crate::calibration::Calibration;
use crate::lexicon::Lexicon;
use crate::question::Question;
use crate::sample_record::SampleRecord;
use crate::taxonomy::Taxonomy;

/// A checked bank: every reference leads somewhere, every id stands once.
#[derive(Debug, Clone, PartialEq)]
pub struct Bank {
    /// Its title.
    pub title: String,
    /// The language of its texts (BCP 47).
    pub language: String,
    /// The licence of its texts.
    pub licence: String,
    /// Cells of the blueprint in the order of the text, with their names.
    pub cells: Vec<(CellId, String)>,
    /// Questions by id.
    pub questions: BTreeMap<QuestionId, Question>,
    /// What answers have shown about questions; none where the bank has no such table.
    pub calibration: BTreeMap<QuestionId, Calibration>,
    /// Sample records by id.
    pub samples: BTreeMap<SampleId, SampleRecord>,
    /// The words.
    pub lexicon: Lexicon,
    /// The tree of categories.
    pub categories: Taxonomy,
    /// The tree of regions.
    pub regions: Taxonomy,
}
