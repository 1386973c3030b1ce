//! L02: an option is "all of the above" or "both of the above" (HDR 26).

use base::Fault;

use super::choice::choice;
use crate::question::Question;
use crate::word_match::fold;

const FORMS: [&str; 7] = [
    "all of the above",
    "both of the above",
    "all the above",
    "all of these",
    "both of these",
    "all of them",
    "both of them",
];

/// Whether an option takes in all others.
pub(super) fn is_all_of_the_above(option: &str) -> bool {
    FORMS.contains(&fold(option).as_str())
}

/// Finds such an option.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let options = choice(question)?.options;
    let option = options.iter().find(|o| is_all_of_the_above(&o.text))?;
    Some(
        Fault::weakness(
            "L02-all-of-above",
            question.place.clone(),
            format!("an option of \"{}\" is \"{}\" (L02)", question.id, option.text),
        )
        .hint("who knows two right options need not know the third; make it a multiple_response question"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn options_that_take_in_the_others_are_found() {
        assert!(find(&best_answer("What?", &["a", "Both of the above."])).is_some());
        assert!(find(&best_answer("What?", &["all of the cask", "above all"])).is_none());
    }
}
