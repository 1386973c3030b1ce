//! Papers for candidates after the decision: they say what would have counted.

mod candidate_report;

pub use candidate_report::{
    CandidateReport, PartResult, ReportGlass, ReportLine, Verdict, WordBeside,
};
