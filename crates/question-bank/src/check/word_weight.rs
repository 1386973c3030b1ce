//! How much a word of a text tells: rare words of the bank much, common ones little. Weights are
//! inverse document frequencies (Spärck Jones 1972): ln(1 + N/n) for a word in n of N texts. Each
//! word has a number, so that a large bank is compared by numbers and holds each word once.

use std::collections::HashMap;

use crate::word_match::fold;

/// The words of a text as they are compared: folded, without the endings -ing, -ed, -es, -s.
pub(super) fn compared_words(text: &str) -> Vec<String> {
    fold(text)
        .split(' ')
        .filter(|word| !word.is_empty())
        .map(|word| bare(word).to_owned())
        .collect()
}

fn bare(word: &str) -> &str {
    if word.len() <= 4 {
        return word;
    }
    ["ing", "ed", "es", "s"]
        .iter()
        .find_map(|ending| word.strip_suffix(ending))
        .unwrap_or(word)
}

/// Whether a word says something of the matter; words of question and grammar do not.
pub(super) fn tells(word: &str) -> bool {
    const SILENT: [&str; 61] = [
        "the", "a", "an", "of", "to", "in", "on", "at", "by", "for", "with", "and", "or", "is",
        "are", "was", "be", "do", "doe", "did", "what", "which", "who", "how", "why", "when",
        "where", "must", "may", "can", "it", "its", "from", "that", "this", "these", "as", "into",
        "than", "most", "more", "least", "not", "one", "two", "three", "has", "have", "had", "put",
        "each", "match", "name", "call", "follow", "under", "made", "make", "us", "mean", "many",
    ];
    !SILENT.contains(&word)
}

/// The weight of what stands in `count` of `texts` texts; what stands nowhere weighs as what
/// stands once.
pub(super) fn weight(texts: usize, count: u32) -> f64 {
    libm::log1p(texts as f64 / f64::from(count.max(1)))
}

/// What is known of one word.
#[derive(Debug, Clone, Copy)]
struct Known {
    /// In how many texts it stands.
    texts: u32,
    /// The last text in which it was seen, counted from 1.
    last: u32,
    tells: bool,
}

/// The words of many texts as numbers, given in the order in which words first occur.
#[derive(Debug, Default)]
pub(super) struct NumberedWords {
    /// Only ever asked for one word, so its order reaches nothing.
    numbers: HashMap<Box<str>, u32>,
    known: Vec<Known>,
    /// The words of all texts one after the other.
    words: Vec<u32>,
    /// Where each text ends among the words.
    ends: Vec<usize>,
}

impl NumberedWords {
    /// Numbers the compared words of every text.
    pub(super) fn of(texts: impl Iterator<Item = String>) -> Self {
        let mut all = Self::default();
        for text in texts {
            let this = u32::try_from(all.ends.len() + 1).unwrap_or(u32::MAX);
            for word in fold(&text).split(' ').filter(|word| !word.is_empty()) {
                all.add(bare(word), this);
            }
            all.ends.push(all.words.len());
        }
        all.words.shrink_to_fit();
        all
    }
    fn add(&mut self, word: &str, this: u32) {
        let number = self.numbers.get(word).copied().unwrap_or_else(|| {
            let number = u32::try_from(self.known.len()).unwrap_or(u32::MAX);
            self.numbers.insert(word.into(), number);
            self.known.push(Known {
                texts: 0,
                last: 0,
                tells: tells(word),
            });
            number
        });
        self.words.push(number);
        if let Some(known) = self.known.get_mut(number as usize)
            && known.last != this
        {
            known.last = this;
            known.texts += 1;
        }
    }
    /// How many texts there are.
    pub(super) fn texts(&self) -> usize {
        self.ends.len()
    }
    /// The words of a text in their order.
    pub(super) fn text(&self, place: usize) -> &[u32] {
        let start = place
            .checked_sub(1)
            .and_then(|before| self.ends.get(before))
            .copied()
            .unwrap_or(0);
        let end = self.ends.get(place).copied().unwrap_or(start);
        self.words.get(start..end).unwrap_or(&[])
    }
    /// The words of a text that say something of the matter, each once, in order of their numbers.
    pub(super) fn telling(&self, place: usize) -> Vec<u32> {
        let words = self.text(place).iter().copied();
        let mut telling: Vec<u32> = words.filter(|word| self.tells(*word)).collect();
        telling.sort_unstable();
        telling.dedup();
        telling
    }
    /// The number of a word, if it stands in any text.
    pub(super) fn number(&self, word: &str) -> Option<u32> {
        self.numbers.get(word).copied()
    }
    /// In how many texts a word stands.
    pub(super) fn count(&self, word: u32) -> u32 {
        self.known.get(word as usize).map_or(0, |known| known.texts)
    }
    /// Whether a word says something of the matter.
    pub(super) fn tells(&self, word: u32) -> bool {
        self.known
            .get(word as usize)
            .is_some_and(|known| known.tells)
    }
    /// The weight of a word.
    pub(super) fn weight(&self, word: u32) -> f64 {
        weight(self.texts(), self.count(word))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn rare_words_weigh_more() {
        let texts = ["the rum the", "the gin", "the malts"].map(str::to_owned);
        let words = NumberedWords::of(texts.into_iter());
        let number = |word| words.number(word).unwrap();
        assert_eq!((words.count(number("the")), words.texts()), (3, 3));
        assert_eq!(words.count(number("malt")), 1);
        assert_eq!(words.text(0), [number("the"), number("rum"), number("the")]);
        assert_eq!(words.telling(2), [number("malt")]);
        assert_eq!(words.text(3), [0_u32; 0]);
        // By hand: ln(1 + 3/3) and ln(1 + 3/1).
        assert!((words.weight(number("the")) - std::f64::consts::LN_2).abs() < 1e-12);
        assert!((words.weight(number("rum")) - 2.0 * std::f64::consts::LN_2).abs() < 1e-12);
        assert_eq!(words.number("rye"), None);
    }
}
