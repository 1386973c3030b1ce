//! What the marker marks by.

use serde::Serialize;

use crate::content::ExamHead;

/// The marker's guide.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct MarkerGuide {
    /// The exam.
    pub exam: ExamHead,
    /// Rules for all marking, one sentence each.
    pub rules: Vec<String>,
    /// The samples.
    pub samples: Vec<GuideSample>,
    /// The theory questions of all forms, each once.
    pub questions: Vec<GuideQuestion>,
}

/// One sample.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct GuideSample {
    /// Its short name: "1".
    pub sample: String,
    /// What it is, in one line.
    pub what: String,
    /// Category, region, age, strength and so on.
    pub facts: Vec<GuideFact>,
    /// The key descriptors, heaviest first.
    pub key: Vec<GuideDescriptor>,
    /// Accepted without being required.
    pub accepted: Vec<String>,
    /// Cost marks.
    pub contradicting: Vec<String>,
    /// How each thing asked is marked.
    pub rubric: Vec<GuideRule>,
    /// How well the panel agrees, in one sentence.
    pub panel: String,
    /// The codes on its glasses; empty where the marker marks blind.
    pub codes: Vec<String>,
}

/// One fact.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct GuideFact {
    /// Which: "Region".
    pub label: String,
    /// What.
    pub value: String,
}

/// One key descriptor.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct GuideDescriptor {
    /// The word.
    pub word: String,
    /// Synonyms that count in full, comma by comma; empty for none.
    pub synonyms: String,
    /// Where it was found: "nose, palate".
    pub stages: String,
    /// How many of how many assessors: "7 of 8".
    pub cited: String,
    /// The weight as printed: "0.84".
    pub weight: String,
    /// The weight as a share of the greatest, 0 to 100, for the drawing beside the number.
    pub weight_percent: u8,
}

/// How one thing asked is marked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct GuideRule {
    /// What is asked: "Category".
    pub asked: String,
    /// The most marks, as printed.
    pub marks: String,
    /// The rule in words.
    pub rule: String,
    /// What a guesser gets, as printed; empty where it is not known.
    pub chance: String,
}

/// One theory question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct GuideQuestion {
    /// Its id in the bank.
    pub id: String,
    /// Where it stands: "A 12, B 3".
    pub places: String,
    /// The stem.
    pub stem: String,
    /// The key in words.
    pub key: String,
    /// The scoring rule in words.
    pub rule: String,
    /// The source.
    pub source: String,
}
