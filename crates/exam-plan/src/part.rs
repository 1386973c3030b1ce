//! The two parts of an exam.

use std::fmt;

use serde::Serialize;

/// A part of the exam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Part {
    /// The theory paper.
    Theory,
    /// The blind samples.
    Tasting,
}

impl Part {
    /// Both, in the order of the exam.
    pub const ALL: [Self; 2] = [Self::Theory, Self::Tasting];
    /// The word in sentences.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Theory => "theory",
            Self::Tasting => "tasting",
        }
    }
    /// The other one.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Theory => Self::Tasting,
            Self::Tasting => Self::Theory,
        }
    }
}

impl fmt::Display for Part {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}
