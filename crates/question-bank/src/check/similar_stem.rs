//! Similar: two questions ask nearly the same in nearly the same words and are no enemies, so that
//! both may stand on one form.
//!
//! The method is the cosine of the two texts' vectors over words and pairs of neighbouring words
//! (shingles of one and two words), each weighted by how often it stands in the text and how rare
//! it is in the bank (Salton and Buckley 1988, from memory: tf × idf). The text is the stem, with
//! the steps of an ordering question and the pairs of a matching one, whose stems say little.
//!
//! Where each of two texts has a word on the matter that the other lacks ("strength of rum", "strength
//! of gin"), they count as similar only if their keys are the same too.
//!
//! The threshold of 0.65 was chosen on the foundation bank of 335 questions: two of its questions
//! that ask different things come to 0.60 at most, and of its stems with each sixth word struck out
//! more than nine in ten are still found. A test keeps watch over both. In a bank of fewer than 30
//! questions no word is known to be common, and nothing is said.

use std::collections::{BTreeMap, BTreeSet};

use base::Fault;

use super::word_weight::{NumberedWords, weight};
use crate::question::Question;
use crate::question_kind::AnswerOption;
use crate::shape::Shape;
use crate::word_match::fold;

/// From here on two questions count as similar.
pub const SIMILAR_FROM: f64 = 0.65;

/// Fewer questions say too little of which words are common.
const FEWEST: usize = 30;

/// A question is compared with so many others for each feature at most, so that a bank of many
/// copies of one question takes no longer than another. The latest ones are taken.
const MOST_COMPARED: usize = 40;

/// All texts as vectors of length 1 over their features.
struct Vectors<'q> {
    questions: Vec<&'q Question>,
    words: NumberedWords,
    /// The features of all texts one after the other: places in rising order of how common they
    /// are, each as often as it stands in its text.
    features: Vec<u32>,
    /// Where each text ends among the features.
    ends: Vec<usize>,
    /// In how many texts the feature at a place stands.
    counts: Vec<u32>,
    /// What each vector's weights are divided by.
    lengths: Vec<f64>,
}

/// Finds, for each question, the earlier one that is most like it, where that is much.
pub(super) fn find<'q>(questions: &[&'q Question]) -> Vec<(&'q Question, &'q Question, Fault)> {
    if questions.len() < FEWEST {
        return Vec::new();
    }
    find_among(questions)
}

fn find_among<'q>(questions: &[&'q Question]) -> Vec<(&'q Question, &'q Question, Fault)> {
    let vectors = Vectors::of(questions);
    // Only features of several texts can be shared.
    let mut holders: BTreeMap<u32, Vec<u32>> = BTreeMap::new();
    let mut found = Vec::new();
    for ((number, question), short) in questions.iter().enumerate().zip(0_u32..) {
        // Two texts as alike as that share a feature before the point from which the rest of
        // either text is too light to reach the threshold; features stand in one order for all.
        let mut telling = vectors.telling(number);
        telling.retain(|feature| vectors.count(*feature) > 1);
        let mut others: Vec<u32> = telling
            .iter()
            .filter_map(|feature| holders.get(feature))
            .flat_map(|places| places.iter().rev().take(MOST_COMPARED))
            .copied()
            .collect();
        others.sort_unstable();
        others.dedup();
        let most_alike = others
            .into_iter()
            .map(|place| place as usize)
            .filter_map(|place| Some((place, *questions.get(place)?)))
            .filter(|(_, other)| !question.enemies.contains(&other.id))
            .filter_map(|(place, other)| Some((vectors.likeness(number, place)?, other)))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((cosine, other)) = most_alike {
            found.push((*question, other, fault(question, other, cosine)));
        }
        for feature in telling {
            holders.entry(feature).or_default().push(short);
        }
    }
    found
}

fn fault(one: &Question, other: &Question, cosine: f64) -> Fault {
    Fault::weakness(
        "similar-stem",
        one.place.clone(),
        format!(
            "\"{}\" asks nearly what \"{}\" asks (likeness {cosine:.2} of 1)",
            one.id, other.id
        ),
    )
    .hint("retire one of them, or name them as enemies of each other")
}

/// What a question asks, in the words that tell it from others.
pub(super) fn asked(question: &Question) -> String {
    let mut text = question.kind.stem().to_owned();
    let mut add = |more: &str| {
        text.push(' ');
        text.push_str(more);
    };
    match question.kind.shape() {
        Shape::Order { steps } => steps.iter().for_each(|step| add(step)),
        Shape::Columns { left, right } => left.iter().zip(right).for_each(|(left, right)| {
            add(left);
            add(right);
        }),
        Shape::Choice { .. } | Shape::Number { .. } | Shape::Words { .. } | Shape::Space { .. } => {
        }
    }
    text
}

