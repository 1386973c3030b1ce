//! A standard-setting meeting: judges' ratings, round by round, make a cut with its error, feedback
//! for the next round, what the cut would do, and minutes.

mod class_and_levels;
mod feedback;
mod minutes;
mod other_ways;
mod setting;

pub use class_and_levels::BestOfClass;
pub use feedback::{JudgeFeedback, QuestionFeedback, RoundFeedback};
pub use minutes::{Meeting, minutes, plan_line};
pub use other_ways::{EbelRow, HofsteeRow, PageRow, ScoredCandidate};
pub use setting::{CutSet, Impact, Ratings, SetBy, angoff_rounds, set_cut};

use statistics::Confidence;

/// The level of every interval.
pub const LEVEL: Confidence = Confidence::P95;
