//! The sheets that candidates write on.

use serde::Serialize;
use sheet_layout::AnswerSheet;

use crate::content::ExamHead;
use crate::seal_root::SealRoot;

/// Answer sheets for a class.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct AnswerSheets {
    /// The exam.
    pub exam: ExamHead,
    /// How a bubble is filled and corrected, one short line printed on every page.
    pub how_to_mark: String,
    /// One short line of caution on every tasting page.
    pub tasting_caution: String,
    /// One short line beside the first glass: what is tasted before it, of which nothing is asked;
    /// empty where nothing is.
    pub warm_up: String,
    /// The root of the seal; it stands on the sheets of those who hold no booklet. None where the key
    /// is not sealed.
    pub seal_root: Option<SealRoot>,
    /// One sheet for each candidate.
    pub sheets: Vec<CandidateSheet>,
}

/// One candidate's answer sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CandidateSheet {
    /// The candidate's number.
    pub candidate_number: String,
    /// The seat; empty for a candidate who sits elsewhere.
    pub seat: String,
    /// The form of the theory paper; empty where there is none.
    pub form: String,
    /// Names this sheet for whoever reads it in again; printed small on every page.
    pub sheet_id: String,
    /// Where everything sits.
    pub layout: AnswerSheet,
}
