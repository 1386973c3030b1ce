//! Answers, key and rubric make marks, each with its reason.

pub mod award;

pub use award::{Award, Item, Outcome, UnknownWord};
