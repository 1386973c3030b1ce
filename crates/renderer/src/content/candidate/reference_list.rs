//! The words a candidate may choose from, in an order that gives nothing away.

use serde::Serialize;

use crate::content::ExamHead;

/// Words, categories, regions, ages and producers to choose from; an empty list is left out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReferenceList {
    /// The exam.
    pub exam: ExamHead,
    /// How the words are used, one sentence each.
    pub rules: Vec<String>,
    /// The descriptors by family and group.
    pub families: Vec<WordFamily>,
    /// The categories, from the root downwards.
    pub categories: Vec<TreeLine>,
    /// The regions, from the root downwards.
    pub regions: Vec<TreeLine>,
    /// The age bands.
    pub age_bands: Vec<String>,
    /// The producers, where one may be named.
    pub producers: Vec<String>,
    /// The faults, where one may be named.
    pub faults: Vec<String>,
}

/// A family of descriptors.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WordFamily {
    /// The family's name.
    pub family: String,
    /// Its groups.
    pub groups: Vec<WordGroup>,
}

/// A group of descriptors.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WordGroup {
    /// The group's name.
    pub group: String,
    /// Its words.
    pub words: Vec<String>,
}

/// One line of a tree.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TreeLine {
    /// How deep, 0 for the uppermost.
    pub depth: u8,
    /// The name.
    pub name: String,
}
