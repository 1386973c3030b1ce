//! Finds the lexicon's word for what a person wrote: case, accents, plurals, word order, phrases
//! such as "notes of", denials and small slips. What is not clear stays unknown and is never
//! guessed.

use std::collections::BTreeSet;

mod ordinary_word;
mod phrase;
mod slip;
mod spelling_index;
mod word_form;
mod word_list;

pub use crate::folded_text::fold;
pub(crate) use spelling_index::SpellingIndex;
pub use word_list::{SEPARATORS, resolve_list, resolve_piece, split_words};

use crate::lexicon::{Entry, Form, Lexicon, WordPlace};
use ordinary_word::is_ordinary;
use phrase::{Said, denied_within, said, without_phrase};
use slip::{alike, slip_of};
use word_form::forms;

/// What a written word is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Resolved {
    /// A word of the lexicon.
    Known {
        /// The lexicon's main word.
        word: String,
        /// How it was recognised, and so how sure that is.
        how: How,
    },
    /// A word of the lexicon that the text says is not there: "no smoke", "unpeated". It counts as
    /// not written.
    Negated {
        /// The lexicon's main word.
        word: String,
        /// How the word that is denied was recognised.
        how: How,
    },
    /// Not recognised: for a person.
    Unknown {
        /// At most three main words that may be meant, likeliest first.
        near: Vec<String>,
    },
}

impl Resolved {
    /// Whether it is clear which word of the lexicon is meant, be it said or denied.
    #[must_use]
    pub const fn is_recognised(&self) -> bool {
        match self {
            Self::Known { .. } | Self::Negated { .. } => true,
            Self::Unknown { .. } => false,
        }
    }
}

/// How a word was recognised, the surest way first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum How {
    /// It is the main word, but for case, accents, hyphens and spaces.
    Exact,
    /// It is a synonym.
    Synonym,
    /// It is a regular form of the word or of a synonym: plural or singular, adjective in -y, -ed
    /// or -ish, noun in -ness, words in another order, or with a phrase such as "notes of" or
    /// "slightly" around it.
    Plural,
    /// It is a slip of the pen, and no other word is as near.
    Spelling,
}

/// A text longer than this many bytes is no descriptor.
const LONGEST: usize = 120;

/// The words of a folded form in alphabetical order, without words that only join.
pub(crate) fn arranged(folded: &str) -> String {
    let mut words: Vec<&str> = folded.split(' ').filter(|word| !joins(word)).collect();
    words.sort_unstable();
    words.join(" ")
}

/// Whether a word only joins others, so that "zest of orange" is "orange zest".
fn joins(word: &str) -> bool {
    matches!(word, "of" | "the" | "a" | "an")
}

/// Finds the lexicon's word for a written one.
///
/// In this order: the main word or a synonym; a regular form of one (plural, adjective, other
/// order of words), with phrases such as "notes of", "slightly" or "on the nose" taken off; a slip
/// of one letter in words of five to eight letters, or two in longer ones, where exactly one word
/// of the lexicon is that near (Damerau and Levenshtein, as optimal string alignment; the first
/// letter must agree). What is plainly denied ("no smoke", "smoke-free", "unpeated") is negated;
/// what is half denied ("not very smoky", "little smoke") and everything else is unknown.
#[must_use]
pub fn resolve(lexicon: &Lexicon, written: &str) -> Resolved {
    if written.len() > LONGEST {
        return Resolved::Unknown { near: Vec::new() };
    }
    if let Some(entry) = lexicon.index.get(written) {
        return known(lexicon, Recognised::form(*entry));
    }
    if misread_without_accents(written) {
        return Resolved::Unknown { near: Vec::new() };
    }
    let folded = fold(written);
    if let Some(entry) = lexicon.index.get(&folded) {
        return known(lexicon, Recognised::form(*entry));
    }
    let words: Vec<&str> = folded.split(' ').filter(|word| !word.is_empty()).collect();
    let unknown = |core: &[&str]| Resolved::Unknown {
        near: near(lexicon, core),
    };
    match said(&words) {
        Said::Unclear => unknown(&words),
        Said::Absent(denied) => match by_form(lexicon, denied) {
            Ok(recognised) => negated(lexicon, recognised),
            Err(left) => match by_slip(lexicon, &left) {
                Some(recognised) => negated(lexicon, recognised),
                None => unknown(&words),
            },
        },
        Said::Present => match by_form(lexicon, &words) {
            Ok(recognised) => known(lexicon, recognised),
            Err(left) => match denied_by_a_word(lexicon, left.core) {
                Some(recognised) => negated(lexicon, recognised),
                None => match by_slip(lexicon, &left) {
                    Some(recognised) => known(lexicon, recognised),
                    None => unknown(left.core),
                },
            },
        },
    }
}

