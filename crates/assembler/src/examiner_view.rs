//! The key of a form as an examiner and a marker see it. For their doors only: nothing here can be
//! serialised, so that no candidate's paper can be made from it by accident.

use base::{Marks, QuestionId};
use question_bank::printed_order::letter;
use question_bank::{Bank, PrintedOrder, QuestionKind};

use crate::candidate_view::number_of;
use crate::sitting::Form;

/// The key of one question of a form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeyLine {
    /// The printed number, from 1.
    pub number: u32,
    /// Which question.
    pub question: QuestionId,
    /// The right answer as it would be written: `B`, `A C`, `C A B`, `1C 2A`, `46.9 % vol (±0.5)`.
    pub answer_text: String,
    /// Why it is right.
    pub why: String,
    /// Where it can be looked up.
    pub source: String,
    /// Marks for a right answer.
    pub marks: Marks,
    /// Whether it counts; pretest questions do not.
    pub counts: bool,
}

/// The key of a form. The form must be of this bank (`form_fits`): a question that the bank does
/// not hold is left out, its number with it.
#[must_use]
pub fn key_of(bank: &Bank, form: &Form) -> Vec<KeyLine> {
    form.questions
        .iter()
        .enumerate()
        .filter_map(|(place, on_form)| {
            let question = on_form.in_bank(bank)?;
            Some(KeyLine {
                number: number_of(place),
                question: question.id.clone(),
                answer_text: answer_text(&question.kind, &on_form.order),
                why: question.kind.why(),
                source: question.source.to_string(),
                marks: question.marks,
                counts: on_form.counts,
            })
        })
        .collect()
}

/// The right answer in printed letters.
#[must_use]
pub fn answer_text(kind: &QuestionKind, order: &PrintedOrder) -> String {
    let letter_of = |written: usize| order.printed_at(written).map_or('?', letter);
    kind.shape().key_in_letters(letter_of)
}
