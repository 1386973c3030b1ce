//! A word or two: an accepted form, or a small slip of one; everything else to a person.
//!
//! Source: common practice, no source. What a slip is: [`crate::spelling::is_slip`]. Chance score:
//! 0 by agreement, there is no list to guess from.

use base::{Marks, Text};
use question_bank::PrintedOrder;
use question_bank::question_kind::ShortAnswer;
use question_bank::word_match::fold;

use super::TheoryRule;
use crate::award::UnknownWord;
use crate::reason::Reason;
use crate::rules::{NO_LIST, PRACTICE, Rule, rule};
use crate::spelling::{LONGEST, is_slip};
use crate::verdict::{Verdict, Why};

/// The lines in the list of rules.
pub(crate) const RULES: &[Rule] = &[rule("short_answer", "short_answer", PRACTICE, NO_LIST)];

impl TheoryRule for ShortAnswer {
    fn verdict(&self, _: &PrintedOrder, answer: &str, of: Marks) -> Verdict {
        mark(self, answer, of)
    }
    fn rule(&self) -> &'static str {
        RULE
    }
}

/// The rule's stable name.
pub const RULE: &str = "short_answer";

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(kind: &ShortAnswer, answer: &str, of: Marks) -> Verdict {
    let written = base::walk::shortened(answer.trim());
    let folded = if answer.len() > LONGEST {
        String::new()
    } else {
        fold(answer)
    };
    if folded.is_empty() {
        return not_recognised(kind, written);
    }
    let accepted: Vec<(String, &Text)> =
        kind.accept.iter().map(|form| (fold(form), form)).collect();
    if let Some((_, form)) = accepted.iter().find(|(form, _)| *form == folded) {
        return Reason::WordAccepted {
            accepted: form.to_string(),
        }
        .verdict(of, RULE);
    }
    // All accepted forms are right, so it need not be clear which of them was meant.
    match accepted.iter().find(|(form, _)| is_slip(&folded, form)) {
        Some((_, form)) => Reason::WordSlip {
            written,
            accepted: form.to_string(),
        }
        .verdict(of, RULE),
        None => not_recognised(kind, written),
    }
}

fn not_recognised(kind: &ShortAnswer, written: String) -> Verdict {
    let near: Vec<String> = kind.accept.iter().map(Text::to_string).collect();
    Verdict::ForAPerson {
        why: Why::NotAccepted(written.clone()),
        near: near.clone(),
        provisional: Marks::ZERO,
        words: vec![UnknownWord {
            word: written,
            near,
        }],
    }
}

#[cfg(test)]
mod tests {
    use crate::example::{question, short_answer, told};
    use crate::mark_theory;
    use question_bank::PrintedOrder;

    #[test]
    fn accepted_forms_and_slips_count_and_the_rest_waits() {
        let question = question(short_answer(), "1");
        let order = PrintedOrder::as_written(0);
        for (answer, marks, reason) in [
            ("ugni-blanc", "1", "\"Ugni blanc\" is accepted"),
            ("SAINT EMILION", "1", "\"Saint-Émilion\" is accepted"),
            (
                "Ugny blan",
                "1",
                "\"Ugny blan\" is a slip of the pen for \"Ugni blanc\"",
            ),
            (
                "Colombard",
                "0",
                "person: \"Colombard\" is not among the accepted answers",
            ),
            (
                "???",
                "0",
                "person: \"???\" is not among the accepted answers",
            ),
        ] {
            let outcome = mark_theory(&question, &order, answer);
            assert_eq!(
                told(&outcome),
                (marks.to_owned(), reason.to_owned()),
                "{answer}"
            );
        }
        let long = mark_theory(&question, &order, &"ugni blanc ".repeat(5000));
        assert!(long.waits() && told(&long).1.len() < 200);
    }
}
