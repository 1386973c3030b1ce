//! The sheet on which a judge of a standard-setting meeting writes estimates.

use serde::Serialize;

use crate::content::ExamHead;

/// A judge's sheet; the same for every judge.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct JudgeSheet {
    /// The exam.
    pub exam: ExamHead,
    /// The form; empty where there is one.
    pub form: String,
    /// How many rounds have a column.
    pub rounds: usize,
    /// What to do, in sentences.
    pub advice: Vec<String>,
    /// The questions in printed order.
    pub questions: Vec<JudgedQuestion>,
}

/// One question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct JudgedQuestion {
    /// Its number on the form.
    pub number: usize,
    /// Its stem.
    pub stem: String,
    /// Its right answer.
    pub key: String,
}
