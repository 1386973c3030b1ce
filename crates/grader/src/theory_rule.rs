//! How each kind of theory question is marked, one file each.

pub mod best_answer;
pub mod matching;
pub mod multiple_response;
pub mod numeric;
pub mod ordering;
pub mod short_answer;
