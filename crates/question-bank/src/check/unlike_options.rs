//! L13: the options are not of one kind. Some are quantities and others are none, or quantities
//! stand in different units (HDR 23: options homogeneous in content and grammar).
//!
//! Definition of this project: a quantity is a number with at most three words behind it. An option
//! that denies ("none", "no limit", "any strength") goes with quantities.

use std::collections::BTreeSet;

use base::Fault;

use super::choice::{choice, small_words};
use crate::question::Question;

const GO_WITH_QUANTITIES: [&str; 10] = [
    "any",
    "half",
    "neither",
    "never",
    "no",
    "none",
    "nothing",
    "same",
    "unlimited",
    "without",
];

/// Finds options that are not alike.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let options = choice(question)?.options;
    let units: Vec<Option<String>> = options.iter().map(|option| unit(&option.text)).collect();
    let quantities = units.iter().flatten().count();
    let odd = options.iter().zip(&units).find(|(option, unit)| {
        let words = small_words(&option.text);
        unit.is_none()
            && !option.text.chars().any(|c| c.is_ascii_digit())
            && !words
                .iter()
                .any(|word| GO_WITH_QUANTITIES.contains(&word.as_str()))
    });
    if let (true, Some((odd, _))) = (quantities >= 2, odd) {
        return Some(
            Fault::weakness(
                "L13-mixed-options",
                question.place.clone(),
                format!(
                    "{quantities} options of \"{}\" are quantities and \"{}\" is none (L13, HDR 23)",
                    question.id, odd.text
                ),
            )
            .hint("make all options of one kind: the odd one out is struck out or chosen for its look"),
        );
    }
    let named: BTreeSet<&str> = units
        .iter()
        .flatten()
        .map(String::as_str)
        .filter(|unit| !unit.is_empty())
        .collect();
    if quantities < options.len() || named.len() < 2 {
        return None;
    }
    let named: Vec<&str> = named.into_iter().collect();
    Some(
        Fault::weakness(
            "L13-mixed-units",
            question.place.clone(),
            format!(
                "the quantities among the options of \"{}\" stand in {} (L13, HDR 23)",
                question.id,
                named.join(" and in ")
            ),
        )
        .hint("give all of them in one unit, or the question asks for a conversion besides"),
    )
}

/// The unit of a quantity, in the singular; empty for a bare number or a date; none for what is no
/// quantity.
fn unit(text: &str) -> Option<String> {
    let text = text
        .trim()
        .trim_start_matches(['-', '+', '<', '>', '≤', '≥', '\u{2212}', ' ']);
    if !text.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let rest = text.trim_start_matches(|c: char| {
        c.is_ascii_digit() || matches!(c, '.' | ',' | ' ' | '\u{a0}')
    });
    if rest.split_whitespace().count() > 3 || rest.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let first = rest.split_whitespace().next().unwrap_or("");
    // "31 March" is a date.
    if first.chars().count() > 2 && first.starts_with(char::is_uppercase) {
        return Some(String::new());
    }
    let first = first.to_lowercase();
    let first = first.trim_end_matches([',', ';', '.']);
    if matches!(first, "or" | "to" | "and" | "at" | "of" | "–") {
        return Some(String::new());
    }
    let single = first.strip_suffix('s').filter(|unit| unit.len() > 2);
    Some(single.unwrap_or(first).to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn options_of_two_kinds_and_of_two_units_are_found() {
        let rule = |options: &[&str]| find(&best_answer("What?", options)).map(|f| f.rule);
        assert_eq!(
            rule(&["3 years", "5 years", "Oak"]),
            Some("L13-mixed-options")
        );
        assert_eq!(rule(&["3 years", "5 years", "No minimum"]), None);
        assert_eq!(
            rule(&["3 years", "36 weeks", "1 year"]),
            Some("L13-mixed-units")
        );
        assert_eq!(rule(&["3 years", "1 year", "2 years"]), None);
        assert_eq!(rule(&["40", "80", "12"]), None);
        assert_eq!(rule(&["31 March", "30 June", "1 July"]), None);
        assert_eq!(rule(&["Oak", "Ash", "3 kinds of wood at once"]), None);
    }
}
