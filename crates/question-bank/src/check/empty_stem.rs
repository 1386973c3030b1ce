//! L15: the stem asks nothing by itself, has its blank in the middle, or is long (HDR 14 and 15:
//! directions clear, the central idea in the stem; HDR 13 and 16: little reading, no window
//! dressing).
//!
//! Definition of this project: a choice whose stem has fewer than three words and no question mark;
//! a row of underscores or dots with words behind it; more than 80 words.

use base::Fault;

use super::choice::{choice, words};
use crate::question::Question;

const FEWEST_WORDS: usize = 3;
const MOST_WORDS: usize = 80;

/// Finds a stem that leaves the candidate to guess what is asked.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let stem = question.kind.stem();
    let count = words(stem).count();
    let weakness = |rule, what: String, hint: &str| {
        let what = format!("the stem of \"{}\" {what}", question.id);
        Some(Fault::weakness(rule, question.place.clone(), what).hint(hint))
    };
    if blank_within(stem) {
        return weakness(
            "L15-blank-within",
            "has its blank before its end (L15, HDR 14)".to_owned(),
            "ask a question, or move the blank to the end, so that the sentence is read once",
        );
    }
    if choice(question).is_some() && count < FEWEST_WORDS && !stem.contains('?') {
        return weakness(
            "L15-stem-asks-nothing",
            format!(
                "is \"{}\": what is asked shows only in the options (L15, HDR 15)",
                stem.trim()
            ),
            "say in the stem what is asked, so that it can be answered with the options covered",
        );
    }
    if count > MOST_WORDS {
        return weakness(
            "L15-long-stem",
            format!("has {count} words, more than {MOST_WORDS} (L15, HDR 13 and 16)"),
            "strike out what nobody needs for the answer",
        );
    }
    None
}

/// Whether a row of two underscores or more, or of three dots, has words behind it.
fn blank_within(stem: &str) -> bool {
    let mark = ["__", "...", "…"]
        .iter()
        .filter_map(|mark| stem.rfind(mark))
        .max();
    mark.and_then(|at| stem.get(at..))
        .is_some_and(|rest| words(rest).any(|word| word.chars().any(char::is_alphanumeric)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn stems_that_ask_nothing_are_found() {
        let rule = |stem: &str| find(&best_answer(stem, &["a", "b"])).map(|f| f.rule);
        assert_eq!(rule("Rum:"), Some("L15-stem-asks-nothing"));
        assert_eq!(rule("Why?"), None);
        assert_eq!(rule("Rum is made from ____."), None);
        assert_eq!(rule("Rum is made from …"), None);
        assert_eq!(
            rule("Rum from ____ is made in France."),
            Some("L15-blank-within")
        );
        assert_eq!(rule(&"long ".repeat(81)), Some("L15-long-stem"));
        assert_eq!(rule(&"long ".repeat(80)), None);
    }
}
