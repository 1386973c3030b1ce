//! Single best answer: all or nothing; two options marked earn nothing.
//!
//! Source: number-right scoring, common practice, no source. Chance score: 1/n with n options.

use base::Marks;
use question_bank::PrintedOrder;
use question_bank::printed_order::letter;
use question_bank::question_kind::BestAnswer;

use super::TheoryRule;
use crate::printed_letters::read_letters;
use crate::reason::Reason;
use crate::rules::{PRACTICE, Rule, rule};
use crate::verdict::Verdict;

/// The lines in the list of rules.
pub(crate) const RULES: &[Rule] = &[rule(
    "best_answer",
    "best_answer",
    PRACTICE,
    "any option, each equally likely",
)];

impl TheoryRule for BestAnswer {
    fn verdict(&self, order: &PrintedOrder, answer: &str, of: Marks) -> Verdict {
        mark(self, order, answer, of)
    }
    fn rule(&self) -> &'static str {
        RULE
    }
    fn guesser(&self) -> f64 {
        chance_score(self)
    }
}

/// The rule's stable name.
pub const RULE: &str = "best_answer";

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(kind: &BestAnswer, order: &PrintedOrder, answer: &str, of: Marks) -> Verdict {
    let printed = kind.options.len();
    let mut marked = match read_letters(answer, printed) {
        Ok(places) => places,
        Err(why) => return Verdict::for_a_person(why.sentence(printed), Vec::new()),
    };
    marked.sort_unstable();
    marked.dedup();
    let right = (0..printed).find(|&place| {
        order
            .written_at(place)
            .and_then(|written| kind.options.get(written))
            .is_some_and(|option| option.key)
    });
    let Some(right) = right else {
        return Verdict::for_a_person("the printed options do not hold the key", Vec::new());
    };
    match marked.as_slice() {
        [one] if *one == right => Reason::OptionRight {
            marked: letter(right),
        }
        .verdict(of, RULE),
        [one] => Reason::OptionWrong {
            marked: letter(*one),
            right: letter(right),
        }
        .verdict(Marks::ZERO, RULE),
        several => Reason::SeveralOptionsMarked {
            marked: several.iter().map(|&place| letter(place)).collect(),
        }
        .verdict(Marks::ZERO, RULE),
    }
}

/// What a guesser gets on average, as a share of the marks: one option of n.
#[must_use]
pub fn chance_score(kind: &BestAnswer) -> f64 {
    1.0 / kind.options.len().max(1) as f64
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::example::{best_answer, question, told};
    use crate::mark_theory;

    #[test]
    fn the_printed_letter_counts_and_not_the_written_place() {
        // The right option is written second and printed third.
        let order = PrintedOrder::from_places(vec![2, 0, 1]).unwrap();
        let question = question(best_answer(), "1");
        for (answer, marks, reason) in [
            ("C", "1", "C is right"),
            (" c. ", "1", "C is right"),
            ("CC", "1", "C is right"),
            ("B", "0", "B is marked, C is right"),
            (
                "A C",
                "0",
                "A, C are marked, and one option only counts: no marks",
            ),
            (
                "D",
                "0",
                "person: D is not printed with this question, which ends at C",
            ),
            ("?", "0", "person: \"?\" is no letter from A to C"),
        ] {
            let outcome = mark_theory(&question, &order, answer);
            assert_eq!(
                told(&outcome),
                (marks.to_owned(), reason.to_owned()),
                "{answer}"
            );
        }
    }

    #[test]
    fn a_guesser_hits_one_in_three() {
        let question_bank::QuestionKind::BestAnswer(kind) = best_answer() else {
            panic!()
        };
        assert!((chance_score(&kind) - 1.0 / 3.0).abs() < 1e-15);
    }
}
