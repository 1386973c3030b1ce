//! What a plan asks of the samples of its flight beyond their names.

use base::{Place, SampleId};
use question_bank::panel_support::KeyFloor;
use question_bank::reference_tasting::Stage;

/// The rules of a flight. All have defaults.
#[derive(Debug, Clone, PartialEq)]
pub struct FlightRules {
    /// What a panel must have before its key may be used.
    pub floor: KeyFloor,
    /// Keys below the floor that somebody released by name.
    pub released: Vec<KeyRelease>,
    /// How many days a bottle may have been open; none for no limit.
    pub days_open: Option<u32>,
    /// Records that were taught in class, and whether they may come again.
    pub taught: Taught,
    /// Whether every kit has codes of its own, so that labels of two kits cannot be matched.
    pub kits_have_own_codes: bool,
    /// Which stages the words for aroma and flavour are of.
    pub aroma_of: AromaOf,
}

impl Default for FlightRules {
    fn default() -> Self {
        Self {
            floor: KeyFloor::default(),
            released: Vec::new(),
            days_open: None,
            taught: Taught::default(),
            kits_have_own_codes: true,
            aroma_of: AromaOf::default(),
        }
    }
}

/// Which stages of the panel's notes are the key of aroma and flavour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AromaOf {
    /// Nose, palate and finish together.
    #[default]
    Together,
    /// The nose alone.
    Nose,
    /// What shows in the mouth and afterwards.
    Palate,
}

impl AromaOf {
    /// Every member with its word in plans.
    pub const ALL: [(&'static str, Self); 3] = [
        ("together", Self::Together),
        ("nose", Self::Nose),
        ("palate", Self::Palate),
    ];
    /// Whether notes of this stage are the key.
    #[must_use]
    pub const fn counts(self, stage: Stage) -> bool {
        match (self, stage) {
            (Self::Together | Self::Nose, Stage::Nose)
            | (Self::Together | Self::Palate, Stage::Palate | Stage::Finish) => true,
            (Self::Palate, Stage::Nose)
            | (Self::Nose, Stage::Palate | Stage::Finish)
            | (Self::Together | Self::Nose | Self::Palate, Stage::Water) => false,
        }
    }
}

/// A key below the floor that is used all the same, by somebody's decision.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeyRelease {
    /// Whose key.
    pub sample: SampleId,
    /// Who decided.
    pub by: String,
    /// Why.
    pub because: String,
    /// Where it stands in the plan.
    pub place: Place,
}

/// Records that were tasted in class before the exam.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Taught {
    /// Which, with their places in the plan; those of the classes are among them once the texts of
    /// the classes are there.
    pub samples: Vec<(SampleId, Place)>,
    /// Folders of classes whose samples were taught, as written, with their places in the plan.
    pub classes: Vec<(String, Place)>,
    /// What follows for the flight.
    pub in_flight: TaughtRule,
}

/// Whether what was taught may come in the exam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TaughtRule {
    /// It may.
    #[default]
    Allowed,
    /// None of it may.
    Barred,
    /// At least one of it must.
    Wanted,
}

impl KeyRelease {
    /// The decision in a sentence, as it stands in the register.
    #[must_use]
    pub fn sentence(&self) -> String {
        format!(
            "the key of {} is below the plan's floor and was released by {}: {}",
            self.sample, self.by, self.because
        )
    }
}
