//! A learner's page after a class: words and ratings beside the panel's, without marks.

use serde::Serialize;

use crate::content::ExamHead;

/// The page of one learner.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LearnerPage {
    /// The class.
    pub exam: ExamHead,
    /// The number.
    pub number: String,
    /// The name; empty where it is not known.
    pub name: String,
    /// How to read the page, in sentences.
    pub how: Vec<String>,
    /// The glasses.
    pub glasses: Vec<LearnerGlass>,
    /// To be read before anything is tasted again.
    pub caution: String,
}

/// One glass.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LearnerGlass {
    /// Its place in the flight.
    pub number: usize,
    /// What it was.
    pub what: String,
    /// The record's words on it.
    pub describe: String,
    /// How the words stand to the panel's.
    pub sentence: String,
    /// The words, stage by stage.
    pub stages: Vec<LearnerStage>,
    /// The ratings.
    pub ratings: Vec<LearnerRating>,
    /// The learner's liking, in words; empty where none was noted.
    pub liking: String,
}

/// One stage.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LearnerStage {
    /// What it is: "Nose".
    pub stage: String,
    /// The learner's words, each with how it stands to the panel's.
    pub words: Vec<LearnerWord>,
    /// What the panel found besides; empty for nothing.
    pub besides: String,
}

/// One word.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LearnerWord {
    /// As written.
    pub written: String,
    /// How it stands to the panel's.
    pub how: String,
    /// Whether the panel said it too: it is printed bold.
    pub shared: bool,
}

/// One rating.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LearnerRating {
    /// What was rated.
    pub what: String,
    /// The scale in words.
    pub scale: String,
    /// The learner's.
    pub yours: String,
    /// What stands beside it.
    pub beside: String,
    /// The learner's place on the scale, 0 to 100.
    pub yours_at: u8,
    /// The panel's place on the scale, 0 to 100; none where there is none.
    pub panels_at: Option<u8>,
}
