//! A word or two: an accepted form, or a small slip of one; everything else to a person.
//!
//! Source: common practice, no source. What a slip is: [`crate::spelling::is_slip`]. Chance score:
//! 0 by agreement, there is no list to guess from.

use base::Marks;
use question_bank::question_kind::ShortAnswer;
use question_bank::word_match::fold;

use crate::award::{Outcome, UnknownWord};
use crate::reason::Reason;
use crate::spelling::{LONGEST, is_slip};

/// The rule's stable name.
pub const RULE: &str = "short_answer";

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(kind: &ShortAnswer, answer: &str, of: Marks) -> Outcome {
    let written = base::walk::shortened(answer.trim());
    let folded = if answer.len() > LONGEST {
        String::new()
    } else {
        fold(answer)
    };
    if folded.is_empty() {
        return not_recognised(kind, written, of);
    }
    let accepted: Vec<(String, &String)> =
        kind.accept.iter().map(|form| (fold(form), form)).collect();
    if let Some((_, form)) = accepted.iter().find(|(form, _)| *form == folded) {
        return Reason::WordAccepted {
            accepted: (*form).clone(),
        }
        .outcome(of, RULE);
    }
    // All accepted forms are right, so it need not be clear which of them was meant.
    match accepted.iter().find(|(form, _)| is_slip(&folded, form)) {
        Some((_, form)) => Reason::WordSlip {
            written,
            accepted: (*form).clone(),
        }
        .outcome(of, RULE),
        None => not_recognised(kind, written, of),
    }
}

fn not_recognised(kind: &ShortAnswer, written: String, of: Marks) -> Outcome {
    let near = kind.accept.clone();
    Outcome::ForAPerson {
        why: format!("\"{written}\" is not among the accepted answers; {of} marks depend on it"),
        near: near.clone(),
        provisional: Marks::ZERO,
        words: vec![UnknownWord {
            word: written,
            near,
        }],
    }
}
