//! A plan after checking: what one exam consists of.

use std::collections::BTreeMap;

use base::{CellId, Marks, Place, QuestionId, SampleId};
use question_bank::question::Level;
use question_bank::{SampleRecord, TastingKey};
use serde::Serialize;

pub use crate::asked::{AgeAnswer, Asked, AskedWords, DEFAULT_BANDS, TastingQuestion, band_names};
use crate::flight_rules::{AromaOf, FlightRules};
use crate::personal_data::PersonalData;
use crate::result_rules::ResultRules;
use crate::roster::TastingWay;

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
    /// What is said of results beyond passing.
    pub results: ResultRules,
}

impl Plan {
    /// When a candidate who tastes in this way has passed.
    #[must_use]
    pub fn pass_rule(&self, way: TastingWay) -> PassRule {
        let cut = match way {
            TastingWay::Full => None,
            TastingWay::NosingOnly => self.results.nosing,
        };
        let join = match (cut, self.pass.join) {
            (None, join) => join,
            (Some(tasting), Join::Conjunctive { theory, .. }) => {
                Join::Conjunctive { theory, tasting }
            }
            (Some(total), Join::Compensatory { theory_weight, .. }) => Join::Compensatory {
                total,
                theory_weight,
            },
        };
        PassRule { join, ..self.pass }
    }
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
    /// Counted questions on each form.
    pub questions: u32,
    /// How many of them each form has of each cell.
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
    /// By lot within rules, then made level in the same way.
    ByLotWithin(Box<NearBest>),
    /// By a search for the forms that come nearest to what is aimed at.
    NearBest(Box<NearBest>),
}

impl Draw {
    /// The rules that the plan gives; none for a draw by lot without any.
    #[must_use]
    pub const fn rules(&self) -> Option<&NearBest> {
        match self {
            Self::ByLot => None,
            Self::ByLotWithin(rules) | Self::NearBest(rules) => Some(rules),
        }
    }
}

/// The rules of a draw beyond cells, enemies and overlap, and what a draw near the best aims at.
#[derive(Debug, Clone, PartialEq)]
pub struct NearBest {
    /// Where they stand in the plan.
    pub place: Place,
    /// Information wanted at abilities; none: that of average questions around the cut.
    pub target: Vec<InformationTarget>,
    /// At most so many words to read on a form.
    pub words: Option<u32>,
    /// At most so many questions that were on a form on a day (`YYYY-MM-DD`) or later.
    pub used_lately: Vec<UsedLately>,
    /// At most so many questions that stood in so many sittings or more.
    pub used_often: Option<UsedOften>,
    /// At most so many questions whose key always stands at the same letter.
    pub same_letter: Option<u32>,
    /// At most so many questions that show a picture.
    pub pictures: Option<u32>,
    /// At most so many questions whose numbers are drawn for each form.
    pub drawn_numbers: Option<u32>,
    /// Languages to which every question must be translated.
    pub translated: Vec<String>,
    /// Questions that stand on every form and count, with their places in the plan.
    pub anchors: Vec<(QuestionId, Place)>,
    /// Questions that stand on every form and do not count, with their places: they link this
    /// sitting to others.
    pub links: Vec<(QuestionId, Place)>,
    /// The cut, in thousandths of full marks.
    pub cut: u32,
}

/// A bound of questions used on a day or later.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UsedLately {
    /// The day.
    pub since: String,
    /// At most so many on a form.
    pub at_most: u32,
}

/// A bound of questions used in many sittings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UsedOften {
    /// In so many sittings or more.
    pub sittings: u32,
    /// At most so many on a form.
    pub at_most: u32,
}

/// Information wanted at an ability.
#[derive(Debug, Clone, PartialEq)]
pub struct InformationTarget {
    /// Where it stands in the plan.
    pub place: Place,
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
            used_lately: Vec::new(),
            used_often: None,
            same_letter: None,
            pictures: None,
            drawn_numbers: None,
            translated: Vec::new(),
            anchors: Vec::new(),
            links: Vec::new(),
            cut: 600,
        }
    }
}

