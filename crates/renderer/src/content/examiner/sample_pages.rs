//! What the class made of each sample, a page each, for whoever teaches and buys.

use serde::Serialize;

use super::AnswerRow;
use crate::content::{ExamHead, Figure};

/// A page for each sample of the flight.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SamplePages {
    /// The exam.
    pub exam: ExamHead,
    /// The samples.
    pub samples: Vec<SampleSheet>,
}

/// One sample.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SampleSheet {
    /// Its name.
    pub name: String,
    /// What it was.
    pub was: String,
    /// The most important, one sentence each.
    pub sentences: Vec<String>,
    /// Mean credit of the glass and of each thing asked.
    pub figures: Vec<Figure>,
    /// The words of the key beside the class.
    pub words: Vec<SampleWordRow>,
    /// Other words: the word, how many named it, what it is to the key.
    pub others: Vec<OtherWordRow>,
    /// What it was taken for; empty where it was not asked.
    pub taken_for: Vec<AnswerRow>,
    /// Where it was placed; empty where it was not asked.
    pub placed_in: Vec<AnswerRow>,
}

/// A word of the key beside the class.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SampleWordRow {
    /// The word.
    pub word: String,
    /// "7 of 10".
    pub panel: String,
    /// The same in per cent, for the drawing.
    pub panel_percent: u8,
    /// "11 of 23".
    pub class: String,
    /// The same in per cent, for the drawing.
    pub class_percent: u8,
}

/// A word that the key does not ask for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OtherWordRow {
    /// The word.
    pub word: String,
    /// How many named it.
    pub class: String,
    /// What it is to the key.
    pub standing: String,
}
