//! Marks one answer to a theory question by the rule of its kind.

use base::Marks;
use question_bank::{PrintedOrder, Question, QuestionKind};

use crate::award::Outcome;
use crate::printed_letters::is_blank;
use crate::reason::Reason;
use crate::theory_rule::{
    best_answer, matching, multiple_response, numeric, ordering, short_answer,
};

/// Marks an answer as it stands on the sheet: printed letters, a number, or words. `order` says
/// which thing each printed letter names on this candidate's form. A blank answer earns nothing;
/// what cannot be read, or names letters that are not printed, goes to a person.
#[must_use]
pub fn mark_theory(question: &Question, order: &PrintedOrder, answer: &str) -> Outcome {
    let of = question.marks;
    if is_blank(answer) {
        return Reason::NoAnswer.outcome(Marks::ZERO, rule_name(&question.kind));
    }
    match &question.kind {
        QuestionKind::BestAnswer(kind) => best_answer::mark(kind, order, answer, of),
        QuestionKind::MultipleResponse(kind) => multiple_response::mark(kind, order, answer, of),
        QuestionKind::Numeric(kind) => numeric::mark(kind, answer, of),
        QuestionKind::Ordering(kind) => ordering::mark(kind, order, answer, of),
        QuestionKind::Matching(kind) => matching::mark(kind, order, answer, of),
        QuestionKind::ShortAnswer(kind) => short_answer::mark(kind, answer, of),
    }
}

/// The stable name of the rule by which a kind of question is marked.
#[must_use]
pub const fn rule_name(kind: &QuestionKind) -> &'static str {
    match kind {
        QuestionKind::BestAnswer(_) => best_answer::RULE,
        QuestionKind::MultipleResponse(kind) => multiple_response::rule_name(kind.rule),
        QuestionKind::Numeric(_) => numeric::RULE,
        QuestionKind::Ordering(kind) => ordering::rule_name(kind.rule),
        QuestionKind::Matching(_) => matching::RULE,
        QuestionKind::ShortAnswer(_) => short_answer::RULE,
    }
}
