//! What the packer and a second person need for kits: what is open when, and what must be in which
//! bottle. It holds the map of the samples.

use serde::Serialize;

use crate::content::ExamHead;

/// The check of all kits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KitCheckSheet {
    /// The exam.
    pub exam: ExamHead,
    /// Rules of filling and sending, one sentence each.
    pub rules: Vec<String>,
    /// What is open when, one sample at a time.
    pub fillings: Vec<KitFilling>,
    /// The kits, for the second person.
    pub kits: Vec<KitToCheck>,
    /// The cautions, one sentence each.
    pub cautions: Vec<String>,
}

/// One sample's turn.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KitFilling {
    /// The sample's short name: "1".
    pub sample: String,
    /// What is in the bottle.
    pub what: String,
    /// Into each small bottle: "20 ml at 40 % vol".
    pub into_each: String,
    /// Whose bottle, and its code: "C-021: 620".
    pub bottles: Vec<String>,
}

/// One kit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KitToCheck {
    /// The candidate's number.
    pub candidate_number: String,
    /// The code of its seal.
    pub seal: String,
    /// Each bottle in serving order: its code and its sample, "620 holds 2".
    pub bottles: Vec<String>,
}
