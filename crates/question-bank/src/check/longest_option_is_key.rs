//! L05: the key is the only longest option, longer than one and a half times the mean of the
//! distractors, and by ten characters or more longer than any of them (HDR 24).

use base::Fault;

use super::choice::choice;
use crate::question::Question;

/// Finds a key that shows by its length.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let choice = choice(question)?;
    let length = |text: &str| text.chars().count();
    let key = length(&choice.only_key?.text);
    let others: Vec<usize> = choice
        .options
        .iter()
        .filter(|option| !option.key)
        .map(|option| length(&option.text))
        .collect();
    let longest = *others.iter().max()?;
    let sum: usize = others.iter().sum();
    // key > 1.5 × sum / n, in whole numbers
    let stands_out = 2 * key * others.len() > 3 * sum && key >= longest + 10;
    stands_out.then(|| {
        Fault::weakness(
            "L05-key-longest",
            question.place.clone(),
            format!(
                "the key of \"{}\" has {key} characters, the longest other option {longest} (L05)",
                question.id
            ),
        )
        .hint("make all options about as long")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn both_bounds_must_be_passed() {
        let x = |n| "x".repeat(n);
        let found = |key, a, b| find(&best_answer("What?", &[&x(key), &x(a), &x(b)])).is_some();
        assert!(found(30, 20, 19));
        assert!(!found(30, 20, 20), "not more than 1.5 times the mean");
        assert!(!found(29, 20, 5), "only nine longer than the longest");
        assert!(found(14, 4, 4));
    }
}
