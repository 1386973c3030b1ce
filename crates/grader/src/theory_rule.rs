//! How each kind of theory question is marked, one file each, and which file marks which kind.

use base::Marks;
use question_bank::{PrintedOrder, QuestionKind};

use crate::rules::Rule;
use crate::verdict::Verdict;

pub mod best_answer;
pub mod essay;
pub mod list;
pub mod matching;
pub mod multiple_response;
pub mod numeric;
pub mod ordering;
pub mod short_answer;
pub mod variant;

pub use multiple_response::Choice;
pub use numeric::{Wanted, mark_number};

/// What every kind of question answers about its marking.
pub trait TheoryRule {
    /// Marks an answer that is not blank.
    fn verdict(&self, order: &PrintedOrder, answer: &str, of: Marks) -> Verdict;
    /// The stable name of the rule by which it is marked.
    fn rule(&self) -> &'static str;
    /// What a guesser gets on average, as a share of the marks; 0 by agreement where there is no list
    /// to guess from.
    fn guesser(&self) -> f64 {
        0.0
    }
}

/// The rules of all kinds, for the list of rules.
pub(crate) const RULES: [&[Rule]; 9] = [
    best_answer::RULES,
    multiple_response::RULES,
    numeric::RULES,
    variant::RULES,
    ordering::RULES,
    matching::RULES,
    short_answer::RULES,
    list::RULES,
    essay::RULES,
];

/// What marks a kind.
#[must_use]
pub fn rule_of(kind: &QuestionKind) -> &dyn TheoryRule {
    match kind {
        QuestionKind::BestAnswer(kind) => kind,
        QuestionKind::MultipleResponse(kind) => kind,
        QuestionKind::Numeric(kind) => kind.as_ref(),
        QuestionKind::Variant(kind) => kind.as_ref(),
        QuestionKind::Ordering(kind) => kind,
        QuestionKind::Matching(kind) => kind,
        QuestionKind::ShortAnswer(kind) => kind,
        QuestionKind::List(kind) => kind,
        QuestionKind::Essay(kind) => kind,
    }
}
