//! L03: an option is "none of the above" (HDR 25).

use base::Fault;

use super::choice::choice;
use crate::question::Question;
use crate::word_match::fold;

const FORMS: [&str; 4] = [
    "none of the above",
    "none of these",
    "none of them",
    "neither of the above",
];

/// Whether an option denies all others.
pub(super) fn is_none_of_the_above(option: &str) -> bool {
    FORMS.contains(&fold(option).as_str())
}

/// Finds such an option.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let options = choice(question)?.options;
    let option = options.iter().find(|o| is_none_of_the_above(&o.text))?;
    Some(
        Fault::weakness(
            "L03-none-of-above",
            question.place.clone(),
            format!(
                "an option of \"{}\" is \"{}\" (L03)",
                question.id, option.text
            ),
        )
        .hint("it shows what a candidate knows to be wrong, not what is right; name the answer"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn options_that_deny_the_others_are_found() {
        assert!(find(&best_answer("What?", &["a", "None of these"])).is_some());
        assert!(find(&best_answer("What?", &["a", "None"])).is_none());
    }
}
