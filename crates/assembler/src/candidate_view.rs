//! What a candidate may see of a question. None of these types can hold a key, and they alone of
//! this room can be serialised: a template for candidates has nothing else to print from.
//!
//! What a candidate may see can be handed to a template, and its stem can be named there:
//!
//! ```
//! fn for_a_template<T: serde::Serialize>() {}
//! for_a_template::<assembler::candidate_view::PrintedQuestion>();
//! fn stem(question: &assembler::candidate_view::PrintedQuestion) -> &str { &question.stem }
//! ```
//!
//! The same with the key does not compile, neither by its type nor by its name:
//!
//! ```compile_fail,E0277
//! fn for_a_template<T: serde::Serialize>() {}
//! for_a_template::<assembler::examiner_view::KeyLine>();
//! ```
//!
//! ```compile_fail,E0609
//! fn key(question: &assembler::candidate_view::PrintedQuestion) -> &str { &question.answer_text }
//! ```

use base::{Marks, Text};
use question_bank::printed_order::letter;
use question_bank::{Bank, PrintedOrder, Question, QuestionKind, Shape};
use serde::Serialize;

use crate::sitting::Form;

/// One question as printed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PrintedQuestion {
    /// The printed number, from 1.
    pub number: u32,
    /// The text above the first question of a set.
    pub shared: Option<SharedText>,
    /// What is asked.
    pub stem: String,
    /// The picture below the stem.
    pub picture: Option<PrintedPicture>,
    /// Marks for a right answer.
    pub marks: Marks,
    /// What stands below the stem.
    pub body: PrintedBody,
}

/// A text that questions share, above the first of them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SharedText {
    /// The text.
    pub text: String,
    /// The printed number of the last question about it.
    pub last: u32,
}

/// A picture as printed, and the words that stand for it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PrintedPicture {
    /// The drawing, an SVG.
    pub svg: String,
    /// Its width in thousandths of its height.
    pub ratio_thousandths: u32,
    /// What is to be seen, in words.
    pub alternative: String,
}

/// What stands below the stem.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum PrintedBody {
    /// Lettered options.
    Options {
        /// The options in printed order.
        options: Vec<LetteredText>,
        /// One is to be chosen; else all that apply.
        choose_one: bool,
    },
    /// A box for a number.
    Number {
        /// The unit beside the box.
        unit: String,
    },
    /// Lettered steps to be put in order.
    Steps {
        /// The steps in printed order.
        steps: Vec<LetteredText>,
    },
    /// A numbered and a lettered column to be joined.
    Columns {
        /// The numbered column.
        left: Vec<NumberedText>,
        /// The lettered column in printed order.
        right: Vec<LetteredText>,
    },
    /// Lines for a word or two each.
    Words {
        /// How many.
        lines: usize,
    },
    /// Space for whole sentences.
    Space {
        /// How many lines.
        lines: usize,
    },
}

/// A text with its letter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LetteredText {
    /// A, B, …
    pub letter: char,
    /// The text.
    pub text: String,
}

/// A text with its number.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NumberedText {
    /// From 1.
    pub number: u32,
    /// The text.
    pub text: String,
}

/// The questions of a form as printed. The form must be of this bank ([`form_fits`]): a question
/// that the bank does not hold is left out, its number with it.
///
/// [`form_fits`]: crate::form_fits::form_fits
#[must_use]
pub fn printed_questions(bank: &Bank, form: &Form) -> Vec<PrintedQuestion> {
    form.questions
        .iter()
        .enumerate()
        .filter_map(|(place, on_form)| {
            let question = on_form.in_bank(bank)?;
            Some(PrintedQuestion {
                number: number_of(place),
                shared: shared_text(bank, form, place),
                stem: question.kind.stem().to_owned(),
                picture: printed_picture(bank, question.as_ref()),
                marks: question.marks,
                body: printed_body(&question.kind, &on_form.order),
            })
        })
        .collect()
}

/// The text above a question that is the first of its set, questions of a set standing together.
fn shared_text(bank: &Bank, form: &Form, place: usize) -> Option<SharedText> {
    let set_at = |place: usize| {
        let on_form = form.questions.get(place)?;
        bank.questions.get(&on_form.question)?.set.as_ref()
    };
    let here = set_at(place)?;
    let also = |place: usize| set_at(place).is_some_and(|other| other.with(here));
    if place.checked_sub(1).is_some_and(also) {
        return None;
    }
    let after = (place + 1..form.questions.len()).take_while(|place| also(*place));
    Some(SharedText {
        text: here.set.text.clone(),
        last: number_of(place + after.count()),
    })
}

/// The picture that a question shows.
#[must_use]
pub fn printed_picture(bank: &Bank, question: &Question) -> Option<PrintedPicture> {
    let picture = question.picture.as_ref()?;
    let drawing = bank.pictures.get(&picture.file)?;
    Some(PrintedPicture {
        svg: drawing.svg.clone(),
        ratio_thousandths: drawing.ratio_thousandths,
        alternative: picture.alternative.to_string(),
    })
}

/// What stands below the stem of a question whose lettered things are printed in this order.
#[must_use]
pub fn printed_body(kind: &QuestionKind, order: &PrintedOrder) -> PrintedBody {
    match kind.shape() {
        Shape::Choice { options, one } => PrintedBody::Options {
            options: lettered(order, |place| options.get(place).map(|o| o.text.as_str())),
            choose_one: one,
        },
        Shape::Number { unit, .. } => PrintedBody::Number {
            unit: unit.to_owned(),
        },
        Shape::Order { steps } => PrintedBody::Steps {
            steps: lettered(order, |place| steps.get(place).map(Text::as_str)),
        },
        Shape::Columns { left, right } => PrintedBody::Columns {
            left: left
                .iter()
                .enumerate()
                .map(|(place, entry)| NumberedText {
                    number: number_of(place),
                    text: (*entry).to_owned(),
                })
                .collect(),
            right: lettered(order, |place| right.get(place).copied()),
        },
        Shape::Words { lines, .. } => PrintedBody::Words { lines },
        Shape::Space { lines, .. } => PrintedBody::Space { lines },
    }
}

/// The printed number of a place counted from 0.
pub(crate) fn number_of(place: usize) -> u32 {
    u32::try_from(place + 1).unwrap_or(u32::MAX)
}

fn lettered<'q>(
    order: &PrintedOrder,
    text_at: impl Fn(usize) -> Option<&'q str>,
) -> Vec<LetteredText> {
    order
        .places()
        .iter()
        .enumerate()
        .filter_map(|(printed, &written)| {
            Some(LetteredText {
                letter: letter(printed),
                text: text_at(written)?.to_owned(),
            })
        })
        .collect()
}
