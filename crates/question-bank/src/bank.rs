//! A bank after checking: questions, sample records, lexicon and trees.

use std::collections::BTreeMap;
use std::sync::Arc;

use base::{CellId, QuestionId, SampleId};

use crate::calibration::Calibration;
use crate::lexicon::Lexicon;
use crate::picture::Drawing;
use crate::questions::Questions;
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
    pub questions: Questions,
    /// Drawings that questions show, by the file of each.
    pub pictures: BTreeMap<String, Drawing>,
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

impl Bank {
    /// The bank in another of its languages: questions without a translation are left out, and a
    /// translated question stands where its original stood, with the same key. The original is
    /// then a translation of it.
    #[must_use]
    pub fn in_language(mut self, language: &str) -> Self {
        if language == self.language {
            return self;
        }
        let own = self.language.clone();
        self.questions.retain_mut(|question| {
            let Some(translated) = question.translations.remove(language) else {
                return false;
            };
            if let Some(of) = &mut question.set {
                let Some(mut set) = of.set.in_language(language) else {
                    return false;
                };
                set.translations.insert(own.clone(), of.set.text.clone());
                of.set = Arc::new(set);
            }
            let original = std::mem::replace(&mut question.kind, translated);
            question.translations.insert(own.clone(), original);
            true
        });
        language.clone_into(&mut self.language);
        self
    }
    /// The languages in which there are questions, with how many.
    #[must_use]
    pub fn languages(&self) -> BTreeMap<&str, usize> {
        let mut found = BTreeMap::from([(self.language.as_str(), self.questions.len())]);
        for language in self.questions.values().flat_map(|q| q.translations.keys()) {
            *found.entry(language).or_default() += 1;
        }
        found
    }
}
