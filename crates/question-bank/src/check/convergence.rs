//! L11: convergence. The distractors resemble the key and not each other, so that the key is the
//! option with most in common with all the others (HDR 28e, from memory: pairs or triplets of
//! options that clue the test-taker).
//!
//! Definition of this project: words that all options have are left out, and so are words of
//! grammar; then at least two distractors each share a word with the key that no other distractor
//! has, and no two distractors share a word that the key lacks. A balanced design of two by two
//! options passes.

use std::collections::BTreeSet;

use base::Fault;

use super::choice::choice;
use super::word_weight::{compared_words, tells};
use crate::question::Question;

/// Finds a key on which the options converge.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let choice = choice(question)?;
    choice.only_key?;
    let mut key = BTreeSet::new();
    let mut others: Vec<BTreeSet<String>> = Vec::new();
    for option in choice.options {
        let words = compared_words(&option.text);
        let words = words.into_iter().filter(|word| tells(word)).collect();
        if option.key {
            key = words;
        } else {
            others.push(words);
        }
    }
    let holders = |word: &str| others.iter().filter(|set| set.contains(word)).count();
    let beside_the_key = others
        .iter()
        .flatten()
        .any(|word| !key.contains(word) && holders(word) > 1);
    if beside_the_key {
        return None;
    }
    let linked: Vec<&str> = others
        .iter()
        .filter_map(|set| {
            set.iter()
                .find(|word| key.contains(*word) && holders(word) == 1)
        })
        .map(String::as_str)
        .collect();
    let [first, second, ..] = linked.as_slice() else {
        return None;
    };
    Some(
        Fault::weakness(
            "L11-convergence",
            question.place.clone(),
            format!(
                "the distractors of \"{}\" take \"{first}\" and \"{second}\" from the key, each its own part, and have nothing else in common (L11, HDR 28)",
                question.id
            ),
        )
        .hint("who picks the option that has most of the others in it is right without knowing; let two distractors share a word that the key lacks"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn a_key_in_the_middle_of_its_distractors_is_found() {
        let found = |options: &[&str]| find(&best_answer("What?", options)).is_some();
        assert!(found(&["Copper pot", "Steel pot", "Copper column"]));
        assert!(!found(&[
            "Copper pot",
            "Steel pot",
            "Copper column",
            "Steel column"
        ]));
        assert!(!found(&["Copper pot", "Steel pot", "Steel column"]));
        assert!(!found(&["Copper", "Steel", "Oak"]));
        assert!(!found(&["5 years", "3 years", "12 years"]));
    }
}
