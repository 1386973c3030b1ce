//! A class before the exam: a guided flight of known samples, and who tastes it.

use std::collections::BTreeMap;

use base::{CandidateNumber, Place, SampleId};
use question_bank::{Bank, SampleRecord};

use crate::plan::{Paper, Pour};
use crate::read::NamedRoster;

/// What stands in `class.yaml`. Nothing in a class is blind, and nothing in it is marked.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassPlan {
    /// The title on every sheet.
    pub title: String,
    /// The school on every sheet.
    pub school: Option<String>,
    /// The day, `YYYY-MM-DD`.
    pub date: String,
    /// When it begins, `HH:MM`.
    pub start: Option<String>,
    /// The folder of the bank, as written, from the class folder.
    pub bank: String,
    /// The paper to print on.
    pub paper: Paper,
    /// The samples in the order in which they are tasted, with their places in the text.
    pub samples: Vec<(SampleId, Place)>,
    /// What is poured.
    pub pour: Pour,
    /// How many taste, where no roster says it.
    pub learners: Option<u32>,
}

/// A checked class: what is tasted, from which bank, by whom.
#[derive(Debug, Clone, PartialEq)]
pub struct Class {
    /// What the class consists of.
    pub plan: ClassPlan,
    /// The bank.
    pub bank: Bank,
    /// Sample records of the class folder; they go before the bank's.
    pub own_samples: BTreeMap<SampleId, SampleRecord>,
    /// Who comes, where a roster says it.
    pub roster: Option<NamedRoster>,
}

impl Class {
    /// A sample record by its id: the class's own before the bank's.
    #[must_use]
    pub fn sample(&self, id: &SampleId) -> Option<&SampleRecord> {
        self.own_samples
            .get(id)
            .or_else(|| self.bank.samples.get(id))
    }
    /// The records of the flight, in the order of tasting.
    pub fn flight(&self) -> impl Iterator<Item = &SampleRecord> {
        self.plan
            .samples
            .iter()
            .filter_map(|(id, _)| self.sample(id))
    }
    /// How many taste.
    #[must_use]
    pub fn people(&self) -> u32 {
        match &self.roster {
            Some(named) => u32::try_from(named.roster.candidates.len()).unwrap_or(u32::MAX),
            None => self.plan.learners.unwrap_or(0),
        }
    }
}

/// What a learner notes on a glass. Names that answers of an exam have too mean the same there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Noted {
    /// Depth of colour, 0 to 10.
    Colour,
    /// Words on the nose.
    Nose,
    /// Words on the palate.
    Palate,
    /// Words on the finish.
    Aftertaste,
    /// Words found neat, where a learner did not part them.
    Aroma,
    /// Body, 1 to 5.
    Body,
    /// Length of the finish, 1 to 5.
    Finish,
    /// Words that grew or appeared with water.
    Water,
    /// Words that faded with water.
    Faded,
    /// How well it is made, 0 to 10.
    Quality,
    /// How much the learner likes it, 0 to 10: the learner's own, compared with nothing.
    Liking,
}

/// How a note is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Written {
    /// Words, parted by semicolons, commas or new lines.
    Words,
    /// A number on a scale from the first to the last.
    Scale(u8, u8),
}

impl Noted {
    /// Everything that can be noted, in the order of the sheet.
    pub const ALL: [Self; 11] = [
        Self::Colour,
        Self::Nose,
        Self::Palate,
        Self::Aftertaste,
        Self::Aroma,
        Self::Body,
        Self::Finish,
        Self::Water,
        Self::Faded,
        Self::Quality,
        Self::Liking,
    ];
    /// The word in tables.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Colour => "colour",
            Self::Nose => "nose",
            Self::Palate => "palate",
            Self::Aftertaste => "aftertaste",
            Self::Aroma => "aroma",
            Self::Body => "body",
            Self::Finish => "finish",
            Self::Water => "water",
            Self::Faded => "faded",
            Self::Quality => "quality",
            Self::Liking => "liking",
        }
    }
    /// How it is written.
    #[must_use]
    pub const fn written(self) -> Written {
        match self {
            Self::Nose
            | Self::Palate
            | Self::Aftertaste
            | Self::Aroma
            | Self::Water
            | Self::Faded => Written::Words,
            Self::Body | Self::Finish => Written::Scale(1, 5),
            Self::Colour | Self::Quality | Self::Liking => Written::Scale(0, 10),
        }
    }
    /// Whether it is words found before water came.
    #[must_use]
    pub const fn neat_words(self) -> bool {
        match self {
            Self::Nose | Self::Palate | Self::Aftertaste | Self::Aroma => true,
            Self::Colour
            | Self::Body
            | Self::Finish
            | Self::Water
            | Self::Faded
            | Self::Quality
            | Self::Liking => false,
        }
    }
    /// What is noted, by its word in tables; case does not matter.
    #[must_use]
    pub fn of_name(name: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|noted| noted.name().eq_ignore_ascii_case(name))
    }
}

/// What one learner noted.
#[derive(Debug, Clone, PartialEq)]
pub struct LearnerNotes {
    /// The number.
    pub learner: CandidateNumber,
    /// The name, where a roster says it.
    pub name: String,
    /// One for each sample, in the order of tasting; empty where nothing came in.
    pub glasses: Vec<GlassNotes>,
}

/// What one learner noted on one glass.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct GlassNotes {
    /// Words as written, by what they are about.
    pub words: BTreeMap<Noted, String>,
    /// Numbers, on their scales.
    pub ratings: BTreeMap<Noted, f64>,
}

impl GlassNotes {
    /// Whether nothing was noted.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.words.is_empty() && self.ratings.is_empty()
    }
}
