//! L17: the stem asks for an opinion or a liking, for which no source can give a key (HDR 6).
//!
//! Definition of this project: one of the phrases below stands in it. "Best" alone is no opinion:
//! the best answer of several is what these questions ask for.

use base::Fault;

use crate::question::Question;
use crate::word_match::fold;

const OPINION: [&str; 20] = [
    "do you think",
    "do you prefer",
    "do you like",
    "would you prefer",
    "would you like",
    "in your opinion",
    "in your view",
    "your favourite",
    "your favorite",
    "your preferred",
    "finest",
    "nicest",
    "tastiest",
    "loveliest",
    "most delicious",
    "most enjoyable",
    "most beautiful",
    "most popular",
    "most famous",
    "best tasting",
];

/// Finds a stem that asks what somebody likes or thinks.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let stem = format!(" {} ", fold(question.kind.stem()));
    let phrase = OPINION
        .iter()
        .find(|phrase| stem.contains(&format!(" {phrase} ")))?;
    Some(
        Fault::weakness(
            "L17-opinion",
            question.place.clone(),
            format!(
                "the stem of \"{}\" has \"{phrase}\" (L17, HDR 6)",
                question.id
            ),
        )
        .hint("ask for what a source settles, and name who holds it where views differ"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn likings_are_found_and_best_answers_are_none() {
        let found = |stem: &str| find(&best_answer(stem, &["a", "b"])).is_some();
        assert!(found("Which rum do you prefer?"));
        assert!(found("Which is the finest oak?"));
        assert!(!found("Which answer is best?"));
        assert!(!found("Which filter is the fine one?"));
    }
}
