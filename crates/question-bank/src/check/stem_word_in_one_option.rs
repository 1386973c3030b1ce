//! L07: a word of the stem of four letters or more (common words and the endings -ing, -ed, -es, -s
//! left out of account) stands in exactly one option (HDR 28b).

use base::Fault;

use super::choice::{choice, small_words};
use crate::question::Question;

const COMMON: [&str; 34] = [
    "about",
    "been",
    "being",
    "called",
    "does",
    "following",
    "from",
    "have",
    "into",
    "kind",
    "made",
    "more",
    "most",
    "named",
    "over",
    "than",
    "that",
    "their",
    "then",
    "there",
    "these",
    "they",
    "this",
    "those",
    "type",
    "under",
    "used",
    "using",
    "what",
    "when",
    "where",
    "which",
    "whose",
    "with",
];

/// Finds a word that joins the stem to one option.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let choice = choice(question)?;
    choice.only_key?;
    let options: Vec<Vec<String>> = choice
        .options
        .iter()
        .map(|option| {
            small_words(&option.text)
                .iter()
                .map(|word| stem_of(word).to_owned())
                .collect()
        })
        .collect();
    let stem_words = small_words(choice.stem);
    let word = stem_words.iter().find(|word| {
        let counts = word.chars().count() >= 4 && !COMMON.contains(&word.as_str());
        let stem = stem_of(word);
        counts
            && options
                .iter()
                .filter(|words| words.iter().any(|w| w == stem))
                .count()
                == 1
    })?;
    Some(
        Fault::weakness(
            "L07-stem-word-in-one-option",
            question.place.clone(),
            format!(
                "\"{word}\" of the stem of \"{}\" stands in one option only (L07)",
                question.id
            ),
        )
        .hint("the echo points at that option; use the word in all options or in none"),
    )
}

/// The word without a common ending.
fn stem_of(word: &str) -> &str {
    ["ing", "ed", "es", "s"]
        .iter()
        .find_map(|ending| word.strip_suffix(ending))
        .filter(|stem| stem.chars().count() >= 3)
        .unwrap_or(word)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn an_echo_in_one_option_is_found() {
        let found = |stem, options: &[&str]| find(&best_answer(stem, options)).is_some();
        assert!(found(
            "What do casks give?",
            &["The cask's wood", "Cask wood", "Steel"]
        ));
        assert!(!found(
            "What do casks give?",
            &["Cask wood", "Casks of steel"]
        ));
        assert!(!found("Which type is it?", &["This type", "That"]));
        assert!(!found("Is it rum?", &["Rum", "Gin"]), "three letters");
    }
}