/// Whether a text means something else than the same letters without accents: rosé is no rose.
fn misread_without_accents(written: &str) -> bool {
    matches!(written.trim().to_lowercase().as_str(), "rosé" | "rosés")
}

/// An entry and how it was recognised.
struct Recognised {
    place: WordPlace,
    how: How,
}

impl Recognised {
    fn form(entry: Entry) -> Self {
        Self {
            place: entry.place,
            how: match entry.form {
                Form::Main => How::Exact,
                Form::Synonym => How::Synonym,
                Form::Misspelling => How::Spelling,
            },
        }
    }
}

fn known(lexicon: &Lexicon, recognised: Recognised) -> Resolved {
    Resolved::Known {
        word: main_word(lexicon, recognised.place),
        how: recognised.how,
    }
}

fn negated(lexicon: &Lexicon, recognised: Recognised) -> Resolved {
    Resolved::Negated {
        word: main_word(lexicon, recognised.place),
        how: recognised.how,
    }
}

fn main_word(lexicon: &Lexicon, place: WordPlace) -> String {
    lexicon.main_word(place).unwrap_or("").to_owned()
}

/// What no entry was found for.
struct Left<'w, 't> {
    /// The words with all phrases around them taken off.
    core: &'w [&'t str],
    /// Whether they are a regular form of several entries, so that no slip is looked for.
    several: bool,
}

/// The only entry of which the words are a regular form, with all phrases around it taken off; or,
/// where there is none, the words that are left.
fn by_form<'w, 't>(lexicon: &Lexicon, words: &'w [&'t str]) -> Result<Recognised, Left<'w, 't>> {
    if let Some(entry) = lexicon.index.get(&words.join(" ")) {
        return Ok(Recognised::form(*entry));
    }
    let mut core = words;
    loop {
        match form_of(lexicon, core) {
            Found::One(place) => {
                return Ok(Recognised {
                    place,
                    how: How::Plural,
                });
            }
            Found::Several => {
                return Err(Left {
                    core,
                    several: true,
                });
            }
            Found::Nothing => {}
        }
        match without_phrase(core) {
            Some(rest) => core = rest,
            None => {
                return Err(Left {
                    core,
                    several: false,
                });
            }
        }
    }
}

/// The only entry that the words can be a slip of.
fn by_slip(lexicon: &Lexicon, left: &Left<'_, '_>) -> Option<Recognised> {
    if left.several {
        return None;
    }
    Some(Recognised {
        place: slip_of(lexicon, left.core)?,
        how: How::Spelling,
    })
}

/// What words such as "unpeated" or "smokeless" deny, alone or beside words of the lexicon
/// ("unpeated malt" denies "peated malt"). A slip is not looked for: the prefix may be one.
fn denied_by_a_word(lexicon: &Lexicon, words: &[&str]) -> Option<Recognised> {
    words.iter().enumerate().find_map(|(at, word)| {
        let mut plain = words.to_vec();
        *plain.get_mut(at)? = denied_within(word)?;
        match form_of(lexicon, &plain) {
            Found::One(place) => Some(Recognised {
                place,
                how: How::Plural,
            }),
            Found::Several | Found::Nothing => None,
        }
    })
}

/// What a search among the forms gave.
enum Found {
    Nothing,
    One(WordPlace),
    Several,
}

