//! The raw notes of a reference panel.

use serde::Serialize;

/// Everything a panel wrote about one sample.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ReferenceTasting {
    /// The assessors, by the names the panel gave them, in order.
    pub assessors: Vec<String>,
    /// The notes in the order of the table; descriptors are lexicon words.
    pub notes: Vec<PanelNote>,
    /// Quality ratings, 0 to 10, by assessor (place in `assessors`).
    pub quality: Vec<(usize, f64)>,
}

/// The strongest intensity on the panel's scale.
pub const STRONGEST: u32 = 5;

/// One citation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PanelNote {
    /// Who, as a place in the list of assessors.
    pub assessor: usize,
    /// When.
    pub stage: Stage,
    /// The lexicon's main word.
    pub descriptor: String,
    /// 1 (just there) to 5 (very strong).
    pub intensity: u32,
}

/// The stages of a tasting that carry descriptors.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Stage {
    /// Neat, smelled.
    Nose,
    /// Neat, tasted.
    Palate,
    /// Neat, afterwards.
    Finish,
    /// After a little water.
    Water,
}

impl Stage {
    /// All stages, in order.
    pub const ALL: [Self; 4] = [Self::Nose, Self::Palate, Self::Finish, Self::Water];
    /// The word in texts.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Nose => "nose",
            Self::Palate => "palate",
            Self::Finish => "finish",
            Self::Water => "water",
        }
    }
    /// Whether the stage is tasted neat.
    #[must_use]
    pub const fn neat(self) -> bool {
        match self {
            Self::Nose | Self::Palate | Self::Finish => true,
            Self::Water => false,
        }
    }
}
