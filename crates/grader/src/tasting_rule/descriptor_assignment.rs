//! Aroma, flavour and water: best one-to-one matching of the candidate's words with the panel's
//! key.
//!
//! A pair is worth the key word's weight times 1 for the word or a synonym, 1/2 for the same group,
//! 1/4 for the same family; accepted words (cited by few) are paired with themselves only. The
//! total of the best assignment (Kuhn 1955) is set against the sum of the L heaviest required
//! words, L being the number of words that count, so that L perfect words reach full marks. Each
//! contradicting word takes off 15 % of the marks, down to nothing. Weights are taken in
//! thousandths, so that the mark can be computed by hand from its sentence. The shares 1/2, 1/4 and
//! 15 % are this project's choice, no source.
//!
//! What is near counts once: of several words of one group that the key does not hold, the first
//! takes part and the others earn nothing, so that a list of citrus is no better for a gin than one
//! of them. Which one takes part makes no difference, since all are equally near to every key word.
//! A word of the key, required or accepted, always takes part. This project's choice, no source.
//!
//! Where the plan says so the chance score c is taken off, (share - c) / (1 - c), held at 0; c is
//! the guesser's mean for this sample in thousandths, so that it stands in the sentence.
//!
//! Only the first L different words count, and one that contradicts or is not known has its place
//! among them. What is denied ("no smoke") counts as not written. Unknown words leave the mark open for a person; what is known counts so far.
//!
//! Chance score: the mean over draws of L different words of the lexicon from a fixed stream
//! ([`crate::chance_score`]). A lister writes one word of each of the largest families.

use base::Marks;
use question_bank::lexicon::{Closeness, WordPlace};
use question_bank::tasting_key::KeyWord;
use question_bank::word_match::{Resolved, SEPARATORS, fold, resolve_piece};
use question_bank::{Lexicon, TastingKey};

use crate::assignment::best_assignment;
use crate::award::UnknownWord;
use crate::printed_letters::is_blank;
use crate::reason::{Descriptors, Earned, FoundWord, Reason};
use crate::share::Share;
use crate::verdict::{Verdict, Why};

/// The rule's stable name for aroma and flavour.
pub const AROMA_RULE: &str = "aroma assignment";
/// The rule's stable name for what shows with water.
pub const WATER_RULE: &str = "water assignment";

/// The most words that can count, whatever a plan says.
pub const MOST_WORDS: u32 = 50;

/// A panel's key with its words looked up in the lexicon.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DescriptorKey {
    required: Vec<Weighted>,
    accepted: Vec<Weighted>,
    contradicting: Vec<WordPlace>,
    chance: u32,
}

#[derive(Debug, Clone, PartialEq)]
pub(super) struct Weighted {
    pub(super) word: String,
    pub(super) place: WordPlace,
    thousandths: u32,
}

/// What words are worth, before they are set against the full weight.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Worth {
    /// For each word its key word (required ones first, then accepted) if it earned something.
    pub paired: Vec<Option<usize>>,
    /// Millionths of weight.
    pub total: i64,
    /// How many of the words contradict the sample.
    pub contradicting: u32,
}

impl DescriptorKey {
    /// Looks the key's words up. A word that is both required and contradicting counts as required.
    #[must_use]
    pub fn new(key: &TastingKey, lexicon: &Lexicon) -> Self {
        let required = weighted(&key.required, lexicon);
        let contradicting: Vec<WordPlace> = key
            .contradicting
            .iter()
            .filter_map(|word| lexicon.place_of(word))
            .filter(|place| !required.iter().any(|word| word.place == *place))
            .collect();
        let mut accepted = weighted(&key.accepted, lexicon);
        accepted.retain(|word| !contradicting.contains(&word.place));
        Self {
            required,
            accepted,
            contradicting,
            chance: 0,
        }
    }

    /// From now on takes the chance score off every mark: a share from 0 to 1, kept in thousandths
    /// and held at 9/10, so that a full answer still earns full marks.
    pub fn take_off(&mut self, chance: f64) {
        let thousandths = Marks::ONE.credit(chance.clamp(0.0, 0.9));
        let thousandths = thousandths.map_or(0, Marks::thousandths);
        self.chance = u32::try_from(thousandths).unwrap_or(0);
    }

