//! Gives away: the stem of one question holds the key of another on the same matter, and the two
//! are no enemies.
//!
//! A key in another stem gives something away only where both stems speak of the same thing. That
//! is measured by the share of the second stem's weight (rare words weigh more) that the first has
//! too, the key's own words left out. The threshold of 0.15, and the rule that a key of common
//! words gives nothing away, were chosen on the foundation bank, by reading: of its pairs that were
//! no enemies, the three that lie above (0.16 to 0.19) do help a candidate, and those below (0.13 and
//! less, such as "40 % vol" in two sums) do not.

use std::collections::{BTreeMap, BTreeSet};

use base::Fault;

use super::word_weight::{Frequencies, compared_words, tells};
use crate::question::Question;
use crate::question_kind::QuestionKind;
use crate::shape::Shape;
use crate::word_match::fold;

/// From this share on two stems speak of the same matter.
const SAME_MATTER_FROM: f64 = 0.15;

/// The rarest word of a key stands in at most one of so many stems, and in at most so many stems.
const ONE_STEM_IN: usize = 20;
const MOST_STEMS: usize = 200;

/// A stem as it is searched.
struct Stem<'q> {
    question: &'q Question,
    /// Folded, with a space at either end, so that whole words are found.
    folded: String,
    words: BTreeSet<String>,
}

/// Finds stems that hold another question's key: the question that tells, the one whose key it
/// holds, and the weakness.
pub(super) fn find<'q>(questions: &[&'q Question]) -> Vec<(&'q Question, &'q Question, Fault)> {
    let texts: Vec<Vec<String>> = questions
        .iter()
        .map(|question| compared_words(question.kind.stem()))
        .collect();
    let frequencies = Frequencies::of(texts.iter().map(Vec::as_slice));
    let stems: Vec<Stem<'q>> = questions
        .iter()
        .zip(texts)
        .map(|(question, text)| Stem {
            question,
            folded: format!(" {} ", fold(question.kind.stem())),
            words: text.into_iter().filter(|word| tells(word)).collect(),
        })
        .collect();
    let mut holders: BTreeMap<&str, Vec<&Stem<'q>>> = BTreeMap::new();
    for stem in &stems {
        for word in &stem.words {
            holders.entry(word.as_str()).or_default().push(stem);
        }
    }
    let mut found = Vec::new();
    let mut told = BTreeSet::new();
    for asked in &stems {
        for key in keys(&asked.question.kind) {
            let key_words = compared_words(key);
            let rarest = key_words
                .iter()
                .filter(|word| tells(word))
                .min_by_key(|word| frequencies.count(word));
            let few = MOST_STEMS.min((frequencies.texts() / ONE_STEM_IN).max(3));
            let Some(telling) = rarest
                .and_then(|word| holders.get(word.as_str()))
                .filter(|holders| holders.len() <= few)
            else {
                continue;
            };
            let phrase = format!(" {} ", fold(key));
            // A key that its own stem names is told already.
            if asked.folded.contains(&phrase) {
                continue;
            }
            for stem in telling {
                let other = stem.question;
                if other.id != asked.question.id
                    && !other.enemies.contains(&asked.question.id)
                    && stem.folded.contains(&phrase)
                    && same_matter(stem, asked, &key_words, &frequencies)
                    && told.insert((&other.id, &asked.question.id))
                {
                    found.push((other, asked.question, fault(other, asked.question, key)));
                }
            }
        }
    }
    found
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
            .flat_map(|forms| forms.iter().map(String::as_str))
            .collect(),
        Shape::Choice { .. }
        | Shape::Number { .. }
        | Shape::Order { .. }
        | Shape::Columns { .. }
        | Shape::Words { .. }
        | Shape::Space { .. } => Vec::new(),
    }
}

fn same_matter(
    stem: &Stem<'_>,
    asked: &Stem<'_>,
    key_words: &[String],
    frequencies: &Frequencies,
) -> bool {
    let mut common = 0.0;
    let mut all = 0.0;
    for word in asked.words.iter().filter(|word| !key_words.contains(word)) {
        let weight = frequencies.weight(word);
        all += weight;
        if stem.words.contains(word) {
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
