//! L08: the stem ends in "a" or "an" and not every option fits it, by the letter with which it
//! begins (HDR 28c).

use base::Fault;

use super::choice::{choice, words};
use crate::question::Question;

/// Finds a stem whose last article gives options away.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let choice = choice(question)?;
    let last = words(choice.stem).last()?.to_lowercase();
    // "a(n)" and "a/an" fit everything.
    let before_vowel = match last.as_str() {
        "an" if !choice.stem.to_lowercase().contains("a/an") => true,
        "a" => false,
        _ => return None,
    };
    let misfit = choice.options.iter().find(|option| {
        let first = option.text.chars().find(|c| c.is_alphanumeric());
        let vowel = first.is_some_and(|c| "aeiou".contains(c.to_ascii_lowercase()));
        vowel != before_vowel
    })?;
    Some(
        Fault::weakness(
            "L08-article-cue",
            question.place.clone(),
            format!(
                "the stem of \"{}\" ends in \"{last}\", which \"{}\" does not fit (L08)",
                question.id, misfit.text
            ),
        )
        .hint("put the article into the options, or end the stem in a question"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn an_article_that_fits_all_options_is_no_cue() {
        let found = |stem, options: &[&str]| find(&best_answer(stem, options)).is_some();
        assert!(found("It is an …", &["agave", "rye"]));
        assert!(found("It is a", &["agave", "rye"]));
        assert!(!found("It is a", &["grain", "rye"]));
        assert!(!found("It is a/an", &["agave", "rye"]));
        assert!(!found("It is a(n)", &["agave", "rye"]));
        assert!(!found("What is it?", &["agave", "rye"]));
    }
}