/// Looks for the words, or a regular form of one of them, as they stand and in another order.
fn form_of(lexicon: &Lexicon, words: &[&str]) -> Found {
    let as_written = words.join(" ");
    if let Some(place) = look_up(lexicon, &as_written) {
        return Found::One(place);
    }
    let mut found = BTreeSet::new();
    for (position, word) in words.iter().enumerate() {
        // One word at a time is varied, so all others must be words of the lexicon already.
        let mut others = words.iter().enumerate().filter(|(at, _)| *at != position);
        if !others.all(|(_, other)| lexicon.vocabulary.contains(*other) || joins(other)) {
            continue;
        }
        if is_ordinary(word) {
            continue;
        }
        for form in forms(word) {
            let mut varied: Vec<&str> = words.to_vec();
            if let Some(spot) = varied.get_mut(position) {
                *spot = &form;
            }
            found.extend(look_up(lexicon, &varied.join(" ")));
        }
    }
    let mut found = found.into_iter();
    match (found.next(), found.next()) {
        (None, _) => Found::Nothing,
        (Some(place), None) => Found::One(place),
        (Some(_), Some(_)) => Found::Several,
    }
}

fn look_up(lexicon: &Lexicon, form: &str) -> Option<WordPlace> {
    if let Some(entry) = lexicon.index.get(form) {
        return Some(entry.place);
    }
    if !form.contains(' ') {
        return None;
    }
    let arranged = arranged(form);
    lexicon
        .arranged
        .get(&arranged)
        .copied()
        .flatten()
        .or_else(|| lexicon.index.get(&arranged).map(|entry| entry.place))
}

