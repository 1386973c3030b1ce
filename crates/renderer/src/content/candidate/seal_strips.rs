//! Strips that close a kit: whoever opens it sees that nobody did so before.

use serde::Serialize;

use crate::content::ExamHead;

/// The strips of all kits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SealStrips {
    /// The exam.
    pub exam: ExamHead,
    /// What stands on every strip: what to do where it is torn.
    pub if_torn: String,
    /// One strip for each kit.
    pub strips: Vec<SealStrip>,
}

/// One strip.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SealStrip {
    /// The candidate's number.
    pub candidate_number: String,
    /// The code: `482 137 5`.
    pub code: String,
}
