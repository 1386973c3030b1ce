//! What stands at the head of every sheet.

use serde::Serialize;

/// The exam as it is named at the head of a sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ExamHead {
    /// The exam's title.
    pub title: String,
    /// The school or body that holds it.
    pub school: String,
    /// The day as it is to be printed; empty where it is not known.
    pub date: String,
    /// A line that must be seen, such as "Rehearsal: these candidates are simulated"; empty for none.
    pub note: String,
}