    /// Whether the panel supports no word at all.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.full_weight(1) == 0
    }

    /// The weight of a full answer of so many words, in millionths.
    #[must_use]
    pub fn full_weight(&self, words: u32) -> i64 {
        self.required
            .iter()
            .take(counted(words))
            .map(|word| i64::from(word.thousandths) * 1000)
            .sum()
    }

    /// Whether this word contradicts the sample.
    pub(super) fn contradicts(&self, word: WordPlace) -> bool {
        self.contradicting.contains(&word)
    }

    /// The word of the key in this column of an assignment.
    pub(super) fn at(&self, column: usize) -> Option<&Weighted> {
        self.required
            .get(column)
            .or_else(|| self.accepted.get(column.checked_sub(self.required.len())?))
    }

    fn value(&self, word: WordPlace, column: usize) -> i64 {
        let Some(key_word) = self.at(column) else {
            return 0;
        };
        let weight = i64::from(key_word.thousandths);
        let required = column < self.required.len();
        match word.closeness(key_word.place) {
            Closeness::Same => weight * 1000,
            Closeness::Group if required => weight * 500,
            Closeness::Family if required => weight * 250,
            Closeness::Group | Closeness::Family | Closeness::Apart => 0,
        }
    }

    /// Whether the panel said this word: it is required or accepted.
    fn holds(&self, word: WordPlace) -> bool {
        let mut key = self.required.iter().chain(&self.accepted);
        key.any(|key_word| key_word.place == word)
    }

    /// The words that only say again what is near: each of a group from which another word, not of
    /// the key either, stands before it.
    fn said_again(&self, words: &[WordPlace]) -> Vec<bool> {
        let mut groups: Vec<(usize, usize)> = Vec::new();
        words
            .iter()
            .map(|word| {
                let group = (word.family, word.group);
                if self.contradicting.contains(word) || self.holds(*word) {
                    return false;
                }
                let again = groups.contains(&group);
                if !again {
                    groups.push(group);
                }
                again
            })
            .collect()
    }

    /// What these different words are worth under the best assignment.
    #[must_use]
    pub fn worth(&self, words: &[WordPlace]) -> Worth {
        let contradicts = |word: &WordPlace| self.contradicting.contains(word);
        let again = self.said_again(words);
        // Each value is looked up once: the assignment asks for it many times.
        let wide = self.required.len() + self.accepted.len();
        let mut values = vec![0; words.len() * wide];
        for ((row, word), again) in values.chunks_mut(wide.max(1)).zip(words).zip(again) {
            if !again && !contradicts(word) {
                for (column, value) in row.iter_mut().enumerate() {
                    *value = self.value(*word, column);
                }
            }
        }
        let value = |row: usize, column: usize| values.get(row * wide + column).copied();
        let columns: Vec<usize> = (0..wide)
            .filter(|column| (0..words.len()).any(|row| value(row, *column) > Some(0)))
            .collect();
        let best = best_assignment(words.len(), columns.len(), |row, column| {
            let column = columns.get(column).copied();
            column.and_then(|column| value(row, column)).unwrap_or(0)
        });
        Worth {
            paired: best
                .column_of
                .iter()
                .map(|column| column.and_then(|column| columns.get(column).copied()))
                .collect(),
            total: best.total,
            contradicting: words
                .iter()
                .filter(|word| contradicts(word))
                .map(|_| 1)
                .sum(),
        }
    }

    /// The share of the marks for this worth before any chance score is taken off, where so many
    /// words count: total / full weight - 3/20 for each contradicting word, held between 0 and 1.
    #[must_use]
    pub fn share(&self, worth: &Worth, words: u32) -> Share {
        // Everything is a multiple of a quarter of a thousandth: 250 millionths.
        let full = self.full_weight(words) / 250;
        let total = (worth.total / 250).min(full);
        let part = 20 * total - 3 * i64::from(worth.contradicting) * full;
        Share::of_counts(part, usize::try_from(20 * full).unwrap_or(0))
    }
}

fn weighted(words: &[KeyWord], lexicon: &Lexicon) -> Vec<Weighted> {
    words
        .iter()
        .filter_map(|key_word| {
            Some(Weighted {
                word: key_word.word.clone(),
                place: lexicon.place_of(&key_word.word)?,
                // Weights lie between 0 and 1.
                thousandths: u32::try_from(Marks::ONE.credit(key_word.weight)?.thousandths())
                    .ok()?,
            })
        })
        .collect()
}

pub(super) fn counted(words: u32) -> usize {
    usize::try_from(words.min(MOST_WORDS)).unwrap_or(0)
}

/// An answer taken apart.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Written {
    pub(super) known: Vec<(String, WordPlace)>,
    unknown: Vec<UnknownWord>,
    /// What the candidate says is not there; it counts as not written.
    denied: Vec<String>,
    left_off: usize,
}

