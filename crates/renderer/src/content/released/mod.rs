//! Papers for candidates after the decision: they say what would have counted.

mod appeal_file;
mod candidate_report;
mod certificate;

pub use appeal_file::{AppealEntry, AppealFile, AppealWord};
pub use candidate_report::{
    CandidateReport, PartResult, ReportGlass, ReportLine, Verdict, WordBeside,
};
pub use certificate::Certificate;
