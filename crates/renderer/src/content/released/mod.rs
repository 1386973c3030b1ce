//! Papers for candidates after the decision, and for learners after a class: they say what would have
//! counted, or what the panel found.

mod appeal_file;
mod candidate_report;
mod certificate;
mod learner_pages;

pub use appeal_file::{AppealEntry, AppealFile, AppealWord};
pub use candidate_report::{
    CandidateReport, PartResult, ReportGlass, ReportLine, Verdict, WordBeside,
};
pub use certificate::Certificate;
pub use learner_pages::{LearnerGlass, LearnerPage, LearnerRating, LearnerStage, LearnerWord};