/// The first different words of an answer, parted by semicolon, comma, slash, tab or new line.
pub(super) fn read_words(lexicon: &Lexicon, answer: &str, words: usize) -> Written {
    let mut written = Written::default();
    let mut folded_unknown: Vec<String> = Vec::new();
    let pieces = answer
        .split(SEPARATORS)
        .map(str::trim)
        .filter(|piece| !is_blank(piece));
    for piece in pieces {
        if written.known.len() + written.unknown.len() >= words {
            // Not read any more, so that a cell of ten thousand words costs no more than a short
            // one; what was already counted is not counted as left off.
            let again = written.known.iter().any(|(text, _)| text == piece);
            written.left_off += usize::from(!again);
            continue;
        }
        for (text, resolved) in resolve_piece(lexicon, piece) {
            let full = written.known.len() + written.unknown.len() >= words;
            match resolved {
                Resolved::Known { word, .. } => {
                    let Some(place) = lexicon.place_of(&word) else {
                        continue;
                    };
                    if written.known.iter().any(|(_, known)| *known == place) {
                        continue;
                    }
                    if full {
                        written.left_off += 1;
                    } else {
                        written.known.push((base::walk::shortened(text), place));
                    }
                }
                Resolved::Negated { .. } => {
                    let text = base::walk::shortened(text);
                    if written.denied.len() < counted(MOST_WORDS) && !written.denied.contains(&text)
                    {
                        written.denied.push(text);
                    }
                }
                Resolved::Unknown { near } => {
                    let folded = fold(&base::walk::shortened(text));
                    if folded_unknown.contains(&folded) {
                        continue;
                    }
                    if full {
                        written.left_off += 1;
                    } else {
                        folded_unknown.push(folded);
                        written.unknown.push(UnknownWord {
                            word: base::walk::shortened(text),
                            near,
                        });
                    }
                }
            }
        }
    }
    written
}

/// Marks an answer that is not blank; `words` is how many count.
#[must_use]
pub fn mark(
    key: &DescriptorKey,
    lexicon: &Lexicon,
    words: u32,
    answer: &str,
    of: Marks,
    rule: &'static str,
) -> Verdict {
    if key.is_empty() {
        return Verdict::for_a_person("the panel's key holds no descriptor", Vec::new());
    }
    let written = read_words(lexicon, answer, counted(words));
    let places: Vec<WordPlace> = written.known.iter().map(|(_, place)| *place).collect();
    let worth = key.worth(&places);
    let marks = key.share(&worth, words).less(key.chance).of(of);
    let reason = reason(key, words, &written, &worth, Earned { marks, of });
    if written.unknown.is_empty() {
        return reason.verdict(marks, rule);
    }
    let mut near: Vec<String> = Vec::new();
    for word in written.unknown.iter().flat_map(|word| &word.near) {
        if !near.contains(word) {
            near.push(word.clone());
        }
    }
    Verdict::ForAPerson {
        why: Why::NotInTheLexicon(reason),
        near,
        provisional: marks,
        words: written.unknown,
    }
}

fn reason(
    key: &DescriptorKey,
    words: u32,
    written: &Written,
    worth: &Worth,
    earned: Earned,
) -> Reason {
    let mut found = Vec::new();
    let mut without_credit = Vec::new();
    let mut said_again = Vec::new();
    let places: Vec<WordPlace> = written.known.iter().map(|(_, place)| *place).collect();
    let again = key.said_again(&places);
    let mut contradicting = Vec::new();
    for (((text, place), column), again) in written.known.iter().zip(&worth.paired).zip(again) {
        if key.contradicting.contains(place) {
            contradicting.push(text.clone());
        } else if let Some(key_word) = column.and_then(|column| key.at(column)) {
            found.push(FoundWord {
                written: text.clone(),
                key_word: key_word.word.clone(),
                closeness: place.closeness(key_word.place),
                weight: key_word.thousandths,
            });
        } else if again {
            said_again.push(text.clone());
        } else {
            without_credit.push(text.clone());
        }
    }
    let missed = key
        .required
        .iter()
        .enumerate()
        .take(counted(words))
        .filter(|(column, _)| !worth.paired.contains(&Some(*column)))
        .map(|(_, word)| word.word.clone())
        .collect();
    Reason::Descriptors(Box::new(Descriptors {
        found,
        without_credit,
        said_again,
        contradicting,
        missed,
        denied: written.denied.clone(),
        left_off: written.left_off,
        words: words.min(MOST_WORDS),
        weight: worth.total,
        full_weight: key.full_weight(words),
        chance: key.chance,
        earned,
    }))
}

#[cfg(test)]
mod tests;
