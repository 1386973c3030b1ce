//! A word or two, compared with a list of accepted forms; what is not recognised goes to a person.

/// A checked short-answer question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShortAnswer {
    /// What is asked.
    pub stem: String,
    /// Accepted forms, the main one first.
    pub accept: Vec<String>,
    /// Why it is right.
    pub why: String,
}
