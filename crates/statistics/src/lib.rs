//! Test theory and sensory statistics: slices in, result structs out.
//!
//! One estimator per file; each heading says what question it answers and when it must not be used.
//! Every figure comes with its n and, where one is known, an interval; too little data is a
//! [`Refusal`]. This room opens no file, reads no clock, prints nothing and draws nothing itself.

pub mod agreement;
pub mod bootstrap;
pub mod decision;
pub mod descriptive;
pub mod discrimination_test;
pub mod distribution;
pub mod equating;
pub mod fairness;
pub mod forecast;
pub mod generalisability;
pub mod halving;
mod interval;
pub mod items;
mod p_value;
pub mod panel;
mod random_input;
mod ranks;
mod refusal;
pub mod reliability;
pub mod scaling;
mod score_table;
pub mod similarity;
mod small_system;
pub mod standard_setting;
pub mod sums;

pub use interval::{Confidence, Interval, IntervalMethod};
pub use p_value::{PValue, Side};
pub use random_input::RandomInput;
pub use refusal::Refusal;
pub use score_table::ScoreTable;
