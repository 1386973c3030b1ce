//! The class on one look, for the chief examiner.

use serde::Serialize;

use crate::content::{Distribution, ExamHead, Figure};

/// Class list and summary.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ClassSummary {
    /// The exam.
    pub exam: ExamHead,
    /// The most important, one sentence each.
    pub verdicts: Vec<String>,
    /// Figures with interval and n.
    pub figures: Vec<Figure>,
    /// The totals' distribution; none where there is nobody.
    pub distribution: Option<Distribution>,
    /// The names of the parts, for the columns of the list.
    pub parts: Vec<String>,
    /// The candidates.
    pub candidates: Vec<CandidateLine>,
    /// Who lies near a cut that decides, to be looked at before release.
    pub review: Vec<ReviewLine>,
    /// Questions and samples to look at.
    pub notices: Vec<QuestionNotice>,
    /// Answers that wait for a person, one line each.
    pub waiting: Vec<String>,
    /// The head of the ledger when this was made; empty where there is none.
    pub ledger_head: String,
}

/// One candidate.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CandidateLine {
    /// The candidate's number.
    pub candidate_number: String,
    /// Marks of each part, as printed, in the order of the parts.
    pub parts: Vec<String>,
    /// The total, as printed.
    pub total: String,
    /// The decision: "pass".
    pub decision: String,
    /// "within one error of the cut"; empty for none.
    pub note: String,
}

/// A candidate near a cut.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReviewLine {
    /// The candidate's number.
    pub candidate_number: String,
    /// The decision as it stands.
    pub decision: String,
    /// How near, one sentence each part.
    pub near: Vec<String>,
    /// The chance that the decision is wrong, as printed; empty where it is not known.
    pub wrong: String,
    /// What to look at first; empty where nothing earned a part of its marks.
    pub look_at: String,
    /// Whether it was looked at.
    pub reviewed: bool,
}

/// A question or sample to look at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct QuestionNotice {
    /// Its id.
    pub id: String,
    /// Why.
    pub why: String,
}
