//! The key of a blind sample, computed from its panel and never typed by one person.

use serde::Serialize;

/// What counts for one sample, neat or with water.
#[derive(Debug, Clone, PartialEq)]
pub struct TastingKey {
    /// Descriptors at or above the threshold, heaviest first; ties in order of the word.
    pub required: Vec<KeyWord>,
    /// Cited, but below the threshold: accepted, not required. Same order.
    pub accepted: Vec<KeyWord>,
    /// Words that contradict the sample.
    pub contradicting: Vec<String>,
    /// How many assessors the panel had.
    pub assessors: usize,
}

/// One descriptor with its weight.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KeyWord {
    /// The lexicon's main word.
    pub word: String,
    /// Geometric mean of citation frequency and relative intensity, 0 to 1 (ISO 11035:1994,
    /// formula from memory; Dravnieks 1985).
    pub weight: f64,
    /// How many assessors cited it at least once.
    pub cited_by: usize,
}
