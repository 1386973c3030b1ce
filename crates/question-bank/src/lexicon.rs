//! The words for aromas and flavours, in groups and families.

use std::collections::BTreeMap;

/// A checked lexicon: every word and synonym stands once.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lexicon {
    /// Families in the order of the text.
    pub families: Vec<Family>,
    /// Folded form of every word and synonym → the main word's entry.
    pub(crate) index: BTreeMap<String, WordPlace>,
}

/// A family of groups.
#[derive(Debug, Clone, PartialEq)]
pub struct Family {
    /// Its id.
    pub id: String,
    /// Its name as printed.
    pub name: String,
    /// Its groups in the order of the text.
    pub groups: Vec<Group>,
}

/// A group of words that have a cause or an impression in common.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Its id.
    pub id: String,
    /// Its name as printed.
    pub name: String,
    /// Why these words belong together: chemistry or perception.
    pub reason: String,
    /// Its words in the order of the text.
    pub words: Vec<Word>,
}

/// A descriptor.
#[derive(Debug, Clone, PartialEq)]
pub struct Word {
    /// The main word, as printed and as keys name it.
    pub word: String,
    /// Synonyms and common misspellings.
    pub synonyms: Vec<String>,
}

/// Where a word stands in the lexicon.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct WordPlace {
    /// Place of the family.
    pub family: usize,
    /// Place of the group in the family.
    pub group: usize,
    /// Place of the word in the group.
    pub word: usize,
}

/// How near two descriptors are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Closeness {
    /// Different families.
    Apart,
    /// The same family.
    Family,
    /// The same group.
    Group,
    /// The same word or a synonym.
    Same,
}
