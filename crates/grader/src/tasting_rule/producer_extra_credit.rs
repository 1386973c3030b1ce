//! Producer, extra credit: one name of the printed list, exact but for case, accents and hyphens.
//!
//! Source: common practice, no source. Chance score: one in the length of the list; who lists
//! several gets nothing. A name that is not on the list earns nothing, even where it is near.

use base::Marks;
use question_bank::word_match::fold;

use crate::reason::Reason;
use crate::verdict::Verdict;

/// The rule's stable name.
pub const RULE: &str = "producer exact";

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(truth: &str, from: &[String], answer: &str, of: Marks) -> Verdict {
    let written = fold(answer);
    match from.iter().find(|name| fold(name) == written) {
        Some(name) if written == fold(truth) => {
            Reason::NameRight { name: name.clone() }.verdict(of, RULE)
        }
        Some(name) => Reason::NameWrong {
            name: name.clone(),
            truth: truth.to_owned(),
        }
        .verdict(Marks::ZERO, RULE),
        None => Reason::NotOnTheList {
            written: base::walk::shortened(answer.trim()),
        }
        .verdict(Marks::ZERO, RULE),
    }
}

/// What a guesser gets on average, as a share of the marks.
#[must_use]
pub fn chance_score(truth: &str, from: &[String]) -> f64 {
    let truth = fold(truth);
    if from.iter().any(|name| fold(name) == truth) {
        1.0 / from.len() as f64
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example::told;

    #[test]
    fn a_name_of_the_list_counts_and_no_other() {
        let from = ["Domaine Hérisson", "Salt Lantern"].map(str::to_owned);
        let mark = |answer| told(&mark("Domaine Hérisson", &from, answer, Marks::ONE));
        assert_eq!(mark("domaine herisson").0, "1");
        assert_eq!(
            mark("Salt Lantern").1,
            "Salt Lantern for Domaine Hérisson: no marks"
        );
        assert_eq!(
            mark("Domaine Herison").1,
            "\"Domaine Herison\" is not on the printed list: no marks"
        );
        assert!((chance_score("Salt Lantern", &from) - 0.5).abs() < 1e-15);
    }
}
