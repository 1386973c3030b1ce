//! L12: the key is hedged and no distractor is. Words such as "usually" or "may" make a statement
//! hard to contradict, and a test-wise candidate takes it for right: the counterpart of the
//! absolute words of L06 (HDR 28a, specific determiners; from memory).

use base::Fault;

use super::choice::{choice, small_words};
use crate::question::Question;

const HEDGES: [&str; 14] = [
    "commonly",
    "frequently",
    "generally",
    "may",
    "might",
    "normally",
    "occasionally",
    "often",
    "probably",
    "seldom",
    "sometimes",
    "tends",
    "typically",
    "usually",
];

/// Finds a hedge that only the key has.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let choice = choice(question)?;
    let key = choice.only_key?;
    let hedge = |text: &str| {
        small_words(text)
            .into_iter()
            .find(|word| HEDGES.contains(&word.as_str()))
    };
    let word = hedge(&key.text)?;
    let in_others = choice
        .options
        .iter()
        .any(|option| !option.key && hedge(&option.text).is_some());
    (!in_others).then(|| {
        Fault::weakness(
            "L12-hedged-key",
            question.place.clone(),
            format!(
                "only the key of \"{}\" is hedged, with \"{word}\" (L12, HDR 28)",
                question.id
            ),
        )
        .hint("say the key plainly, or hedge a distractor as well")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn a_hedge_that_only_the_key_has_is_found() {
        let found = |options: &[&str]| find(&best_answer("What?", options)).is_some();
        assert!(found(&["It may cloud", "It clouds"]));
        assert!(!found(&["It may cloud", "It often clears"]));
        assert!(!found(&["It clouds", "It may clear"]));
        assert!(!found(&["In the month of Mayhem", "June"]));
    }
}
