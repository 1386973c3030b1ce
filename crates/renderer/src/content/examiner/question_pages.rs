//! How each question was answered, for whoever writes and keeps the bank.

use serde::Serialize;

use crate::content::ExamHead;

/// Every question that was printed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct QuestionPages {
    /// The exam.
    pub exam: ExamHead,
    /// What to see first, one sentence each.
    pub sentences: Vec<String>,
    /// The questions, hardest first.
    pub questions: Vec<QuestionSheet>,
}

/// One question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct QuestionSheet {
    /// Its id.
    pub id: String,
    /// Cell, and where it was printed.
    pub place: String,
    /// What it asks.
    pub stem: String,
    /// The share of the marks that was earned, in a sentence.
    pub credit: String,
    /// Where the key comes from.
    pub source: String,
    /// The answers, most frequent first.
    pub answers: Vec<AnswerRow>,
}

/// One answer and who gave it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct AnswerRow {
    /// The answer.
    pub answer: String,
    /// Whether it is right.
    pub right: bool,
    /// How many gave it.
    pub n: String,
    /// Their share, 0 to 100, for the drawing.
    pub percent: u8,
    /// What they scored in all on average; empty where nobody gave it.
    pub scored: String,
}
