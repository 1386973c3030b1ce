//! The words for aromas and flavours, in groups and families.

use std::collections::{BTreeMap, BTreeSet};

use crate::word_match::{SpellingIndex, arranged, fold};

/// A checked lexicon: every word and synonym stands once.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lexicon {
    /// Families in the order of the text.
    pub families: Vec<Family>,
    /// Folded form of every word and synonym → the main word's entry.
    pub(crate) index: BTreeMap<String, Entry>,
    /// Forms of several words with their words sorted → the entry; none where two entries have
    /// the same words in another order.
    pub(crate) arranged: BTreeMap<String, Option<WordPlace>>,
    /// Every single word that occurs in any form.
    pub(crate) vocabulary: BTreeSet<String>,
    /// Every form, ready to be searched by spelling.
    pub(crate) spelling: SpellingIndex,
    /// Folded related words → the words they may be meant for.
    pub(crate) related: BTreeMap<String, Vec<WordPlace>>,
}

/// What a folded form leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Entry {
    /// The main word's place.
    pub(crate) place: WordPlace,
    /// What the form is of it.
    pub(crate) form: Form,
}

/// What a form is of its word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Form {
    /// The main word.
    Main,
    /// A synonym.
    Synonym,
    /// A common misspelling.
    Misspelling,
}

/// Two words or synonyms of a lexicon that are the same once folded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DoubledWord {
    /// The second of them as written.
    pub word: String,
    /// The main word under which the first of them stands.
    pub stands_under: String,
    /// The first of them: its number when words and their synonyms are counted from 0 in the order
    /// of the text.
    pub first: usize,
    /// The second of them, counted likewise.
    pub second: usize,
}

/// A family of groups.
#[derive(Debug, Clone, PartialEq)]
pub struct Family {
    /// Its id.
    pub id: String,
    /// Its name as printed.
    pub name: String,
    /// Its groups in the order of the text.
    pub groups: Vec<Group>,
}

/// A group of words that have a cause or an impression in common.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Its id.
    pub id: String,
    /// Its name as printed.
    pub name: String,
    /// Why these words belong together: chemistry or perception.
    pub reason: String,
    /// Its words in the order of the text.
    pub words: Vec<Word>,
}

/// A descriptor.
#[derive(Debug, Clone, PartialEq)]
pub struct Word {
    /// The main word, as printed and as keys name it.
    pub word: String,
    /// Synonyms.
    pub synonyms: Vec<String>,
    /// Common misspellings: recognised, and told to be slips.
    pub misspellings: Vec<String>,
    /// Words that do not mean it but lead a person to it: they stay unknown, with this word near.
    pub related: Vec<String>,
}

/// Where a word stands in the lexicon.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct WordPlace {
    /// Place of the family.
    pub family: usize,
    /// Place of the group in the family.
    pub group: usize,
    /// Place of the word in the group.
    pub word: usize,
}

/// How near two descriptors are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Closeness {
    /// Different families.
    Apart,
    /// The same family.
    Family,
    /// The same group.
    Group,
    /// The same word or a synonym.
    Same,
}

impl WordPlace {
    /// How near two words are, by where they stand.
    #[must_use]
    pub fn closeness(self, other: Self) -> Closeness {
        if self.family != other.family {
            Closeness::Apart
        } else if self.group != other.group {
            Closeness::Family
        } else if self.word != other.word {
            Closeness::Group
        } else {
            Closeness::Same
        }
    }
}

impl Lexicon {
    /// Builds the lexicon from its families.
    ///
    /// # Errors
    /// Every word and synonym that stands a second time, wherever that is.
    pub fn new(families: Vec<Family>) -> Result<Self, Vec<DoubledWord>> {
        let mut lexicon = Self {
            families,
            ..Self::default()
        };
        let mut doubled = Vec::new();
        let mut numbers: BTreeMap<String, (usize, WordPlace)> = BTreeMap::new();
        let mut number = 0;
        let mut entries = Vec::new();
        for (place, word) in lexicon.words() {
            let slips = word.misspellings.iter();
            let forms = std::iter::once((&word.word, Form::Main))
                .chain(word.synonyms.iter().map(|form| (form, Form::Synonym)))
                .chain(slips.map(|form| (form, Form::Misspelling)));
            for (form, is) in forms {
                let folded = fold(form);
                if let Some((first, stands)) = numbers.get(&folded) {
                    doubled.push(DoubledWord {
                        word: form.clone(),
                        stands_under: lexicon.main_word(*stands).unwrap_or("").to_owned(),
                        first: *first,
                        second: number,
                    });
                } else {
                    numbers.insert(folded.clone(), (number, place));
                    entries.push((folded, Entry { place, form: is }));
                }
                number += 1;
            }
        }
        if !doubled.is_empty() {
            return Err(doubled);
        }
        let mut related: BTreeMap<String, Vec<WordPlace>> = BTreeMap::new();
        for (place, word) in lexicon.words() {
            for other in &word.related {
                related.entry(fold(other)).or_default().push(place);
            }
        }
        lexicon.related = related;
        for (form, entry) in entries {
            lexicon
                .vocabulary
                .extend(form.split(' ').map(str::to_owned));
            if form.contains(' ') {
                lexicon
                    .arranged
                    .entry(arranged(&form))
                    .and_modify(|found| {
                        if *found != Some(entry.place) {
                            *found = None;
                        }
                    })
                    .or_insert(Some(entry.place));
            }
            lexicon.spelling.add(&form, entry.place);
            lexicon.index.insert(form, entry);
        }
        Ok(lexicon)
    }

