//! Marks make decisions, report contents, analysis and the rehearsal.

pub mod class_list;
pub mod decide;
pub mod decision_words;
pub mod script;
pub mod summary;

pub use class_list::{ClassLine, ClassList};
pub use decide::{CandidateMarks, Decision, Outcome, Part, PartMarks, decide};
pub use script::{Script, class_list, scripts};
pub use summary::{SittingSummary, summarise};
