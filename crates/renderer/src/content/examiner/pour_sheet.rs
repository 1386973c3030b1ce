//! What the pourer needs, kept in the closed envelope: bottles, water, volumes, codes by sample.

use serde::Serialize;

use crate::content::{ExamHead, TimedStep};

/// The pour sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PourSheet {
    /// The exam.
    pub exam: ExamHead,
    /// Whether nobody but examiners may see it: not so where everybody knows what is poured.
    pub closed: bool,
    /// What must be there before the first cork is drawn, to tick.
    pub checklist: Vec<String>,
    /// Times, counted backwards from the first answer.
    pub times: Vec<TimedStep>,
    /// The bottles to have at hand.
    pub bottles: Vec<PourBottle>,
    /// The samples in the order of pouring, one bottle open at a time.
    pub samples: Vec<PourSample>,
    /// Glasses to check at random by a second person.
    pub cross_checks: Vec<CrossCheck>,
    /// Grams of ethanol if swallowed, one sentence each.
    pub ethanol: Vec<String>,
    /// The cautions, one sentence each.
    pub cautions: Vec<String>,
}

/// Bottles of one kind.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PourBottle {
    /// The sample's short name: "1".
    pub sample: String,
    /// What is in the bottle.
    pub what: String,
    /// How many bottles of what size: "2 × 70 cl".
    pub bottles: String,
    /// The strength on the bottle: "46.0 % vol".
    pub strength: String,
    /// The strength served.
    pub serving_strength: String,
}

/// One sample's pouring.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PourSample {
    /// The sample's short name: "1".
    pub sample: String,
    /// What is in the bottle.
    pub what: String,
    /// Volume in one glass: "15 ml".
    pub volume_in_a_glass: String,
    /// Everything together with spare and loss: "435 ml".
    pub total: String,
    /// How it is brought to serving strength; empty where it is served as it is.
    pub dilution: String,
    /// The codes of its glasses in the order of the labels; empty where glasses bear none.
    pub codes: Vec<String>,
    /// What to look out for: "Pour last: peated."; empty for none.
    pub note: String,
}

/// One glass to be checked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CrossCheck {
    /// Where it stands.
    pub seat: String,
    /// Its code.
    pub code: String,
    /// The sample that must be in it.
    pub sample: String,
}