/// At most three main words that may be meant: those named inside the text, then those to which the
/// lexicon relates it, then those with a
/// similar spelling.
fn near(lexicon: &Lexicon, words: &[&str]) -> Vec<String> {
    let mut places: Vec<WordPlace> = Vec::new();
    let mut add = |place: WordPlace| {
        if !places.contains(&place) {
            places.push(place);
        }
    };
    for length in (1..=words.len().min(4)).rev() {
        for part in words.windows(length) {
            if let Found::One(place) = form_of(lexicon, part) {
                add(place);
            }
        }
    }
    let core = words.join(" ");
    for place in lexicon.related.get(&core).into_iter().flatten() {
        add(*place);
    }
    for place in alike(lexicon, &core) {
        add(place);
    }
    places
        .into_iter()
        .take(3)
        .filter_map(|place| lexicon.main_word(place).map(str::to_owned))
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::lexicon::tests::lexicon_of;
    use proptest::prelude::*;

    fn lexicon() -> Lexicon {
        lexicon_of(&[
            &[&[
                ("apple", &["fresh apple"]),
                ("apricot", &[]),
                ("banana", &["ripe banana"]),
                ("cherry", &[]),
                ("red berries", &[]),
                ("orange peel", &["orange zest"]),
                ("melon", &[]),
                ("lemon", &[]),
                ("pear", &[]),
                ("passion fruit", &[]),
            ]],
            &[&[
                ("smoke", &["bonfire smoke"]),
                ("peat", &["peated malt"]),
                ("oak", &[]),
                ("nut", &[]),
                ("wood smoke", &[]),
                ("leaf", &[]),
                ("sherry", &[]),
                ("bitter almond", &["almond essence"]),
                ("peanut butter", &[]),
                ("crème brûlée", &[]),
                ("cinnamon", &[]),
                ("caramel", &[]),
                ("liquorice", &["licorice"]),
            ]],
        ])
        .unwrap()
    }
    fn word_and_how(written: &str) -> Option<(String, How)> {
        match resolve(&lexicon(), written) {
            Resolved::Known { word, how } => Some((word, how)),
            Resolved::Negated { .. } | Resolved::Unknown { .. } => None,
        }
    }
    fn near_of(written: &str) -> Vec<String> {
        match resolve(&lexicon(), written) {
            Resolved::Known { word, .. } | Resolved::Negated { word, .. } => {
                panic!("{written} was taken as {word}")
            }
            Resolved::Unknown { near } => near,
        }
    }

    #[test]
    fn words_are_recognised_by_the_gentlest_way_that_leads_to_them() {
        for (written, word, how) in [
            ("Apple", "apple", How::Exact),
            ("creme brulee", "crème brûlée", How::Exact),
            ("orange-peel", "orange peel", How::Exact),
            ("fresh apple", "apple", How::Synonym),
            ("apples", "apple", How::Plural),
            ("fresh apples", "apple", How::Plural),
            ("cherries", "cherry", How::Plural),
            ("red berry", "red berries", How::Plural),
            ("leaves", "leaf", How::Plural),
            ("smoky", "smoke", How::Plural),
            ("smokey", "smoke", How::Plural),
            ("nutty", "nut", How::Plural),
            ("oaky", "oak", How::Plural),
            ("peel of orange", "orange peel", How::Plural),
            ("smoke of wood", "wood smoke", How::Plural),
            ("notes of vanilla and oak", "", How::Plural),
            ("notes of oak", "oak", How::Plural),
            ("a hint of ripe bananas", "banana", How::Plural),
            ("slightly smoky", "smoke", How::Plural),
            ("a little smoke", "smoke", How::Plural),
            ("oak notes", "oak", How::Plural),
            ("bannana", "banana", How::Spelling),
            ("aprikot", "apricot", How::Spelling),
            ("cinamon", "cinnamon", How::Spelling),
            ("karamel", "caramel", How::Spelling),
            ("hint of liqorice", "liquorice", How::Spelling),
            ("passionfruit", "passion fruit", How::Spelling),
        ] {
            let expected = (!word.is_empty()).then(|| (word.to_owned(), how));
            assert_eq!(word_and_how(written), expected, "{written}");
        }
    }

    #[test]
    fn nothing_is_guessed() {
        for written in [
            "little smoke",
            "not very smoky",
            "not only smoke",
            "not without smoke",
            "no strong smoke",
            "hardly any smoke",
            "no smoke or peat",
            "no mud",
            "pare",          // four letters: no slip is taken
            "butter almond", // "butter" is a word of the lexicon
            "sherri cherry",
            "vanilla, oak",
            "smoke and wood", // two answers, not "wood smoke"
            "aple",
            "mud",
            "",
            "  ",
            "a",
        ] {
            assert_eq!(word_and_how(written), None, "{written}");
        }
        // Two words are as near: a person decides.
        let two = lexicon_of(&[&[&[("tarragon", &[]), ("taragone", &[])]]]).unwrap();
        let Resolved::Unknown { near } = resolve(&two, "taragon") else {
            panic!("guessed between two");
        };
        assert_eq!(near.len(), 2);
    }

    #[test]
    fn what_is_plainly_denied_is_negated() {
        for (written, word, how) in [
            ("no smoke", "smoke", How::Exact),
            ("NOT smoky", "smoke", How::Plural),
            ("without any smoke", "smoke", How::Exact),
            ("smoke-free", "smoke", How::Exact),
            ("free of smoke", "smoke", How::Exact),
            ("isn't smoky", "smoke", How::Plural),
            ("isn’t smoky at all", "smoke", How::Plural),
            ("it is not smoky", "smoke", How::Plural),
            ("no trace of smoke", "smoke", How::Plural),
            ("absence of oak", "oak", How::Exact),
            ("smokeless", "smoke", How::Plural),
            ("unpeated", "peat", How::Plural),
            ("unpeated malt", "peat", How::Plural),
            ("no almond essence", "bitter almond", How::Synonym),
            ("no bannana", "banana", How::Spelling),
        ] {
            let expected = Resolved::Negated {
                word: word.to_owned(),
                how,
            };
            assert_eq!(resolve(&lexicon(), written), expected, "{written}");
        }
    }

    #[test]
    fn unknown_words_come_with_near_ones() {
        assert_eq!(near_of("not very smoky").first().unwrap(), "smoke");
        assert_eq!(near_of("wild apple skin").first().unwrap(), "apple");
        assert_eq!(near_of("aple").first().unwrap(), "apple");
        assert!(near_of("qqqqqq").is_empty());
        assert!(near_of(&"x".repeat(5000)).is_empty());
    }

    proptest! {
        #[test]
        fn any_text_resolves_without_panic_to_a_lexicon_word_or_none(text in ".{0,60}") {
            let lexicon = lexicon();
            match resolve(&lexicon, &text) {
                Resolved::Known { word, .. } | Resolved::Negated { word, .. } => prop_assert!(lexicon.place_of(&word).is_some()),
                Resolved::Unknown { near } => {
                    prop_assert!(near.len() <= 3);
                    for word in near {
                        prop_assert!(lexicon.place_of(&word).is_some());
                    }
                }
            }
        }
    }
}
