//! Marks one answer to a theory question by the rule of its kind.

use base::Marks;
use question_bank::{PrintedOrder, Question, QuestionKind};

use crate::printed_letters::is_blank;
use crate::reason::Reason;
use crate::theory_rule::rule_of;
use crate::verdict::Verdict;

/// Marks an answer as it stands on the sheet: printed letters, a number, or words. `order` says
/// which thing each printed letter names on this candidate's form. A blank answer earns nothing;
/// what cannot be read, or names letters that are not printed, goes to a person.
#[must_use]
pub fn mark_theory(question: &Question, order: &PrintedOrder, answer: &str) -> Verdict {
    let of = question.marks;
    if is_blank(answer) {
        return Reason::NoAnswer.verdict(Marks::ZERO, rule_name(&question.kind));
    }
    rule_of(&question.kind).verdict(order, answer, of)
}

/// The stable name of the rule by which a kind of question is marked.
#[must_use]
pub fn rule_name(kind: &QuestionKind) -> &'static str {
    rule_of(kind).rule()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::example::{every_kind, marks, question, told};
    use crate::rules::rule_named;
    use proptest::prelude::*;

    #[test]
    fn every_kind_has_a_rule_in_the_list() {
        let mut names: Vec<&str> = every_kind().iter().map(QuestionKind::name).collect();
        names.dedup();
        assert_eq!(names, QuestionKind::NAMES, "an example of every kind");
        for kind in every_kind() {
            let rule = rule_named(rule_name(&kind)).expect("a rule in the list");
            assert_eq!(rule.marks, kind.name());
        }
    }

    #[test]
    fn blank_answers_earn_nothing() {
        for kind in every_kind() {
            let order = PrintedOrder::as_written(kind.lettered());
            let question = question(kind, "1");
            for blank in ["", "  ", "-", "…".trim_matches('…'), "\u{feff}"] {
                let outcome = mark_theory(&question, &order, blank);
                assert_eq!(told(&outcome), ("0".to_owned(), "no answer".to_owned()));
            }
        }
    }

    proptest! {
        #[test]
        fn any_answer_is_marked_within_bounds(
            which in 0_usize..QuestionKind::NAMES.len(),
            answer in prop_oneof![".{0,30}", "[A-Ea-e1-5 ,;-]{0,14}", "[0-9.,%+-]{0,8}", "(barley|rye|corn|[;, a-z]){0,9}"],
            shuffle in Just(vec![0_usize, 1, 2, 3, 4]).prop_shuffle(),
        ) {
            let kind = every_kind().swap_remove(which);
            let lettered = kind.lettered();
            let order: Vec<usize> = shuffle.into_iter().filter(|place| *place < lettered).collect();
            let order = PrintedOrder::from_places(order).unwrap();
            let outcome = mark_theory(&question(kind, "2"), &order, &answer);
            prop_assert!(Marks::ZERO <= outcome.marks() && outcome.marks() <= marks("2"));
            prop_assert!(!told(&outcome).1.is_empty());
        }
    }
}
