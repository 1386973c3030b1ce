//! L04: an option names other options by letter or number, as in "A and C only" (HDR 9).

use base::Fault;

use super::choice::{choice, small_words};
use crate::question::Question;

/// Words that may stand between the names of options.
const BETWEEN: [&str; 10] = [
    "and", "or", "both", "only", "either", "neither", "nor", "but", "not", "options",
];

/// Finds such an option.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let options = choice(question)?.options;
    let option = options
        .iter()
        .find(|o| names_options(&o.text, options.len()))?;
    Some(
        Fault::weakness(
            "L04-options-named",
            question.place.clone(),
            format!(
                "an option of \"{}\" names others: \"{}\" (L04)",
                question.id, option.text
            ),
        )
        .hint("options are shuffled and letters change; make it a multiple_response question"),
    )
}

/// Two or more letters or numbers of options, and nothing else but joining words.
fn names_options(text: &str, options: usize) -> bool {
    let words = small_words(text);
    let names = |word: &&String| match word.chars().next() {
        Some(letter) if word.chars().count() == 1 => match letter.to_digit(36) {
            Some(digit @ 1..=9) => usize::try_from(digit).is_ok_and(|n| n <= options),
            Some(place @ 10..) => usize::try_from(place - 10).is_ok_and(|n| n < options),
            Some(_) | None => false,
        },
        Some(_) | None => false,
    };
    let named = words.iter().filter(names).count();
    let joining = words
        .iter()
        .filter(|w| BETWEEN.contains(&w.as_str()))
        .count();
    named >= 2 && joining >= 1 && named + joining == words.len()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn letters_and_numbers_of_options_are_found() {
        for option in ["A and B", "both a and c", "1 and 3 only", "Neither A nor B"] {
            assert!(
                find(&best_answer("What?", &["x", "y", option])).is_some(),
                "{option}"
            );
        }
        for option in ["1 and 9", "2", "A cask and a still", "1 to 2 %", "X and Y"] {
            assert!(
                find(&best_answer("What?", &["x", "y", option])).is_none(),
                "{option}"
            );
        }
    }
}
