//! The key: per form, question number, letter and id.

use serde::Serialize;

use crate::content::ExamHead;

/// The key of all forms.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KeySheet {
    /// The exam.
    pub exam: ExamHead,
    /// One key for each form.
    pub forms: Vec<FormKey>,
}

/// The key of one form.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FormKey {
    /// The form's name.
    pub form: String,
    /// The questions in print order.
    pub lines: Vec<KeyLine>,
}

/// One question's key.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KeyLine {
    /// The printed number.
    pub number: u16,
    /// The key as it is written on the answer sheet: "B", "A C", "62.5 ± 0.5".
    pub key: String,
    /// The question's id in the bank.
    pub id: String,
    /// The most marks, as printed.
    pub marks: String,
    /// "pretest, not counted"; empty for none.
    pub note: String,
}
