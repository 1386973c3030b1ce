//! Single best answer: one of two to seven options is right; three by default.

use super::AnswerOption;

/// A checked single-best-answer question: exactly one option is the key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BestAnswer {
    /// What is asked.
    pub stem: String,
    /// The options as written.
    pub options: Vec<AnswerOption>,
    /// Print the options as written (numbers, years).
    pub keep_order: bool,
}
