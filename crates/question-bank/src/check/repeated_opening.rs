//! L18: all options begin with the same three words, which belong into the stem (HDR 15).

use base::Fault;

use super::choice::{choice, small_words};
use crate::question::Question;

/// Finds an opening that all options share.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let options = choice(question)?.options;
    let openings: Option<Vec<Vec<String>>> = options
        .iter()
        .map(|option| Some(small_words(&option.text).get(..3)?.to_vec()))
        .collect();
    let openings = openings.filter(|openings| openings.len() >= 2)?;
    let first = openings.first()?;
    openings.iter().all(|opening| opening == first).then(|| {
        Fault::weakness(
            "L18-repeated-words",
            question.place.clone(),
            format!(
                "all options of \"{}\" begin with \"{}\" (L18)",
                question.id,
                first.join(" ")
            ),
        )
        .hint("move these words into the stem")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn three_words_in_all_options_are_found() {
        let found = |options: &[&str]| find(&best_answer("What?", options)).is_some();
        assert!(found(&["A cask of oak", "a cask, of steel"]));
        assert!(!found(&["A cask of oak", "A cask for steel"]));
        assert!(!found(&["A cask", "A cask"]));
    }
}
