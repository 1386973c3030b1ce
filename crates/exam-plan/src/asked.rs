//! What can be asked of a glass, and how.

use base::Marks;

use crate::confidence::Confidence;

/// One thing asked of each glass.
#[derive(Debug, Clone, PartialEq)]
pub struct TastingQuestion {
    /// What.
    pub asked: Asked,
    /// Marks for a full answer.
    pub marks: Marks,
}

/// What can be asked of a glass.
#[derive(Debug, Clone, PartialEq)]
pub enum Asked {
    /// Aroma and flavour, neat: so many words at most.
    Aroma {
        /// How many words count.
        words: u32,
    },
    /// What shows with water: so many words at most.
    Water {
        /// How many words count.
        words: u32,
    },
    /// A node of the category tree.
    Category,
    /// A node of the region tree.
    Region,
    /// The age.
    Age(AgeAnswer),
    /// The strength, % vol.
    Strength {
        /// Full marks within this distance, % vol; half within twice it.
        tolerance: f64,
    },
    /// Depth of colour, 0 to 10.
    Colour,
    /// Body, 1 to 5.
    Body,
    /// Length of the finish, 1 to 5.
    Finish,
    /// Quality, 0 to 10.
    Quality,
    /// A fault, one of a list, or "none".
    Fault {
        /// The list.
        from: Vec<String>,
    },
    /// How sure the candidate is: a hundred parts over a short printed list.
    Confidence(Confidence),
    /// The producer, one of a printed list: extra credit.
    Producer {
        /// The list, at least four names.
        from: Vec<String>,
    },
}

/// How many words are asked, and of which stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct AskedWords {
    /// How many words count.
    pub most: u32,
    /// Whether they are of what shows with water; else of the spirit neat.
    pub with_water: bool,
}

impl Asked {
    /// The words by which the things asked are named in plans and answers.
    pub const NAMES: [&'static str; 13] = [
        "aroma",
        "water",
        "category",
        "region",
        "age",
        "strength",
        "colour",
        "body",
        "finish",
        "quality",
        "fault",
        "confidence",
        "producer",
    ];
    /// The word by which it is named in plans and answers.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Aroma { .. } => "aroma",
            Self::Water { .. } => "water",
            Self::Category => "category",
            Self::Region => "region",
            Self::Age(_) => "age",
            Self::Strength { .. } => "strength",
            Self::Colour => "colour",
            Self::Body => "body",
            Self::Finish => "finish",
            Self::Quality => "quality",
            Self::Fault { .. } => "fault",
            Self::Confidence(_) => "confidence",
            Self::Producer { .. } => "producer",
        }
    }
    /// The words that it asks for; none where it asks for something else.
    #[must_use]
    pub const fn words(&self) -> Option<AskedWords> {
        let (most, with_water) = match self {
            Self::Aroma { words } => (*words, false),
            Self::Water { words } => (*words, true),
            Self::Category
            | Self::Region
            | Self::Age(_)
            | Self::Strength { .. }
            | Self::Colour
            | Self::Body
            | Self::Finish
            | Self::Quality
            | Self::Fault { .. }
            | Self::Confidence(_)
            | Self::Producer { .. } => return None,
        };
        Some(AskedWords { most, with_water })
    }

    /// Whether it cannot be answered by eye and nose alone: body, finish and strength; quality, which
    /// the panel rates for the whole sample; water, since its notes do not part nose from palate.
    #[must_use]
    pub const fn wants_the_mouth(&self) -> bool {
        match self {
            Self::Strength { .. }
            | Self::Body
            | Self::Finish
            | Self::Quality
            | Self::Water { .. } => true,
            Self::Aroma { .. }
            | Self::Category
            | Self::Region
            | Self::Age(_)
            | Self::Colour
            | Self::Fault { .. }
            | Self::Confidence(_)
            | Self::Producer { .. } => false,
        }
    }
    /// Whether its marks are extra credit, outside the maximum.
    #[must_use]
    pub const fn is_extra_credit(&self) -> bool {
        matches!(self, Self::Producer { .. })
    }
}

/// How an age is answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AgeAnswer {
    /// One of the bands. Band 0 is "no age stated"; band i ≥ 1 begins at `from[i-1]` years and ends
    /// before `from[i]`; the last is open.
    Band {
        /// First years of the bands, ascending, beginning with 0.
        from: Vec<u32>,
    },
    /// A range in years.
    Range,
}

/// The default bands: under 3, 3 to 5, 6 to 9, 10 to 15, 16 years and over.
pub const DEFAULT_BANDS: [u32; 5] = [0, 3, 6, 10, 16];

/// The printed names of age bands, "no age stated" first.
#[must_use]
pub fn band_names(from: &[u32]) -> Vec<String> {
    let mut names = vec!["no age stated".to_owned()];
    for (place, &first) in from.iter().enumerate() {
        names.push(match from.get(place + 1) {
            Some(&next) if place == 0 && first == 0 => format!("under {next} years"),
            Some(&next) if next == first + 1 => format!("{first} years"),
            Some(&next) => format!("{first} to {} years", next - 1),
            None => format!("{first} years and over"),
        });
    }
    names
}
