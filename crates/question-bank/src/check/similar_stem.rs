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

use super::word_weight::{Frequencies, compared_words, tells};
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

/// A text as a vector of length 1: places of features in rising order of how common they are.
struct Vector<'q> {
    question: &'q Question,
    weights: Vec<(usize, f64)>,
    /// Words on the matter.
    telling: BTreeSet<String>,
}

/// Finds, for each question, the earlier one that is most like it, where that is much.
pub(super) fn find<'q>(questions: &[&'q Question]) -> Vec<(&'q Question, &'q Question, Fault)> {
    if questions.len() < FEWEST {
        return Vec::new();
    }
    find_among(questions)
}

fn find_among<'q>(questions: &[&'q Question]) -> Vec<(&'q Question, &'q Question, Fault)> {
    let vectors = vectors(questions);
    let mut holders: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    let mut found = Vec::new();
    for (number, vector) in vectors.iter().enumerate() {
        // Two texts as alike as that share a feature before the point from which the rest of
        // either text is too light to reach the threshold; features stand in one order for all.
        let telling = telling(vector);
        let mut others: Vec<usize> = telling
            .iter()
            .filter_map(|(feature, _)| holders.get(feature))
            .flat_map(|places| places.iter().rev().take(MOST_COMPARED))
            .copied()
            .collect();
        others.sort_unstable();
        others.dedup();
        let most_alike = others
            .into_iter()
            .filter_map(|place| vectors.get(place))
            .filter(|other| !vector.question.enemies.contains(&other.question.id))
            .filter_map(|other| Some((likeness(vector, other)?, other)))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((cosine, other)) = most_alike {
            found.push((
                vector.question,
                other.question,
                fault(vector, other, cosine),
            ));
        }
        for (feature, _) in telling {
            holders.entry(*feature).or_default().push(number);
        }
    }
    found
}

fn fault(one: &Vector<'_>, other: &Vector<'_>, cosine: f64) -> Fault {
    Fault::weakness(
        "similar-stem",
        one.question.place.clone(),
        format!(
            "\"{}\" asks nearly what \"{}\" asks (likeness {cosine:.2} of 1)",
            one.question.id, other.question.id
        ),
    )
    .hint("retire one of them, or name them as enemies of each other")
}

/// What a question asks, in the words that tell it from others.
fn asked(question: &Question) -> String {
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

fn features(question: &Question) -> Vec<String> {
    let words = compared_words(&asked(question));
    let pairs = words.windows(2).map(|pair| pair.join(" "));
    let mut features: Vec<String> = pairs.collect();
    features.extend(words);
    features
}

fn vectors<'q>(questions: &[&'q Question]) -> Vec<Vector<'q>> {
    let texts: Vec<Vec<String>> = questions.iter().map(|q| features(q)).collect();
    let frequencies = Frequencies::of(texts.iter().map(Vec::as_slice));
    let mut order: Vec<&str> = texts.iter().flatten().map(String::as_str).collect();
    order.sort_unstable();
    order.dedup();
    order.sort_by_key(|feature| frequencies.count(feature));
    let places: BTreeMap<&str, usize> = order
        .into_iter()
        .enumerate()
        .map(|(place, feature)| (feature, place))
        .collect();
    questions
        .iter()
        .zip(&texts)
        .map(|(question, text)| {
            let mut weights: BTreeMap<usize, f64> = BTreeMap::new();
            for feature in text {
                if let Some(place) = places.get(feature.as_str()) {
                    *weights.entry(*place).or_default() += frequencies.weight(feature);
                }
            }
            let length = weights.values().map(|w| w * w).sum::<f64>().sqrt();
            Vector {
                question,
                telling: text
                    .iter()
                    .filter(|feature| !feature.contains(' ') && tells(feature))
                    .cloned()
                    .collect(),
                weights: weights
                    .into_iter()
                    .map(|(place, weight)| (place, weight / length))
                    .collect(),
            }
        })
        .collect()
}

/// The rarest features of a text, without the common ones that cannot carry the threshold alone.
fn telling<'v>(vector: &'v Vector<'_>) -> &'v [(usize, f64)] {
    let mut rest = 0.0;
    let common = vector
        .weights
        .iter()
        .rev()
        .take_while(|(_, weight)| {
            rest += weight * weight;
            // A little more than the threshold is left over for rounding.
            rest.sqrt() < SIMILAR_FROM - 1e-9
        })
        .count();
    vector
        .weights
        .get(..vector.weights.len() - common)
        .unwrap_or(&[])
}

/// How alike two texts are, where that is enough.
fn likeness(one: &Vector<'_>, other: &Vector<'_>) -> Option<f64> {
    let cosine = cosine(one, other);
    if cosine < SIMILAR_FROM {
        return None;
    }
    let lacks = |a: &Vector<'_>, b: &Vector<'_>| !a.telling.is_subset(&b.telling);
    let other_matter = lacks(one, other) && lacks(other, one);
    (!other_matter || key(one.question) == key(other.question)).then_some(cosine)
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

fn cosine(one: &Vector<'_>, other: &Vector<'_>) -> f64 {
    let (mut a, mut b) = (
        one.weights.iter().peekable(),
        other.weights.iter().peekable(),
    );
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
            let vectors = vectors(&all);
            let mut later = Vec::new();
            for (number, one) in vectors.iter().enumerate() {
                if vectors.iter().take(number).any(|other| likeness(one, other).is_some()) {
                    later.push(one.question.id.clone());
                }
            }
            let found: Vec<_> = find_among(&all).iter().map(|(one, _, _)| one.id.clone()).collect();
            prop_assert_eq!(found, later);
        }
    }
}
