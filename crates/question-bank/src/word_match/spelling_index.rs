//! Forms by their number of letters and by which letters they hold, so that a slip is looked for
//! among few.
//!
//! An edit (a letter more, less or other, or two neighbours swapped) changes the number of letters
//! by one at most and the set of letters by two at most. What lies beyond these bounds cannot be
//! within so many edits and is passed over without being compared.

use std::collections::BTreeMap;

use crate::lexicon::WordPlace;

/// Every form of a lexicon, ready to be searched by spelling. Spaces do not count.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct SpellingIndex {
    by_letters: BTreeMap<usize, Vec<Row>>,
}

#[derive(Debug, Clone, PartialEq)]
struct Row {
    letter_set: u64,
    form: String,
    place: WordPlace,
}

impl SpellingIndex {
    /// Adds a folded form.
    pub(crate) fn add(&mut self, form: &str, place: WordPlace) {
        self.by_letters
            .entry(letters_only(form))
            .or_default()
            .push(Row {
                letter_set: letter_set(form),
                form: form.to_owned(),
                place,
            });
    }

    /// Every form that can be within so many edits of the text, spaces left out of account, and
    /// some that are not.
    pub(super) fn within(
        &self,
        text: &str,
        edits: usize,
    ) -> impl Iterator<Item = (&str, WordPlace)> {
        let length = letters_only(text);
        let set = letter_set(text);
        let changes = u32::try_from(2 * edits).unwrap_or(u32::MAX);
        self.by_letters
            .range(length.saturating_sub(edits)..=length.saturating_add(edits))
            .flat_map(|(_, rows)| rows)
            .filter(move |row| (row.letter_set ^ set).count_ones() <= changes)
            .map(|row| (row.form.as_str(), row.place))
    }
}

/// The number of letters and other signs.
pub(super) fn letters(text: &str) -> usize {
    text.chars().count()
}

fn letters_only(text: &str) -> usize {
    text.chars().filter(|letter| *letter != ' ').count()
}

/// Which letters a text holds, a bit for each of a to z; other signs share the remaining bits.
fn letter_set(text: &str) -> u64 {
    text.chars()
        .filter(|letter| *letter != ' ')
        .fold(0, |set, letter| {
            let bit = match letter {
                'a'..='z' => u32::from(letter) - u32::from('a'),
                other => 26 + u32::from(other) % 38,
            };
            set | (1 << bit)
        })
}
