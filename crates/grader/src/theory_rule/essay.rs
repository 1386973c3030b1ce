//! An essay: a person marks it by its rubric, always.
//!
//! Source: analytic rubric, common practice, no source. Chance score: 0, nothing is to be guessed.

use base::Marks;
use question_bank::PrintedOrder;
use question_bank::question_kind::Essay;

use super::TheoryRule;
use crate::rules::{NO_LIST, PRACTICE, Rule, rule};
use crate::verdict::Verdict;

/// The rule's stable name.
pub const RULE: &str = "essay rubric";

/// The line in the list of rules.
pub(crate) const RULES: &[Rule] = &[rule(RULE, "essay", PRACTICE, NO_LIST)];

impl TheoryRule for Essay {
    fn verdict(&self, _: &PrintedOrder, _: &str, _: Marks) -> Verdict {
        let criteria: Vec<String> = self
            .rubric
            .iter()
            .map(|criterion| format!("{} (up to {})", criterion.name, criterion.marks))
            .collect();
        Verdict::for_a_person(
            format!("an essay is marked by its rubric: {}", criteria.join(", ")),
            Vec::new(),
        )
    }
    fn rule(&self) -> &'static str {
        RULE
    }
}

#[cfg(test)]
mod tests {
    use crate::example::{essay, question, told};
    use crate::mark_theory;
    use question_bank::PrintedOrder;

    #[test]
    fn whatever_is_written_waits_for_a_person_with_the_rubric() {
        let outcome = mark_theory(
            &question(essay(), "3"),
            &PrintedOrder::as_written(0),
            "Copper takes up sulphur.",
        );
        assert_eq!(
            told(&outcome),
            (
                "0".to_owned(),
                "person: an essay is marked by its rubric: structure (up to 1), matter (up to 2)"
                    .to_owned()
            )
        );
    }
}
