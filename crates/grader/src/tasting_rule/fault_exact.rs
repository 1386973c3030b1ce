//! Fault: one of the printed list, or "none"; exact.
//!
//! Source: common practice, no source. Chance score: one in the length of the list, "none" counted
//! among it; who lists several gets nothing.

use base::Marks;
use question_bank::word_match::fold;

use crate::reason::Reason;
use crate::spelling::is_slip;
use crate::verdict::Verdict;

/// The rule's stable name.
pub const RULE: &str = "fault exact";

/// The word for no fault.
pub const NONE: &str = "none";

/// The list with "none" in it, as a candidate may choose.
#[must_use]
pub fn choices(from: &[String]) -> Vec<&str> {
    let mut choices: Vec<&str> = from.iter().map(String::as_str).collect();
    if !choices.iter().any(|choice| fold(choice) == NONE) {
        choices.push(NONE);
    }
    choices
}

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(truth: Option<&str>, from: &[String], answer: &str, of: Marks) -> Verdict {
    let truth = truth.unwrap_or(NONE);
    let choices = choices(from);
    let written = match fold(answer).as_str() {
        "no fault" | "no faults" | "faultless" => NONE.to_owned(),
        other => other.to_owned(),
    };
    let chosen = choices
        .iter()
        .find(|choice| fold(choice) == written)
        .or_else(|| {
            let mut slips = choices
                .iter()
                .filter(|choice| is_slip(&written, &fold(choice)));
            // One only: between two near names a person decides.
            slips.next().filter(|_| slips.next().is_none())
        });
    match chosen {
        Some(chosen) if fold(chosen) == fold(truth) => Reason::NameRight {
            name: (*chosen).to_owned(),
        }
        .verdict(of, RULE),
        Some(chosen) => Reason::NameWrong {
            name: (*chosen).to_owned(),
            truth: truth.to_owned(),
        }
        .verdict(Marks::ZERO, RULE),
        None => Verdict::for_a_person(
            format!(
                "\"{}\" is not on the list of faults",
                base::walk::shortened(answer.trim())
            ),
            base::near::nearest(&written, choices)
                .into_iter()
                .map(str::to_owned)
                .collect(),
        ),
    }
}

/// What a guesser gets on average, as a share of the marks.
#[must_use]
pub fn chance_score(truth: Option<&str>, from: &[String]) -> f64 {
    let choices = choices(from);
    let truth = fold(truth.unwrap_or(NONE));
    if choices.iter().any(|choice| fold(choice) == truth) {
        1.0 / choices.len() as f64
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example::told;

    #[test]
    fn one_of_the_list_or_none() {
        let from = ["corked".to_owned(), "feinty".to_owned()];
        let mark = |truth, answer| mark(truth, &from, answer, Marks::ONE);
        assert_eq!(told(&mark(Some("corked"), "Corked")).0, "1");
        assert_eq!(told(&mark(Some("corked"), "corkd")).0, "1");
        assert_eq!(
            told(&mark(Some("corked"), "none")).1,
            "none for corked: no marks"
        );
        assert_eq!(told(&mark(None, "no fault")).1, "none is right");
        assert!(mark(None, "musty").waits());
        assert!((chance_score(Some("corked"), &from) - 1.0 / 3.0).abs() < 1e-15);
        assert_eq!(chance_score(Some("musty"), &from), 0.0);
    }
}
