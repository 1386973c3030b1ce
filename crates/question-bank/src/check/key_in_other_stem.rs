//! Gives away: the stem of one question holds the key of another on the same matter, and the two
//! are no enemies.
//!
//! A key in another stem gives something away only where both stems speak of the same thing. That
//! is measured by the share of the second stem's weight (rare words weigh more) that the first has
//! too, the key's own words left out. The threshold of 0.15, and the rule that a key of common
//! words gives nothing away, were chosen on the foundation bank, by reading: of its pairs that were
//! no enemies, the three that lie above (0.16 to 0.19) do help a candidate, and those below (0.13 and
//! less, such as "40 % vol" in two sums) do not.

use std::collections::BTreeSet;

use base::Fault;

use super::word_weight::{NumberedWords, compared_words, tells};
use crate::question::Question;
use crate::question_kind::QuestionKind;
use crate::shape::Shape;
use crate::word_match::fold;

/// From this share on two stems speak of the same matter.
const SAME_MATTER_FROM: f64 = 0.15;

/// The rarest word of a key stands in at most one of so many stems, and in at most so many stems.
const ONE_STEM_IN: usize = 20;
const MOST_STEMS: usize = 200;

/// Finds stems that hold another question's key: the question that tells, the one whose key it
/// holds, and the weakness.
pub(super) fn find<'q>(questions: &[&'q Question]) -> Vec<(&'q Question, &'q Question, Fault)> {
    let stems = NumberedWords::of(questions.iter().map(|q| q.kind.stem().to_owned()));
    let few = MOST_STEMS.min((stems.texts() / ONE_STEM_IN).max(3));
    let holders = Holders::of(&stems, few);
    let mut found = Vec::new();
    let mut told = BTreeSet::new();
    for (place, asked) in questions.iter().enumerate() {
        for key in keys(&asked.kind) {
            let words = compared_words(key);
            // A key with a word that no stem has stands in none.
            let Some(numbers) = words
                .iter()
                .map(|w| stems.number(w))
                .collect::<Option<Vec<_>>>()
            else {
                continue;
            };
            let rarest = words
                .iter()
                .zip(&numbers)
                .filter(|(word, _)| tells(word))
                .map(|(_, number)| *number)
                .min_by_key(|number| stems.count(*number));
            let Some(rarest) = rarest.filter(|word| stems.count(*word) as usize <= few) else {
                continue;
            };
            let phrase = format!(" {} ", fold(key));
            // A key that its own stem names is told already.
            if says(&stems, place, asked, &numbers, &phrase) {
                continue;
            }
            for &holder in holders.of_word(rarest) {
                let holder = holder as usize;
                let Some(other) = questions.get(holder) else {
                    continue;
                };
                if other.id != asked.id
                    && !other.enemies.contains(&asked.id)
                    && says(&stems, holder, other, &numbers, &phrase)
                    && same_matter(&stems, holder, place, &numbers)
                    && told.insert((&other.id, &asked.id))
                {
                    found.push((*other, *asked, fault(other, asked, key)));
                }
            }
        }
    }
    found
}

/// Which stems hold a word, for words that few stems hold.
struct Holders {
    /// Where the stems of each word end among all.
    ends: Vec<usize>,
    stems: Vec<u32>,
}

impl Holders {
    fn of(stems: &NumberedWords, few: usize) -> Self {
        let mut pairs: Vec<(u32, u32)> = Vec::new();
        for (place, number) in (0..stems.texts()).zip(0_u32..) {
            for word in stems.telling(place) {
                if stems.count(word) as usize <= few {
                    pairs.push((word, number));
                }
            }
        }
        pairs.sort_unstable();
        let mut holders = Self {
            ends: Vec::new(),
            stems: Vec::with_capacity(pairs.len()),
        };
        for (word, stem) in pairs {
            // Words without holders end where the one before them ends.
            holders.ends.resize(word as usize, holders.stems.len());
            holders.stems.push(stem);
            holders.ends.push(holders.stems.len());
        }
        holders
    }
    fn of_word(&self, word: u32) -> &[u32] {
        let word = word as usize;
        let start = word.checked_sub(1).and_then(|w| self.ends.get(w)).copied();
        let end = self.ends.get(word).copied().unwrap_or(0);
        self.stems.get(start.unwrap_or(0)..end).unwrap_or(&[])
    }
}

/// Whether a stem has a phrase; its words are looked at first, since most have not even those.
fn says(
    stems: &NumberedWords,
    place: usize,
    question: &Question,
    words: &[u32],
    phrase: &str,
) -> bool {
    let own = stems.text(place);
    words.iter().all(|word| own.contains(word))
        && format!(" {} ", fold(question.kind.stem())).contains(phrase)
}

fn fault(other: &Question, asked: &Question, key: &str) -> Fault {
    Fault::weakness(
        "key-in-other-stem",
        other.place.clone(),
        format!(
            "the stem of \"{}\" says \"{key}\", the key of \"{}\" on the same matter",
            other.id, asked.id
        ),
    )
    .hint("name the two as enemies of each other, or word the stem without it")
}

/// What would give the question away if it were read: nothing for kinds whose key is no one text.
fn keys(kind: &QuestionKind) -> Vec<&str> {
    match kind.shape() {
        // Drawn numbers differ from form to form and stand in no stem.
        Shape::Choice { options, one: true } if kind.drawings(1).is_none() => options
            .iter()
            .filter(|option| option.key)
            .map(|option| option.text.as_str())
            .collect(),
        Shape::Words { lines: 1, entries } => entries
            .iter()
            .flat_map(|forms| forms.iter().map(|form| form.as_str()))
            .collect(),
        Shape::Choice { .. }
        | Shape::Number { .. }
        | Shape::Order { .. }
        | Shape::Columns { .. }
        | Shape::Words { .. }
        | Shape::Space { .. } => Vec::new(),
    }
}

fn same_matter(stems: &NumberedWords, stem: usize, asked: usize, key_words: &[u32]) -> bool {
    let own = stems.text(stem);
    let mut common = 0.0;
    let mut all = 0.0;
    for word in stems.telling(asked) {
        if key_words.contains(&word) {
            continue;
        }
        let weight = stems.weight(word);
        all += weight;
        if own.contains(&word) {
            common += weight;
        }
    }
    common >= SAME_MATTER_FROM * all && common > 0.0
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn a_key_in_a_stem_on_the_same_matter_is_found() {
        let question = |id: &str, stem, key| {
            let mut question = best_answer(stem, &[key, "Something else"]);
            question.id = base::QuestionId::parse(id).unwrap();
            question
        };
        let told = question(
            "told",
            "Which name may a perry pear spirit of Normandy bear?",
            "Calvados Domfrontais",
        );
        let teller = question(
            "teller",
            "What is the least share of perry pears in Calvados Domfrontais?",
            "30 %",
        );
        let other_matter = question(
            "other",
            "How long does Calvados Domfrontais rest?",
            "3 years",
        );
        let pairs = |questions: &[&Question]| -> Vec<(String, String)> {
            find(questions)
                .iter()
                .map(|(a, b, _)| (a.id.to_string(), b.id.to_string()))
                .collect()
        };
        let found = pairs(&[&told, &teller, &other_matter]);
        assert_eq!(found, [("teller".to_owned(), "told".to_owned())]);
        let mut enemy = teller.clone();
        enemy.enemies.push(told.id.clone());
        assert!(pairs(&[&told, &enemy]).is_empty());
    }
}