    /// All words with their places, in the order of the text.
    pub fn words(&self) -> impl Iterator<Item = (WordPlace, &Word)> {
        self.families.iter().enumerate().flat_map(|(family, f)| {
            f.groups.iter().enumerate().flat_map(move |(group, g)| {
                g.words.iter().enumerate().map(move |(word, w)| {
                    let place = WordPlace {
                        family,
                        group,
                        word,
                    };
                    (place, w)
                })
            })
        })
    }
    /// The family at a place.
    #[must_use]
    pub fn family(&self, place: WordPlace) -> Option<&Family> {
        self.families.get(place.family)
    }
    /// The group at a place.
    #[must_use]
    pub fn group(&self, place: WordPlace) -> Option<&Group> {
        self.family(place)?.groups.get(place.group)
    }
    /// The word at a place.
    #[must_use]
    pub fn word(&self, place: WordPlace) -> Option<&Word> {
        self.group(place)?.words.get(place.word)
    }
    /// The main word at a place, as printed.
    #[must_use]
    pub fn main_word(&self, place: WordPlace) -> Option<&str> {
        self.word(place).map(|word| word.word.as_str())
    }
    /// Where a word or synonym stands. Case, accents, hyphens and spaces do not matter; slips and
    /// plurals are the business of [`crate::word_match::resolve`].
    #[must_use]
    pub fn place_of(&self, word: &str) -> Option<WordPlace> {
        self.entry(word).map(|entry| entry.place)
    }
    /// The entry of a form, looked up as written before it is folded: main words mostly are in
    /// folded form already.
    pub(crate) fn entry(&self, word: &str) -> Option<Entry> {
        self.index
            .get(word)
            .or_else(|| self.index.get(&fold(word)))
            .copied()
    }
    /// How near two words are; none where one of them does not stand in the lexicon.
    #[must_use]
    pub fn closeness(&self, a: &str, b: &str) -> Option<Closeness> {
        Some(self.place_of(a)?.closeness(self.place_of(b)?))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
pub(crate) mod tests {
    use super::*;

    /// A word and its synonyms.
    type Written<'w> = (&'w str, &'w [&'w str]);

    /// A lexicon of these families of groups of (word, synonyms).
    pub(crate) fn lexicon_of(families: &[&[&[Written<'_>]]]) -> Result<Lexicon, Vec<DoubledWord>> {
        let families = families.iter().enumerate().map(|(f, groups)| Family {
            id: format!("f{f}"),
            name: format!("Family {f}"),
            groups: groups
                .iter()
                .enumerate()
                .map(|(g, words)| Group {
                    id: format!("g{f}-{g}"),
                    name: format!("Group {f} {g}"),
                    reason: "for the test".to_owned(),
                    words: words
                        .iter()
                        .map(|(word, synonyms)| Word {
                            word: (*word).to_owned(),
                            synonyms: synonyms.iter().map(|s| (*s).to_owned()).collect(),
                            misspellings: Vec::new(),
                            related: Vec::new(),
                        })
                        .collect(),
                })
                .collect(),
        });
        Lexicon::new(families.collect())
    }

    #[test]
    fn closeness_follows_word_group_and_family() {
        let lexicon = lexicon_of(&[
            &[
                &[("apple", &["fresh apple"]), ("pear", &[])],
                &[("raisin", &[])],
            ],
            &[&[("oak", &["oaky"])]],
        ])
        .unwrap();
        assert_eq!(
            lexicon.closeness("Apple", "fresh-apple"),
            Some(Closeness::Same)
        );
        assert_eq!(lexicon.closeness("apple", "pear"), Some(Closeness::Group));
        assert_eq!(
            lexicon.closeness("apple", "raisin"),
            Some(Closeness::Family)
        );
        assert_eq!(lexicon.closeness("apple", "oaky"), Some(Closeness::Apart));
        assert_eq!(lexicon.closeness("apple", "mud"), None);
        let place = lexicon.place_of("OAKY").unwrap();
        assert_eq!(lexicon.main_word(place), Some("oak"));
        assert_eq!(lexicon.words().count(), 4);
    }

    #[test]
    fn a_word_that_stands_twice_is_named_with_both_numbers() {
        let doubled = lexicon_of(&[&[&[("apple", &["pomme"]), ("pear", &["Pommé"])]]]).unwrap_err();
        assert_eq!(
            doubled,
            [DoubledWord {
                word: "Pommé".to_owned(),
                stands_under: "apple".to_owned(),
                first: 1,
                second: 3,
            }]
        );
    }
}
