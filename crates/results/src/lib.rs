//! Marks make decisions, report contents, analysis and the rehearsal.

pub mod agreement;
pub mod analysis;
pub mod appeal;
pub mod candidate_report;
mod cell_worth;
pub mod class_list;
pub mod cut_meeting;
pub mod decide;
pub mod decision_words;
pub mod equating;
#[cfg(test)]
mod example;
pub mod marker;
pub mod moderation;
pub mod regrade;
pub mod rehearsal;
pub mod resampling;
pub mod script;
pub mod summary;

pub use appeal::{AppealFile, AppealItem, appeal_file};
pub use candidate_report::{CandidateReport, candidate_report};
pub use cell_worth::CellWorth;
pub use class_list::{ClassLine, ClassList};
pub use decide::{CandidateMarks, Decision, Outcome, Part, PartMarks, decide};
pub use regrade::{RegradeDifference, regrade_difference};
pub use script::{Script, class_list, scripts};
pub use summary::{SittingSummary, summarise};
