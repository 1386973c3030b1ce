//! How many words of a question are read by a candidate: stem and everything printed below it.

use std::collections::BTreeMap;

use question_bank::{PrintedOrder, Question};

use crate::candidate_view::{PrintedBody, printed_body};

/// The words of the text that a question shares with others; it is printed once for all of them.
#[must_use]
pub fn shared_words(question: &Question) -> usize {
    let words = |text: &str| text.split_whitespace().count();
    question.set.as_ref().map_or(0, |of| words(&of.set.text))
}

/// The words of a form with these questions, shared texts once.
#[must_use]
pub fn words_of_form(questions: &[&Question]) -> usize {
    let mut shared = BTreeMap::new();
    let mut words = 0;
    for question in questions {
        words += words_to_read(question);
        if let Some(of) = &question.set {
            shared.insert(&of.set.place, shared_words(question));
        }
    }
    words + shared.values().sum::<usize>()
}

/// The words of a question as printed, without the text that it shares with others.
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
