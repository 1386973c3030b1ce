//! Marks make decisions, report contents, analysis and the rehearsal.

pub mod agreement;
pub mod analysis;
pub mod answer_counts;
pub mod appeal;
pub mod candidate_report;
mod cell_worth;
pub mod class_beside_panel;
pub mod class_list;
pub mod cut_meeting;
pub mod decide;
pub mod decision_words;
pub mod equating;
#[cfg(test)]
mod example;
pub mod marker;
pub mod moderation;
pub mod per_question;
pub mod per_sample;
pub mod recall;
pub mod regrade;
pub mod rehearsal;
pub mod resampling;
pub mod review;
pub mod script;
pub mod summary;

pub use appeal::{AppealFile, AppealItem, appeal_file};
pub use candidate_report::{CandidateReport, candidate_report};
pub use cell_worth::CellWorth;
pub use class_beside_panel::{ClassBesidePanel, class_beside_panel};
pub use class_list::{ClassLine, ClassList};
pub use decide::{CandidateMarks, Decision, Outcome, Part, PartMarks, decide};
pub use per_question::{QuestionPage, per_question};
pub use per_sample::{SamplePage, per_sample};
pub use regrade::{RegradeDifference, regrade_difference};
pub use review::{Review, UnderReview};
pub use script::{Script, class_list, named_scripts, scripts};
pub use summary::{SittingSummary, summarise};
