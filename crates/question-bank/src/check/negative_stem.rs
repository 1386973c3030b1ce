//! L01: the stem has a negative word or one that ends in n't; "at least" is exempt. Said apart
//! where the word stands in capitals (HDR 17).

use base::Fault;

use super::choice::{choice, words};
use crate::question::Question;

const NEGATIVE: [&str; 10] = [
    "except",
    "false",
    "incorrect",
    "least",
    "neither",
    "never",
    "no",
    "nor",
    "not",
    "without",
];

/// Finds a negative stem.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let choice = choice(question)?;
    let mut before = String::new();
    let mut plain = None;
    let mut emphasised = None;
    for word in words(choice.stem) {
        let small = word.to_lowercase();
        let exempt = small == "least" && before == "at";
        let negative =
            NEGATIVE.contains(&small.as_str()) || small.ends_with("n't") || small.ends_with("n’t");
        if negative && !exempt {
            let in_capitals = word.chars().any(char::is_alphabetic) && word.to_uppercase() == word;
            let slot = if in_capitals {
                &mut emphasised
            } else {
                &mut plain
            };
            slot.get_or_insert(word);
        }
        before = small;
    }
    let (rule, word) = match (plain, emphasised) {
        (Some(word), _) => ("L01-negative", word),
        (None, Some(word)) => ("L01-negative-emphasised", word),
        (None, None) => return None,
    };
    Some(
        Fault::weakness(
            rule,
            question.place.clone(),
            format!(
                "the stem of \"{}\" is negative: \"{word}\" (L01)",
                question.id
            ),
        )
        .hint("ask for what is so; a reader under strain overlooks the negation"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn negations_are_found_and_at_least_is_none() {
        for (stem, rule) in [
            ("Which isn't a rum?", Some("L01-negative")),
            ("Which isn’t a rum?", Some("L01-negative")),
            ("Which is NOT a rum, without doubt?", Some("L01-negative")),
            ("Which is NOT a rum?", Some("L01-negative-emphasised")),
            ("How long, at least, must it rest?", None),
            ("What is the least strength?", Some("L01-negative")),
            ("Which notes are known?", None),
        ] {
            let found = find(&best_answer(stem, &["a", "b"]));
            assert_eq!(found.map(|fault| fault.rule), rule, "{stem}");
        }
    }
}
