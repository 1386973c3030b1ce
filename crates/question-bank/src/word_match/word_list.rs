//! Parts an answer that names several words, and finds the lexicon's word for each.

use super::{Resolved, fold, resolve};
use crate::lexicon::Lexicon;

/// Signs that part one word of an answer from the next.
pub const SEPARATORS: [char; 8] = [';', ',', '/', '\n', '\r', '\t', '•', '|'];

/// Words that join two descriptors.
const JOINERS: [&str; 6] = ["and", "with", "plus", "but", "then", "also"];

/// Parts a text at separators, at "&" and "+", and at joining words such as "and" and "with".
///
/// What follows a denial is parted at "but" only: "no smoke and peat" may deny both, so it stays
/// whole, for a person.
#[must_use]
pub fn split_words(text: &str) -> Vec<&str> {
    text.split(SEPARATORS)
        .flat_map(parted_at_joiners)
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect()
}

/// Parts one piece at the words and signs that join.
fn parted_at_joiners(piece: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut begin = 0;
    let mut denied = false;
    let mut at = 0;
    for token in piece.split_inclusive(|c: char| c.is_whitespace() || c == '&' || c == '+') {
        let end = at + token.len();
        let word = token.trim_end_matches(|c: char| c.is_whitespace() || c == '&' || c == '+');
        let small = word.to_lowercase();
        let but = small == "but";
        if JOINERS.contains(&small.as_str()) && (but || !denied) {
            parts.extend(piece.get(begin..at));
            begin = end;
            denied &= !but;
        } else if token.ends_with(['&', '+']) && !denied {
            parts.extend(piece.get(begin..at + word.len()));
            begin = end;
        }
        denied |= matches!(
            small.as_str(),
            "no" | "not" | "non" | "neither" | "without" | "lacks" | "lacking" | "never" | "zero"
        ) || small.ends_with("n't")
            || small.ends_with("n’t");
        at = end;
    }
    parts.extend(piece.get(begin..));
    parts
}

/// One piece of an answer as one word; or, where it is none, as the words joined in it, if each of
/// them is recognised. Otherwise the whole piece is unknown.
#[must_use]
pub fn resolve_piece<'t>(lexicon: &Lexicon, piece: &'t str) -> Vec<(&'t str, Resolved)> {
    let whole = resolve(lexicon, piece);
    if whole.is_recognised() {
        return vec![(piece, whole)];
    }
    let parts: Vec<(&str, Resolved)> = split_words(piece)
        .into_iter()
        .map(|part| (part, resolve(lexicon, part)))
        .collect();
    if parts.len() > 1 && parts.iter().all(|(_, resolved)| resolved.is_recognised()) {
        parts
    } else {
        vec![(piece, whole)]
    }
}

/// All words of an answer with what they are, in the order written; a word that stands twice is
/// given twice.
#[must_use]
pub fn resolve_list<'t>(lexicon: &Lexicon, answer: &'t str) -> Vec<(&'t str, Resolved)> {
    answer
        .split(SEPARATORS)
        .map(str::trim)
        .filter(|piece| !fold(piece).is_empty())
        .flat_map(|piece| resolve_piece(lexicon, piece))
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn lists_are_parted_and_denials_kept_whole() {
        for (text, parts) in [
            ("apple and pear", &["apple", "pear"] as &[&str]),
            ("Apple AND pear", &["Apple", "pear"]),
            ("apple & pear", &["apple", "pear"]),
            ("apple&pear+fig", &["apple", "pear", "fig"]),
            ("apple, pear; fig/oak", &["apple", "pear", "fig", "oak"]),
            ("apple with a hint of smoke", &["apple", "a hint of smoke"]),
            ("no smoke and peat", &["no smoke and peat"]),
            ("no smoke but peat and oak", &["no smoke", "peat", "oak"]),
            ("oak but no smoke", &["oak", "no smoke"]),
            ("oak and no smoke or peat", &["oak", "no smoke or peat"]),
            ("candy", &["candy"]),
            ("and", &[]),
            (" ; ", &[]),
        ] {
            assert_eq!(split_words(text), parts, "{text}");
        }
    }

    proptest! {
        #[test]
        fn parts_stand_in_the_text_in_order(text in "(and|with|no|but|&|[+;, ]|[a-zé]{1,5}| ){0,12}") {
            let mut rest = text.as_str();
            for part in split_words(&text) {
                let at = rest.find(part);
                prop_assert!(at.is_some());
                rest = &rest[at.unwrap() + part.len()..];
            }
        }
    }
}