/// The features of a text as codes: a word by its number, two neighbours by both.
fn codes(words: &[u32]) -> impl Iterator<Item = u64> {
    const NO_NEIGHBOUR: u64 = 0xffff_ffff << 32;
    let single = words.iter().map(|word| NO_NEIGHBOUR | u64::from(*word));
    let pairs = words.windows(2).filter_map(|pair| match pair {
        [first, second] => Some((u64::from(*first) << 32) | u64::from(*second)),
        _ => None,
    });
    single.chain(pairs)
}

impl<'q> Vectors<'q> {
    fn of(questions: &[&'q Question]) -> Self {
        let words = NumberedWords::of(questions.iter().map(|question| asked(question)));
        let texts = words.texts();
        let most = (0..texts).map(|text| 2 * words.text(text).len()).sum();
        let mut all: Vec<u64> = Vec::with_capacity(most);
        for text in 0..texts {
            let start = all.len();
            all.extend(codes(words.text(text)));
            // Each feature counts once for a text.
            if let Some(own) = all.get_mut(start..) {
                own.sort_unstable();
            }
            let mut kept = start;
            for at in start..all.len() {
                if at == start || all.get(at) != all.get(kept.saturating_sub(1)) {
                    all.swap(kept, at);
                    kept += 1;
                }
            }
            all.truncate(kept);
        }
        let features = all.len();
        all.sort_unstable();
        let alike = || all.chunk_by(|a, b| a == b);
        let mut counted: Vec<(u64, u32)> = Vec::with_capacity(alike().count());
        counted.extend(
            alike().filter_map(|one| Some((*one.first()?, u32::try_from(one.len()).ok()?))),
        );
        drop(all);
        let mut order: Vec<u32> = (0..counted.len())
            .filter_map(|place| u32::try_from(place).ok())
            .collect();
        let count_at = |at: &u32| counted.get(*at as usize).map_or(0, |(_, count)| *count);
        order.sort_by_key(count_at);
        let counts: Vec<u32> = order.iter().map(count_at).collect();
        let mut places = vec![0_u32; order.len()];
        for (place, at) in (0_u32..).zip(&order) {
            if let Some(slot) = places.get_mut(*at as usize) {
                *slot = place;
            }
        }
        drop(order);
        let mut vectors = Self {
            questions: questions.to_vec(),
            features: Vec::with_capacity(features),
            ends: Vec::with_capacity(texts),
            counts,
            lengths: Vec::with_capacity(texts),
            words,
        };
        for text in 0..texts {
            let start = vectors.features.len();
            let found = codes(vectors.words.text(text)).filter_map(|code| {
                let at = counted
                    .binary_search_by_key(&code, |(code, _)| *code)
                    .ok()?;
                places.get(at).copied()
            });
            vectors.features.extend(found);
            if let Some(own) = vectors.features.get_mut(start..) {
                own.sort_unstable();
            }
            vectors.ends.push(vectors.features.len());
            vectors.lengths.push(1.0);
            let squares: f64 = vectors.weights(text).map(|(_, w)| w * w).sum();
            if let Some(length) = vectors.lengths.last_mut() {
                *length = squares.sqrt();
            }
        }
        vectors
    }
    fn count(&self, feature: u32) -> u32 {
        self.counts.get(feature as usize).copied().unwrap_or(0)
    }
    /// The features of a text, each once, with their weights.
    fn weights(&self, text: usize) -> impl DoubleEndedIterator<Item = (u32, f64)> {
        let end = |text: usize| self.ends.get(text).copied().unwrap_or(0);
        let start = text.checked_sub(1).map_or(0, end);
        let own = self.features.get(start..end(text)).unwrap_or(&[]);
        let length = self.lengths.get(text).copied().unwrap_or(1.0);
        own.chunk_by(|a, b| a == b).filter_map(move |alike| {
            let feature = *alike.first()?;
            let once = weight(self.words.texts(), self.count(feature));
            Some((feature, once * alike.len() as f64 / length))
        })
    }
    /// The rarest features of a text, without the common ones that cannot carry the threshold
    /// alone.
    fn telling(&self, text: usize) -> Vec<u32> {
        let mut rest = 0.0;
        let mut features: Vec<u32> = self
            .weights(text)
            .rev()
            .skip_while(|(_, weight)| {
                rest += weight * weight;
                // A little more than the threshold is left over for rounding.
                rest.sqrt() < SIMILAR_FROM - 1e-9
            })
            .map(|(feature, _)| feature)
            .collect();
        features.reverse();
        features
    }
    /// How alike two texts are, where that is enough.
    fn likeness(&self, one: usize, other: usize) -> Option<f64> {
        let cosine = self.cosine(one, other);
        if cosine < SIMILAR_FROM {
            return None;
        }
        let (mine, theirs) = (self.words.telling(one), self.words.telling(other));
        let lacks = |a: &[u32], b: &[u32]| a.iter().any(|word| b.binary_search(word).is_err());
        if !(lacks(&mine, &theirs) && lacks(&theirs, &mine)) {
            return Some(cosine);
        }
        // Each has matter of its own: the keys decide.
        let (one, other) = (self.questions.get(one)?, self.questions.get(other)?);
        (key(one) == key(other)).then_some(cosine)
    }
    fn cosine(&self, one: usize, other: usize) -> f64 {
        let (mut a, mut b) = (self.weights(one).peekable(), self.weights(other).peekable());
        let mut sum = 0.0;
        while let (Some((left, x)), Some((right, y))) = (a.peek(), b.peek()) {
            match left.cmp(right) {
                std::cmp::Ordering::Less => {
                    a.next();
                }
                std::cmp::Ordering::Greater => {
                    b.next();
                }
                std::cmp::Ordering::Equal => {
                    sum += x * y;
                    a.next();
                    b.next();
                }
            }
        }
        sum
    }
}

/// What is right, in a form that can be compared.
fn key(question: &Question) -> BTreeSet<String> {
    match question.kind.shape() {
        Shape::Choice { options, .. } => keys_of(options),
        Shape::Number { written, .. } => BTreeSet::from([fold(written)]),
        Shape::Order { steps } => steps.iter().map(|step| fold(step)).collect(),
        Shape::Columns { left, right } => left
            .iter()
            .zip(right)
            .map(|(left, right)| fold(&format!("{left} {right}")))
            .collect(),
        Shape::Words { entries, .. } => {
            let forms = entries.iter().flat_map(|forms| forms.iter());
            forms.map(|form| fold(form)).collect()
        }
        Shape::Space { model, .. } => BTreeSet::from([fold(model)]),
    }
}

fn keys_of(options: &[AnswerOption]) -> BTreeSet<String> {
    let keys = options.iter().filter(|option| option.key);
    keys.map(|option| fold(&option.text)).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;
    use proptest::prelude::*;

    fn questions(stems: &[&str]) -> Vec<Question> {
        stems
            .iter()
            .enumerate()
            .map(|(number, stem)| {
                let mut question = best_answer(stem, &[&format!("key {number}"), "b"]);
                question.id = base::QuestionId::parse(&format!("q{number}")).unwrap();
                question
            })
            .collect()
    }
    fn pairs(questions: &[Question]) -> Vec<(String, String)> {
        let questions: Vec<&Question> = questions.iter().collect();
        find(&questions)
            .iter()
            .map(|(a, b, _)| (a.id.to_string(), b.id.to_string()))
            .collect()
    }

    #[test]
    fn rewording_is_found_and_another_question_is_none() {
        let others: Vec<String> = ["cask", "still", "yeast", "malt", "glass", "agave"]
            .iter()
            .flat_map(|thing| {
                [
                    "What is the use of a {}?",
                    "Which law names the {}?",
                    "Who invented the {} in Europe?",
                    "What is the weight of one {}?",
                    "How is the {} cleaned?",
                ]
                .map(|stem| stem.replace("{}", &format!("{thing} {thing}like {thing}house")))
            })
            .collect();
        let mut stems = vec![
            "What is the minimum bottling strength of rum in the European Union?",
            "What is the minimum bottling strength of gin in the European Union?",
            "What is the minimum strength of rum at bottling in the European Union?",
            "Which yeast ferments molasses for a heavy rum?",
            "Where is the heart cut made on a pot still?",
            "Where is the heart cut made on a copper pot still?",
        ];
        stems.extend(others.iter().map(String::as_str));
        let mut all = questions(&stems);
        let two = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        assert_eq!(pairs(&all), [two("q2", "q0"), two("q5", "q4")]);
        let (first, third) = (all[0].id.clone(), all[2].id.clone());
        all[0].enemies.push(third);
        all[2].enemies.push(first);
        assert_eq!(pairs(&all), [two("q5", "q4")]);
    }

    proptest! {
        /// The short cut over rare features misses no pair that a look at all pairs finds.
        #[test]
        fn the_short_cut_finds_what_a_look_at_all_pairs_finds(
            stems in prop::collection::vec("(rum|gin|cask|still|the|of|oak|peat|what| ){1,12}", 0..24),
        ) {
            let stems: Vec<&str> = stems.iter().map(String::as_str).collect();
            let all = questions(&stems);
            let all: Vec<&Question> = all.iter().collect();
            let vectors = Vectors::of(&all);
            let mut later = Vec::new();
            for (number, one) in all.iter().enumerate() {
                if (0..number).any(|other| vectors.likeness(number, other).is_some()) {
                    later.push(one.id.clone());
                }
            }
            let found: Vec<_> = find_among(&all).iter().map(|(one, _, _)| one.id.clone()).collect();
            prop_assert_eq!(found, later);
        }
    }
}
