//! A candidate's words beside those of the panel, as they were paired when the mark was made.

use question_bank::Lexicon;
use question_bank::lexicon::Closeness;

use super::descriptor_assignment::{DescriptorKey, counted, read_words};

/// One word of a candidate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WrittenWord {
    /// As it was written.
    pub written: String,
    /// What it was paired with.
    pub stands: WrittenStanding,
}

/// What a written word is to the key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WrittenStanding {
    /// It was paired with this word of the key.
    Paired {
        /// The word of the key.
        key_word: String,
        /// How near it is.
        closeness: Closeness,
    },
    /// It contradicts the sample.
    Contradicts,
    /// It earned nothing.
    Nothing,
}

/// The words that counted, in the candidate's order; words that nobody knows are left out.
#[must_use]
pub fn words_beside(
    key: &DescriptorKey,
    lexicon: &Lexicon,
    words: u32,
    answer: &str,
) -> Vec<WrittenWord> {
    let written = read_words(lexicon, answer, counted(words));
    let places: Vec<_> = written.known.iter().map(|(_, place)| *place).collect();
    let worth = key.worth(&places);
    written
        .known
        .iter()
        .zip(&worth.paired)
        .map(|((text, place), paired)| {
            let with = paired.and_then(|column| key.at(column));
            WrittenWord {
                written: text.clone(),
                stands: match with {
                    Some(key_word) => WrittenStanding::Paired {
                        key_word: key_word.word.clone(),
                        closeness: place.closeness(key_word.place),
                    },
                    None if key.contradicts(*place) => WrittenStanding::Contradicts,
                    None => WrittenStanding::Nothing,
                },
            }
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use base::Marks;

    use super::*;
    use crate::Sentences;
    use crate::award::Outcome;
    use crate::example::Glass;
    use crate::tasting_rule::descriptor_assignment::{AROMA_RULE, mark};

    /// Whatever the sentence of the mark says was found stands paired here, and nothing else.
    #[test]
    fn pairs_are_those_of_the_mark() {
        let glass = Glass::new();
        let (key, lexicon) = (glass.key().neat, glass.words().lexicon);
        let all: Vec<&str> = lexicon
            .families
            .iter()
            .flat_map(|family| &family.groups)
            .filter_map(|group| group.words.first())
            .map(|word| word.word.as_str())
            .collect();
        let mut paired_at_all = 0;
        for start in 0..all.len() {
            let six: Vec<&str> = all
                .iter()
                .cycle()
                .skip(start)
                .step_by(3)
                .take(6)
                .copied()
                .collect();
            let answer = six.join("; ");
            let verdict = mark(&key, lexicon, 6, &answer, Marks::ONE, AROMA_RULE);
            let Outcome::Marked { reason, .. } = verdict.told(Sentences::english()) else {
                continue;
            };
            for word in words_beside(&key, lexicon, 6, &answer) {
                let found = reason.split(';').next().unwrap_or("");
                let told = found.contains(&format!("{} (", word.written))
                    || found.contains(&format!("{} for ", word.written));
                let paired = matches!(word.stands, WrittenStanding::Paired { .. });
                assert_eq!(told, paired, "{word:?} in {reason}");
                paired_at_all += usize::from(paired);
            }
        }
        assert!(paired_at_all > 0);
    }
}
