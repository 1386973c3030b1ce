//! A plan after checking: what one exam consists of.

use std::collections::BTreeMap;

use base::{CellId, Marks, Place, QuestionId, SampleId};
use question_bank::question::Level;
use serde::Serialize;

use crate::flight_rules::FlightRules;
use crate::personal_data::PersonalData;

/// A checked plan. It has a theory part, a tasting part, or both.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The title on every sheet.
    pub title: String,
    /// The school on every sheet.
    pub school: Option<String>,
    /// The day, `YYYY-MM-DD`.
    pub date: String,
    /// When it begins, `HH:MM`.
    pub start: Option<String>,
    /// The folder of the bank, as written, from the exam folder.
    pub bank: String,
    /// The language of the questions, where it is not the bank's own.
    pub language: Option<String>,
    /// The paper to print on.
    pub paper: Paper,
    /// The theory part.
    pub theory: Option<TheoryPart>,
    /// The tasting part.
    pub tasting: Option<TastingPart>,
    /// When a candidate has passed.
    pub pass: PassRule,
    /// Where personal data is kept, and for how long.
    pub personal_data: PersonalData,
}

/// Paper sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Paper {
    /// 210 × 297 mm.
    A4,
    /// 8.5 × 11 in.
    Letter,
}

/// The theory part.
#[derive(Debug, Clone, PartialEq)]
pub struct TheoryPart {
    /// How many parallel forms.
    pub forms: u32,
    /// Minutes allowed.
    pub minutes: u32,
    /// How many counted questions each form has of each cell.
    pub cells: Vec<CellQuota>,
    /// Questions printed and not counted, on every form, beyond the cells.
    pub pretest: u32,
    /// At most this many counted questions common to any two forms.
    pub overlap: Option<u32>,
    /// How the forms are drawn.
    pub draw: Draw,
}

/// How forms are drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Draw {
    /// By lot, then made level by the author's guess of difficulty.
    ByLot,
    /// By a search for the forms that come nearest to what is aimed at.
    NearBest(Box<NearBest>),
}

/// What a draw near the best keeps and aims at, beyond cells, enemies and overlap.
#[derive(Debug, Clone, PartialEq)]
pub struct NearBest {
    /// Where it stands in the plan.
    pub place: Place,
    /// Information wanted at abilities; none: that of average questions around the cut.
    pub target: Vec<InformationTarget>,
    /// At most so many words to read on a form.
    pub words: Option<u32>,
    /// At most so many questions that were on a form on this day (`YYYY-MM-DD`) or later.
    pub used_lately: Option<(String, u32)>,
    /// At most so many questions whose key always stands at the same letter.
    pub same_letter: Option<u32>,
    /// Questions that stand on every form, with their places in the plan.
    pub anchors: Vec<(QuestionId, Place)>,
    /// The cut, in thousandths of full marks.
    pub cut: u32,
}

/// Information wanted at an ability.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InformationTarget {
    /// The ability.
    pub ability: f64,
    /// The information of a form there.
    pub information: f64,
}

impl NearBest {
    /// Nothing beyond what every draw keeps; the place is where a fault is shown.
    #[must_use]
    pub fn plain(place: Option<Place>) -> Self {
        Self {
            place: place.unwrap_or_else(|| Place::whole(&base::SourceName::new("plan.yaml"))),
            target: Vec::new(),
            words: None,
            used_lately: None,
            same_letter: None,
            anchors: Vec::new(),
            cut: 600,
        }
    }
}

impl TheoryPart {
    /// Counted questions on a form.
    #[must_use]
    pub fn counted(&self) -> u32 {
        self.cells.iter().map(CellQuota::total).sum()
    }
}

/// How many questions of one cell.
#[derive(Debug, Clone, PartialEq)]
pub struct CellQuota {
    /// The cell.
    pub cell: CellId,
    /// Where it stands in the plan.
    pub place: Place,
    /// How many, by level or of any level.
    pub wanted: Wanted,
}

impl CellQuota {
    /// How many in all.
    #[must_use]
    pub fn total(&self) -> u32 {
        match &self.wanted {
            Wanted::AnyLevel(number) => *number,
            Wanted::ByLevel(numbers) => numbers.values().sum(),
        }
    }
}

/// A number of questions, of any level or by level.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Wanted {
    /// Whatever level.
    AnyLevel(u32),
    /// So many of each level; a level that is not named has none.
    ByLevel(BTreeMap<Level, u32>),
}

/// The tasting part.
#[derive(Debug, Clone, PartialEq)]
pub struct TastingPart {
    /// Minutes allowed.
    pub minutes: u32,
    /// The flight: one to twelve different samples, with their places in the plan.
    pub samples: Vec<(SampleId, Place)>,
    /// What is asked of each glass, in the order of the answer sheet.
    pub ask: Vec<TastingQuestion>,
    /// What is poured.
    pub pour: Pour,
    /// Who shares glass codes.
    pub codes: CodeSharing,
    /// Whether a fourth digit checks the code (Damm 2004).
    pub check_digit: bool,
    /// Descriptors of at least this panel weight are the key.
    pub threshold: f64,
    /// Whether what a guesser earns with words (aroma, water) is taken off their marks.
    pub less_chance: bool,
    /// What is asked of the samples beyond that.
    pub rules: FlightRules,
}

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
    /// The producer, one of a printed list: extra credit.
    Producer {
        /// The list, at least four names.
        from: Vec<String>,
    },
}

impl Asked {
    /// The words by which the things asked are named in plans and answers.
    pub const NAMES: [&'static str; 12] = [
        "aroma", "water", "category", "region", "age", "strength", "colour", "body", "finish",
        "quality", "fault", "producer",
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
            Self::Producer { .. } => "producer",
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

/// What is poured into each glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pour {
    /// Millilitres in the glass, at serving strength.
    pub volume: f64,
    /// At which strength.
    pub strength: ServingStrength,
}

impl Pour {
    /// The strength in the glass of a spirit bottled at this strength, % vol: reduced where the
    /// plan says so, and never above what is in the bottle.
    #[must_use]
    pub fn served(&self, bottled: f64) -> f64 {
        match self.strength {
            ServingStrength::AsBottled => bottled,
            ServingStrength::Reduced(strength) => strength.min(bottled),
        }
    }
}

/// At which strength a sample is served.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ServingStrength {
    /// As bottled.
    AsBottled,
    /// Reduced with water to this strength, % vol at 20 °C; weaker bottles are served as they are.
    Reduced(f64),
}

/// Who shares glass codes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CodeSharing {
    /// Everybody.
    Room,
    /// Each table; kits are a table of their own.
    Table,
    /// Nobody.
    Candidate,
}

/// When a candidate has passed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PassRule {
    /// How the parts are joined.
    pub join: Join,
    /// Extra credit that counts at most.
    pub extra_at_most: Marks,
    /// Whether extra credit may turn a fail into a pass.
    pub extra_may_turn_fail_into_pass: bool,
}

/// How the parts are joined. Cuts in thousandths of a part's maximum.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Join {
    /// Each part at or above its own cut.
    Conjunctive {
        /// Cut of the theory part.
        theory: u32,
        /// Cut of the tasting part.
        tasting: u32,
    },
    /// The weighted total at or above one cut.
    Compensatory {
        /// Cut of the total.
        total: u32,
        /// Weight of the theory part in thousandths; tasting has the rest.
        theory_weight: u32,
    },
}
