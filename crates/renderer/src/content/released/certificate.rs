//! A certificate: who passed which exam, and the number by which the school knows it again.

use serde::Serialize;

use crate::content::ExamHead;

/// The certificate of one candidate who passed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Certificate {
    /// The exam.
    pub exam: ExamHead,
    /// The day of the exam, without the hour.
    pub day: String,
    /// The candidate's name.
    pub name: String,
    /// The candidate's number.
    pub candidate_number: String,
    /// The grade above a plain pass; empty for a plain pass.
    pub grade: String,
    /// What was examined: "a theory paper and a blind tasting of three spirits".
    pub examined: String,
    /// The number, in groups.
    pub number: String,
    /// How the number is checked, one sentence.
    pub check: String,
}
