//! The key of a form as an examiner and a marker see it. For their doors only: nothing here can be
//! serialised, so that no candidate's paper can be made from it by accident.

use base::{Marks, QuestionId};
use question_bank::printed_order::letter;
use question_bank::question_kind::AnswerOption;
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
            let question = bank.questions.get(&on_form.question)?;
            Some(KeyLine {
                number: number_of(place),
                question: question.id.clone(),
                answer_text: answer_text(&question.kind, &on_form.order),
                why: why(&question.kind),
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
    match kind {
        QuestionKind::BestAnswer(best) => key_letters(&best.options, letter_of),
        QuestionKind::MultipleResponse(several) => key_letters(&several.options, letter_of),
        QuestionKind::Numeric(numeric) => {
            let within = if numeric.tolerance == 0.0 {
                "exactly".to_owned()
            } else {
                format!("±{}", numeric.tolerance)
            };
            let half = match numeric.half_within {
                Some(half) => format!("; half marks within ±{half}"),
                None => String::new(),
            };
            let unit = numeric.unit.as_str();
            let space = if unit.is_empty() { "" } else { " " };
            let answer = &numeric.answer_as_written;
            format!("{answer}{space}{unit} ({within}{half})")
        }
        QuestionKind::Ordering(ordering) => {
            joined((0..ordering.steps.len()).map(|step| letter_of(step).to_string()))
        }
        QuestionKind::Matching(matching) => {
            joined((0..matching.pairs.len()).map(|left| format!("{}{}", left + 1, letter_of(left))))
        }
        QuestionKind::ShortAnswer(short) => short.accept.join(" / "),
    }
}

fn key_letters(options: &[AnswerOption], letter_of: impl Fn(usize) -> char) -> String {
    let keys = options.iter().enumerate().filter(|(_, option)| option.key);
    let mut letters: Vec<char> = keys.map(|(place, _)| letter_of(place)).collect();
    letters.sort_unstable();
    joined(letters.into_iter().map(String::from))
}

fn joined(parts: impl Iterator<Item = String>) -> String {
    parts.collect::<Vec<_>>().join(" ")
}

/// Why the right answer is right.
fn why(kind: &QuestionKind) -> String {
    let of_keys = |options: &[AnswerOption]| {
        let keys = options
            .iter()
            .filter(|option| option.key && !option.why.is_empty());
        keys.map(|option| option.why.as_str())
            .collect::<Vec<_>>()
            .join(" ")
    };
    match kind {
        QuestionKind::BestAnswer(best) => of_keys(&best.options),
        QuestionKind::MultipleResponse(several) => of_keys(&several.options),
        QuestionKind::Numeric(numeric) => numeric.why.clone(),
        QuestionKind::Ordering(ordering) => ordering.why.clone(),
        QuestionKind::Matching(matching) => matching.why.clone(),
        QuestionKind::ShortAnswer(short) => short.why.clone(),
    }
}
