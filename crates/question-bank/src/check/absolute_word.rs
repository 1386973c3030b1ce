//! L06: an option has an absolute word such as "always"; a test-wise candidate strikes it out
//! (HDR 28a). "All of the above" and "none of the above" have their own rules.

use base::Fault;

use super::all_of_the_above::is_all_of_the_above;
use super::choice::{choice, small_words};
use super::none_of_the_above::is_none_of_the_above;
use crate::question::Question;

const ABSOLUTE: [&str; 11] = [
    "absolutely",
    "all",
    "always",
    "completely",
    "entirely",
    "every",
    "invariably",
    "must",
    "never",
    "none",
    "only",
];

/// Finds an absolute word, in a distractor first.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let options = choice(question)?.options;
    let absolute = |key: bool| {
        options
            .iter()
            .filter(|o| o.key == key)
            .filter(|o| !is_all_of_the_above(&o.text) && !is_none_of_the_above(&o.text))
            .flat_map(|o| small_words(&o.text))
            .find(|word| ABSOLUTE.contains(&word.as_str()))
    };
    let (rule, where_at, word) = match (absolute(false), absolute(true)) {
        (Some(word), _) => ("L06-absolute-in-distractor", "a distractor", word),
        (None, Some(word)) => ("L06-absolute-in-key", "the key", word),
        (None, None) => return None,
    };
    Some(
        Fault::weakness(
            rule,
            question.place.clone(),
            format!(
                "{where_at} of \"{}\" has the word \"{word}\" (L06)",
                question.id
            ),
        )
        .hint("test-wise candidates take absolute statements for wrong; say it without"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn absolute_words_are_found_whole() {
        let rule = |options: &[&str]| find(&best_answer("What?", options)).map(|f| f.rule);
        assert_eq!(
            rule(&["Only oak", "Every cask"]),
            Some("L06-absolute-in-distractor")
        );
        assert_eq!(rule(&["Only oak", "A cask"]), Some("L06-absolute-in-key"));
        assert_eq!(rule(&["Overall", "Mustard"]), None);
        assert_eq!(rule(&["Oak", "All of the above"]), None);
    }
}
