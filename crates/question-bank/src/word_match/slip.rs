//! Slips of the pen: which form of the lexicon a text can be a misspelling of, and which are
//! spelled much like it.

use std::collections::BTreeSet;

use super::ordinary_word::is_ordinary;
use super::spelling_index::letters;
use crate::lexicon::{Lexicon, WordPlace};

/// The only entry that the words can be a slip of.
pub(super) fn slip_of(lexicon: &Lexicon, words: &[&str]) -> Option<WordPlace> {
    let joined = words.concat();
    // A slip costs each word its reach at most, and words parted otherwise one letter.
    let edits: usize = words.iter().map(|word| reach(word)).sum();
    only(
        lexicon
            .spelling
            .within(&joined, edits.max(1))
            .filter(|(form, _)| is_slip(lexicon, words, &joined, form))
            .map(|(_, place)| place),
    )
}

/// Places of forms spelled much like the text, nearest first: an edit for each four letters begun,
/// three at most.
pub(super) fn alike(lexicon: &Lexicon, text: &str) -> Vec<WordPlace> {
    let reach = reach_of_text(text);
    nearest(text, reach, lexicon.spelling.within(text, reach))
}

fn reach_of_text(text: &str) -> usize {
    letters(text).div_ceil(4).clamp(1, 3)
}

/// The only place among these; none where there is none or several.
fn only(places: impl Iterator<Item = WordPlace>) -> Option<WordPlace> {
    let found: BTreeSet<WordPlace> = places.collect();
    let mut found = found.into_iter();
    match (found.next(), found.next()) {
        (Some(place), None) => Some(place),
        (None | Some(_), _) => None,
    }
}

fn nearest<'f>(
    text: &str,
    reach: usize,
    forms: impl Iterator<Item = (&'f str, WordPlace)>,
) -> Vec<WordPlace> {
    let length = letters(text);
    let mut found: Vec<(usize, WordPlace)> = forms
        .filter(|(form, _)| letters(form).abs_diff(length) <= reach)
        .map(|(form, place)| (strsim::osa_distance(text, form), place))
        .filter(|(distance, _)| *distance <= reach)
        .collect();
    found.sort_unstable();
    found.into_iter().map(|(_, place)| place).collect()
}

fn is_slip(lexicon: &Lexicon, words: &[&str], joined: &str, form: &str) -> bool {
    if form.split(' ').count() == words.len() {
        return words
            .iter()
            .zip(form.split(' '))
            .all(|(word, meant)| *word == meant || is_word_slip(lexicon, word, meant));
    }
    // Parted or joined otherwise: "bees wax", "wood smoke". No letter may differ in short ones.
    let meant: String = form.split(' ').collect();
    joined == meant
        || (letters(joined) >= 8
            && words.len() == 1
            && begins_alike(joined, &meant)
            && strsim::osa_distance(joined, &meant) <= 1)
}

/// How many letters may differ in a word.
fn reach(word: &str) -> usize {
    match letters(word) {
        0..=4 => 0,
        5..=8 => 1,
        _ => 2,
    }
}

/// Whether a single word is another one with a slip in it. A word that the lexicon uses anywhere
/// is no slip of another, no more than an ordinary word is, and "unpeated" is no slip of "peated".
fn is_word_slip(lexicon: &Lexicon, word: &str, meant: &str) -> bool {
    let reach = reach(word);
    reach > 0
        && letters(word).abs_diff(letters(meant)) <= reach
        && begins_alike(word, meant)
        && !lexicon.vocabulary.contains(word)
        && !is_ordinary(word)
        && !opposite(word, meant)
        && !opposite(meant, word)
        && strsim::osa_distance(word, meant) <= reach
}

/// Whether two words begin alike: cherry is no slip of sherry. C and k sound alike, and the first
/// two letters may have changed places.
fn begins_alike(word: &str, meant: &str) -> bool {
    let mut first = word.chars();
    let mut second = meant.chars();
    let (a, b) = (first.next(), second.next());
    let sounded = |c: Option<char>| if c == Some('k') { Some('c') } else { c };
    sounded(a) == sounded(b) || (a == second.next() && b == first.next())
}

/// Whether one word is the other with a prefix that turns its meaning round.
fn opposite(longer: &str, shorter: &str) -> bool {
    ["un", "non", "in", "im", "dis", "de"]
        .iter()
        .any(|prefix| longer.strip_prefix(prefix) == Some(shorter))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use base::SourceText;
    use proptest::prelude::*;
    use std::sync::LazyLock;

    static SHIPPED: LazyLock<Lexicon> = LazyLock::new(|| {
        let text = include_str!("../../../../question-banks/foundation/lexicon.yaml");
        let read = crate::read::read_lexicon(&SourceText::new("lexicon.yaml", text));
        read.value.unwrap()
    });

    fn every_form(lexicon: &Lexicon) -> impl Iterator<Item = (&str, WordPlace)> {
        lexicon
            .index
            .iter()
            .map(|(form, entry)| (form.as_str(), entry.place))
    }

    /// The same answers by looking at every form.
    fn slip_among_all(lexicon: &Lexicon, words: &[&str]) -> Option<WordPlace> {
        let joined = words.concat();
        only(
            every_form(lexicon)
                .filter(|(form, _)| is_slip(lexicon, words, &joined, form))
                .map(|(_, place)| place),
        )
    }
    fn alike_among_all(lexicon: &Lexicon, text: &str) -> Vec<WordPlace> {
        nearest(text, reach_of_text(text), every_form(lexicon))
    }

    proptest! {
        /// The index leaves out no form that counts: words of the lexicon with letters struck out,
        /// put in, changed or swapped, and texts of any letters.
        #[test]
        fn the_index_gives_what_a_look_at_every_form_gives(
            pick in any::<prop::sample::Index>(),
            slips in prop::collection::vec((0_usize..4, any::<prop::sample::Index>(), "[a-z ]"), 0..4),
            other in "[a-zé ]{0,14}",
        ) {
            let lexicon = &*SHIPPED;
            let forms: Vec<&str> = every_form(lexicon).map(|(form, _)| form).collect();
            let mut letters: Vec<char> = pick.get(&forms).chars().collect();
            for (what, at, letter) in slips {
                let at = at.index(letters.len() + 1);
                let letter = letter.chars().next().unwrap();
                match what {
                    0 => letters.insert(at, letter),
                    1 if at < letters.len() => letters[at] = letter,
                    2 if at < letters.len() => { letters.remove(at); }
                    3 if at + 1 < letters.len() => letters.swap(at, at + 1),
                    _ => {}
                }
            }
            let slipped: String = letters.into_iter().collect();
            for text in [slipped, other] {
                let words: Vec<&str> = text.split(' ').filter(|word| !word.is_empty()).collect();
                prop_assert_eq!(slip_of(lexicon, &words), slip_among_all(lexicon, &words));
                let text = words.join(" ");
                prop_assert_eq!(alike(lexicon, &text), alike_among_all(lexicon, &text));
            }
        }
    }
}
