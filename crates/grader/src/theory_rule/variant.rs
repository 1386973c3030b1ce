//! A question with drawn numbers: marked as the plain question that the numbers of a form make, a
//! number (`numeric`) or a choice (`best_answer`).
//!
//! This rule stands for a question whose numbers were not filled in, which no assembled form has;
//! such an answer goes to a person. Source: common practice, no source. Chance score: one option of
//! n where it is printed as a choice, else 0 by agreement.

use base::Marks;
use question_bank::question_kind::Variant;
use question_bank::{PrintedOrder, Shape};

use super::TheoryRule;
use crate::rules::{PRACTICE, Rule, rule};
use crate::verdict::Verdict;

/// The rule's stable name.
pub const RULE: &str = "variant as drawn";

/// The line in the list of rules.
pub(crate) const RULES: &[Rule] = &[rule(
    RULE,
    "variant",
    PRACTICE,
    "any option, each equally likely; a number has no list to guess from: counted as 0",
)];

impl TheoryRule for Variant {
    fn verdict(&self, _: &PrintedOrder, _: &str, _: Marks) -> Verdict {
        Verdict::for_a_person("the numbers drawn for this form are not known", Vec::new())
    }
    fn rule(&self) -> &'static str {
        RULE
    }
    fn guesser(&self) -> f64 {
        use question_bank::question_kind::Kind;
        match self.shape() {
            Shape::Choice { options, .. } => 1.0 / options.len().max(1) as f64,
            Shape::Number { .. }
            | Shape::Order { .. }
            | Shape::Columns { .. }
            | Shape::Words { .. }
            | Shape::Space { .. } => 0.0,
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use crate::example::{question, told, variant};
    use crate::{mark_theory, theory_chance_score};
    use question_bank::{DrawnNumbers, PrintedOrder};

    #[test]
    fn a_form_is_marked_with_its_own_numbers_and_mistakes_are_told() {
        let whole = question(variant(), "2");
        let order = PrintedOrder::as_written(0);
        assert!(mark_theory(&whole, &order, "50").waits());
        let drawn = DrawnNumbers::parse("volume=200 share=30").unwrap();
        let on_form = whole.realised(&drawn).unwrap();
        assert_eq!(on_form.kind.stem(), "How much is 30 % of 200 L?");
        for (answer, marks, reason) in [
            ("60", "2", "60 lies within 1 of 60 L: 2 of 2 marks"),
            (
                "62",
                "1",
                "62 earns half by lying within 3 of 60 L: 1 of 2 marks",
            ),
            (
                "140",
                "0",
                "140 for 60 L: 0 of 2 marks; a known mistake: That is the rest.",
            ),
            ("99", "0", "99 lies farther than 3 from 60 L: 0 of 2 marks"),
        ] {
            let outcome = mark_theory(&on_form, &order, answer);
            assert_eq!(told(&outcome), (marks.to_owned(), reason.to_owned()));
        }
        assert!(theory_chance_score(&whole).abs() < 1e-15);
    }
}
