//! What goes into the parcel of a candidate who sits elsewhere.

use serde::Serialize;

use crate::content::ExamHead;

/// Packing lists for all kits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PackingLists {
    /// The exam.
    pub exam: ExamHead,
    /// The cautions, carriage of spirits among them.
    pub cautions: Vec<String>,
    /// What the candidate does with the kit, one sentence each.
    pub instructions: Vec<String>,
    /// One list for each kit.
    pub kits: Vec<Kit>,
}

/// One kit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Kit {
    /// The candidate's number.
    pub candidate_number: String,
    /// The form of the theory paper; empty where there is none.
    pub form: String,
    /// The code of the strip that closes it.
    pub seal: String,
    /// The bottles in serving order.
    pub bottles: Vec<KitBottle>,
    /// Everything else, with its quantity.
    pub items: Vec<KitItem>,
}

/// One small bottle.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KitBottle {
    /// The code on its label.
    pub code: String,
    /// What is in it, as printed: "25 ml".
    pub volume: String,
}

/// One other thing in the kit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KitItem {
    /// How many.
    pub quantity: String,
    /// What.
    pub what: String,
}
