//! Questions that share a text: it is printed once above them, and they stand together, in order.

use std::collections::BTreeMap;
use std::sync::Arc;

use base::{Place, SetId};

/// A text that several questions are about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct QuestionSet {
    /// Its id, unique in the text it stands in.
    pub id: SetId,
    /// Where it stands.
    pub place: Place,
    /// What is printed above its questions.
    pub text: String,
    /// Where any of its questions stands on a form, at least so many do.
    pub at_least: u32,
    /// At most so many stand on a form; all of them where nothing is said.
    pub at_most: Option<u32>,
    /// The text in other languages, by language tag.
    pub translations: BTreeMap<String, String>,
}

impl QuestionSet {
    /// The set with its text in another of its languages.
    #[must_use]
    pub fn in_language(&self, language: &str) -> Option<Self> {
        Some(Self {
            text: self.translations.get(language)?.clone(),
            ..self.clone()
        })
    }
}

/// A question's place in a set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InSet {
    /// The set.
    pub set: Arc<QuestionSet>,
    /// Its place among the questions of the set as written, from 0.
    pub place: usize,
}

impl InSet {
    /// Whether two questions are about the same text.
    #[must_use]
    pub fn with(&self, other: &Self) -> bool {
        self.set.id == other.set.id && self.set.place == other.set.place
    }
}
