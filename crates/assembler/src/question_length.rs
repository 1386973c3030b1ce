//! How many words of a question are read by a candidate: stem and everything printed below it.

use question_bank::{PrintedOrder, Question};

use crate::candidate_view::{PrintedBody, printed_body};

/// The words of a question as printed.
#[must_use]
pub fn words_to_read(question: &Question) -> usize {
    let words = |text: &str| text.split_whitespace().count();
    let order = PrintedOrder::as_written(question.kind.lettered());
    let below = match printed_body(&question.kind, &order) {
        PrintedBody::Options { options, .. } => options.iter().map(|o| words(&o.text)).sum(),
        PrintedBody::Steps { steps } => steps.iter().map(|s| words(&s.text)).sum(),
        PrintedBody::Columns { left, right } => {
            let left: usize = left.iter().map(|l| words(&l.text)).sum();
            left + right.iter().map(|r| words(&r.text)).sum::<usize>()
        }
        PrintedBody::Number { unit } => words(&unit),
        PrintedBody::Words { .. } | PrintedBody::Space { .. } => 0,
    };
    words(question.kind.stem()) + below
}
