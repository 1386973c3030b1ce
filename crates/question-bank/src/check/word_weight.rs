//! How much a word of a stem tells: rare words of the bank much, common ones little. Weights are
//! inverse document frequencies (Spärck Jones 1972): ln(1 + N/n) for a word in n of N stems.

use std::collections::{BTreeMap, BTreeSet};

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

/// In how many of so many texts each feature stands.
#[derive(Debug, Default)]
pub(super) struct Frequencies {
    texts: usize,
    counts: BTreeMap<String, usize>,
}

impl Frequencies {
    /// Counts the features of every text once.
    pub(super) fn of<'f>(texts: impl Iterator<Item = &'f [String]>) -> Self {
        let mut frequencies = Self::default();
        for text in texts {
            frequencies.texts += 1;
            for feature in text.iter().collect::<BTreeSet<_>>() {
                match frequencies.counts.get_mut(feature) {
                    Some(count) => *count += 1,
                    None => {
                        frequencies.counts.insert(feature.clone(), 1);
                    }
                }
            }
        }
        frequencies
    }
    /// In how many texts a feature stands.
    pub(super) fn count(&self, feature: &str) -> usize {
        self.counts.get(feature).copied().unwrap_or(0)
    }
    /// How many texts there are.
    pub(super) fn texts(&self) -> usize {
        self.texts
    }
    /// The weight of a feature; a feature that stands nowhere weighs as one that stands once.
    pub(super) fn weight(&self, feature: &str) -> f64 {
        libm::log1p(self.texts as f64 / self.count(feature).max(1) as f64)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rare_words_weigh_more() {
        let texts = ["the rum", "the gin", "the malts"].map(compared_words);
        let frequencies = Frequencies::of(texts.iter().map(Vec::as_slice));
        assert_eq!((frequencies.count("the"), frequencies.texts()), (3, 3));
        assert_eq!(frequencies.count("malt"), 1);
        // By hand: ln(1 + 3/3) and ln(1 + 3/1).
        assert!((frequencies.weight("the") - std::f64::consts::LN_2).abs() < 1e-12);
        assert!((frequencies.weight("rum") - 2.0 * std::f64::consts::LN_2).abs() < 1e-12);
        assert_eq!(frequencies.weight("rye"), frequencies.weight("rum"));
    }
}