impl TheoryPart {
    /// Counted questions on a form.
    #[must_use]
    pub const fn counted(&self) -> u32 {
        self.questions
    }
    /// Questions printed on a form that do not count: those on trial, and those that link sittings.
    #[must_use]
    pub fn uncounted(&self) -> u32 {
        let links = self.draw.rules().map_or(0, |rules| rules.links.len());
        self.pretest
            .saturating_add(u32::try_from(links).unwrap_or(u32::MAX))
    }
    /// Whether every line of the blueprint asks for one number.
    #[must_use]
    pub fn cells_are_exact(&self) -> bool {
        self.cells.iter().all(|quota| match &quota.wanted {
            Wanted::AnyLevel(number) => number.is_exact(),
            Wanted::ByLevel(numbers) => numbers.values().all(|number| number.is_exact()),
        })
    }
}

/// A number of questions: one, or from one to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HowMany {
    least: u32,
    most: u32,
}

impl HowMany {
    /// So many.
    #[must_use]
    pub const fn exactly(number: u32) -> Self {
        Self {
            least: number,
            most: number,
        }
    }
    /// From one number to another; none where the first is the larger.
    #[must_use]
    pub const fn between(least: u32, most: u32) -> Option<Self> {
        if least <= most {
            Some(Self { least, most })
        } else {
            None
        }
    }
    /// At least.
    #[must_use]
    pub const fn least(self) -> u32 {
        self.least
    }
    /// At most.
    #[must_use]
    pub const fn most(self) -> u32 {
        self.most
    }
    /// Whether it is one number.
    #[must_use]
    pub const fn is_exact(self) -> bool {
        self.least == self.most
    }
    /// Whether a number lies within.
    #[must_use]
    pub const fn holds(self, number: u32) -> bool {
        self.least <= number && number <= self.most
    }
}

impl std::fmt::Display for HowMany {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.is_exact() {
            write!(f, "{}", self.least)
        } else {
            write!(f, "{} to {}", self.least, self.most)
        }
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
    /// At least so many in all.
    #[must_use]
    pub fn least(&self) -> u32 {
        match &self.wanted {
            Wanted::AnyLevel(number) => number.least(),
            Wanted::ByLevel(numbers) => numbers.values().map(|n| n.least()).sum(),
        }
    }
    /// At most so many in all.
    #[must_use]
    pub fn most(&self) -> u32 {
        match &self.wanted {
            Wanted::AnyLevel(number) => number.most(),
            Wanted::ByLevel(numbers) => numbers.values().map(|n| n.most()).sum(),
        }
    }
}

/// A number of questions, of any level or by level.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Wanted {
    /// Whatever level.
    AnyLevel(HowMany),
    /// So many of each level; a level that is not named has none.
    ByLevel(BTreeMap<Level, HowMany>),
}

/// The tasting part.
#[derive(Debug, Clone, PartialEq)]
pub struct TastingPart {
    /// Minutes allowed.
    pub minutes: u32,
    /// The first glass of everybody: known, not asked about, not marked, and no part of the flight.
    pub warm_up: Option<(SampleId, Place)>,
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

impl TastingPart {
    /// Of which stages words for aroma are asked of who tastes in this way.
    #[must_use]
    pub const fn aroma_of(&self, way: TastingWay) -> AromaOf {
        match way {
            TastingWay::Full => self.rules.aroma_of,
            TastingWay::NosingOnly => AromaOf::Nose,
        }
    }
    /// The key of aroma and flavour for a sample: of the stages that the plan names, and of the nose
    /// alone for who noses only.
    #[must_use]
    pub fn aroma_key(&self, record: &SampleRecord, way: TastingWay) -> TastingKey {
        let of = self.aroma_of(way);
        TastingKey::of_stages(record, self.threshold, |stage| of.counts(stage))
    }
    /// What is asked of each glass of a candidate who tastes in this way, in the order of the plan.
    pub fn asked_of(&self, way: TastingWay) -> impl Iterator<Item = &TastingQuestion> {
        self.ask.iter().filter(move |question| {
            way == TastingWay::Full || !self.wants_the_mouth(&question.asked)
        })
    }

    fn wants_the_mouth(&self, asked: &Asked) -> bool {
        let of_the_palate = self.rules.aroma_of == AromaOf::Palate;
        asked.wants_the_mouth() || of_the_palate && matches!(asked, Asked::Aroma { .. })
    }
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
