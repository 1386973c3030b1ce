//! The page that makes a form's booklet one candidate's: printed apart from it.

use serde::Serialize;

use crate::content::ExamHead;
use crate::seal_root::SealRoot;

/// Cover pages for a class.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CandidateCovers {
    /// The exam.
    pub exam: ExamHead,
    /// The cautions, one sentence each.
    pub cautions: Vec<String>,
    /// What was to be told privately before: allergy, pregnancy, medication.
    pub private_notice: String,
    /// What is done on the day: "Leave the glasses covered until the bell."
    pub instructions: Vec<String>,
    /// The root of the seal; it stands on the covers of those who hold no booklet. None where the key is
    /// not sealed.
    pub seal_root: Option<SealRoot>,
    /// One cover for each candidate, in the order of the seats.
    pub covers: Vec<CandidateCover>,
}

/// One candidate's cover page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CandidateCover {
    /// The candidate's number.
    pub candidate_number: String,
    /// The name, where the plan lets it be printed; empty else.
    pub name: String,
    /// The seat; empty for a candidate who sits elsewhere.
    pub seat: String,
    /// The form of the theory paper; empty where there is none.
    pub form: String,
    /// The codes on this candidate's glasses in serving order; empty where they are not printed.
    pub glass_codes: Vec<String>,
    /// The parts of the day.
    pub parts: Vec<PartOfDay>,
}

/// One part of the exam as the candidate goes through it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PartOfDay {
    /// Its name: "Theory".
    pub name: String,
    /// What it consists of: "20 questions, form A".
    pub what: String,
    /// The time for it: "40 minutes".
    pub time: String,
}
