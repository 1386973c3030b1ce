//! Descriptor marks by hand, and the properties that make them fair.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use exam_plan::Asked;
use proptest::prelude::*;

use super::*;
use crate::example::{Glass, told};
use crate::verdict::Verdict;

/// Weights of the example's key, by hand: banana sqrt(1 × 16/20) = 0.894, molasses
/// sqrt(3/4 × 9/20) = 0.581, oak sqrt(3/4 × 6/20) = 0.474; fig and mint, cited by
/// one assessor alone, enter no key. Three words count: full weight 1.949.
const FULL: f64 = 1.949;

fn marked(glass: &Glass, answer: &str) -> Verdict {
    glass.mark(Asked::Aroma { words: 3 }, "10", answer)
}

#[test]
fn marks_can_be_computed_by_hand() {
    let glass = Glass::new();
    for (answer, weight, contradicting) in [
        ("banana; molasses; oak", 1.949, 0.0),
        ("oak, ripe banana / molasses", 1.949, 0.0),
        ("banana", 0.894, 0.0),
        ("pineapple", 0.894 / 2.0, 0.0),
        ("raisin", 0.894 / 4.0, 0.0),
        ("fig", 0.894 / 4.0, 0.0),
        ("banana; fig", 0.894, 0.0),
        ("banana; pineapple", 0.894, 0.0),
        ("banana; banana; ripe banana; molasses", 0.894 + 0.581, 0.0),
        ("banana; molasses; peat", 0.894 + 0.581, 1.0),
        ("peat", 0.0, 1.0),
        ("wood smoke", 0.474 / 4.0, 0.0),
        ("banana; juniper; peat; oak", 0.894, 2.0),
        ("banana and oak", 0.894 + 0.474, 0.0),
    ] {
        let expected = ((weight / FULL - 0.15 * contradicting).max(0.0) * 10.0 * 1000.0).round();
        let found = marked(&glass, answer).marks().thousandths();
        assert!(
            (expected - found as f64).abs() < 1e-9,
            "{answer}: {expected} {found}"
        );
    }
}

#[test]
fn the_sentence_says_what_was_found_and_missed() {
    let glass = Glass::new();
    assert_eq!(
        told(&marked(&glass, "pineapple; ripe banana; peat; oak; mint")).1,
        "found: ripe banana as banana (full, 0.894); no credit: pineapple; contradicting this \
         sample: peat (less 15 % of the marks); missed: molasses, oak; only the first 3 count, 2 \
         left off; weight 0.894 of 1.949: 3.087 of 10 marks"
    );
}

#[test]
fn near_words_of_one_group_count_once() {
    let glass = Glass::new();
    // Pineapple, apple and pear drop stand in the group of banana, none of them in the key: one of
    // them is half of banana, whichever it is and however many follow.
    for answer in [
        "pineapple",
        "apple; pineapple",
        "pear drop; apple; pineapple",
    ] {
        let marks = marked(&glass, answer).marks().thousandths();
        let expected = (0.894 / 2.0 / FULL * 10_000.0_f64).round();
        assert!((expected - marks as f64).abs() < 1e-9, "{answer}: {marks}");
    }
    let (_, sentence) = told(&marked(&glass, "pineapple; apple"));
    assert_eq!(
        sentence,
        "found: pineapple for banana (same group, half of 0.894); one of a group counts, so \
         not these: apple; missed: molasses, oak; weight 0.447 of 1.949: 2.293 of 10 marks"
    );
    // A word of the key is no repetition, and neither is one of another group of the family.
    let both = marked(&glass, "toffee; molasses; raisin").marks();
    let expected = ((0.581 + 0.894 / 4.0) / FULL * 10_000.0_f64).round();
    assert!(
        (expected - both.thousandths() as f64).abs() < 1e-9,
        "{both}"
    );
}

#[test]
fn the_chance_score_is_taken_off_where_the_plan_says_so() {
    let glass = Glass::new();
    let mut key = glass.key().neat;
    key.take_off(0.2);
    let marked = |answer: &str| {
        let of = Marks::from_thousandths(10_000);
        told(&mark(&key, &glass.lexicon, 3, answer, of, AROMA_RULE))
    };
    let (full, _) = marked("banana; molasses; oak");
    assert_eq!(full, "10");
    // 0.894 of 1.949 is 0.4587; (0.4587 - 0.2) / 0.8 = 0.32337.
    let (part, sentence) = marked("banana");
    assert_eq!(part, "3.234");
    assert!(
        sentence.ends_with(
            "; weight 0.894 of 1.949; less the 0.2 that guessing earns: (share - 0.2) / (1 - 0.2): \
             3.234 of 10 marks"
        ),
        "{sentence}"
    );
    // Less than chance is nothing, and never less than nothing.
    assert_eq!(marked("raisin").0, "0");
    assert_eq!(marked("peat").0, "0");
    // The whole scale is never taken off.
    for (chance, kept) in [(7.0, 900), (f64::NAN, 0), (-1.0, 0)] {
        key.take_off(chance);
        assert_eq!(key.chance, kept);
    }
}

#[test]
fn what_is_denied_counts_as_not_written() {
    let glass = Glass::new();
    let plain = marked(&glass, "banana; oak; molasses");
    let with_denials = marked(
        &glass,
        "no peat; banana; not peaty, oak but no wood smoke; molasses",
    );
    assert_eq!(with_denials.marks(), plain.marks());
    let sentence = told(&with_denials).1;
    assert!(
        sentence
            .contains("said not to be there, so not counted: no peat, not peaty, no wood smoke"),
        "{sentence}"
    );
    // Half denied is for a person.
    assert!(marked(&glass, "banana; not very smoky").waits());
}

#[test]
fn unknown_words_wait_and_what_is_known_counts_so_far() {
    let glass = Glass::new();
    let waiting = marked(&glass, "banana; orchard things; bananananana; oak");
    let (_, why) = told(&waiting);
    let Verdict::ForAPerson {
        near,
        provisional,
        words,
        ..
    } = waiting
    else {
        unreachable!("a word that the lexicon does not know");
    };
    assert_eq!(provisional.to_string(), "4.587");
    let names: Vec<&str> = words.iter().map(|word| word.word.as_str()).collect();
    assert_eq!(names, ["orchard things", "bananananana"]);
    assert!(why.starts_with(
        "person: not in the lexicon: \"orchard things\", \"bananananana\"; so far found:"
    ));
    assert!(why.contains("1 left off"), "{why}");
    assert!(near.len() <= 6);
}

#[test]
fn ten_thousand_words_are_a_short_answer() {
    let glass = Glass::new();
    let answer = "banana; molasses; oak; ".repeat(3000) + &"q".repeat(100_000);
    let outcome = marked(&glass, &answer);
    assert_eq!(outcome.marks().to_string(), "10");
    assert!(told(&outcome).1.len() < 400);
}

#[test]
fn an_empty_key_is_never_marked() {
    let mut glass = Glass::new();
    glass.record.tasting.notes.clear();
    assert!(marked(&glass, "banana").waits());
}

#[test]
fn water_is_marked_against_the_notes_with_water() {
    let glass = Glass::new();
    let outcome = glass.mark(Asked::Water { words: 2 }, "3", "vanilla; toffee");
    assert_eq!(outcome.marks().to_string(), "3");
    assert_eq!(
        glass.mark(Asked::Water { words: 2 }, "3", "banana").marks(),
        Marks::ZERO
    );
}

/// The words of the example's lexicon.
fn all_words(glass: &Glass) -> Vec<WordPlace> {
    glass.lexicon.words().map(|(place, _)| place).collect()
}

/// Lists of different words as places in the lexicon.
fn lists() -> impl Strategy<Value = Vec<usize>> {
    (
        0_usize..=6,
        Just((0..17).collect::<Vec<usize>>()).prop_shuffle(),
    )
        .prop_map(|(length, order)| order.into_iter().take(length).collect())
}

fn share_of(key: &DescriptorKey, words: &[WordPlace], counted: u32) -> f64 {
    key.share(&key.worth(words), counted).as_f64()
}

proptest! {
    #[test]
    fn a_word_that_does_not_contradict_never_lowers_and_one_that_does_never_raises(
        list in lists(), counted in 1_u32..7
    ) {
        let glass = Glass::new();
        let key = glass.key().neat;
        let all = all_words(&glass);
        prop_assert_eq!(all.len(), 17);
        let places: Vec<WordPlace> = list.iter().map(|word| all[*word]).collect();
        let before = share_of(&key, &places, counted);
        for more in all.iter().filter(|place| !places.contains(place)) {
            let mut longer = places.clone();
            longer.push(*more);
            let after = share_of(&key, &longer, counted);
            if key.contradicting.contains(more) {
                prop_assert!(after <= before);
            } else {
                prop_assert!(after >= before);
            }
        }
    }

    #[test]
    fn the_order_among_those_that_count_does_not_matter(
        list in lists(), shuffled in Just(()).prop_perturb(|(), mut rng| rng.random::<u64>())
    ) {
        let glass = Glass::new();
        let key = glass.key().neat;
        let all = all_words(&glass);
        let places: Vec<WordPlace> = list.iter().map(|word| all[*word]).collect();
        let mut other = places.clone();
        let turn = usize::try_from(shuffled % 7).unwrap() % other.len().max(1);
        other.rotate_left(turn);
        if shuffled % 2 == 0 {
            other.reverse();
        }
        prop_assert_eq!(share_of(&key, &places, 6), share_of(&key, &other, 6));
    }

    #[test]
    fn words_beyond_those_that_count_change_nothing(list in lists(), beyond in lists()) {
        let glass = Glass::new();
        let all = all_words(&glass);
        prop_assume!(list.len() >= 3);
        let text = |words: &[usize]| -> String {
            words
                .iter()
                .filter_map(|word| glass.lexicon.main_word(all[*word]))
                .collect::<Vec<_>>()
                .join("; ")
        };
        let short = text(&list[..3]);
        let long = format!("{short}; {}", text(&beyond));
        prop_assert_eq!(marked(&glass, &short).marks(), marked(&glass, &long).marks());
    }

    #[test]
    fn the_sentence_recomputes_the_mark(list in lists()) {
        let glass = Glass::new();
        let all = all_words(&glass);
        let answer: Vec<&str> = list
            .iter()
            .filter_map(|word| glass.lexicon.main_word(all[*word]))
            .collect();
        prop_assume!(!answer.is_empty());
        let outcome = marked(&glass, &answer.join("; "));
        let (_, sentence) = told(&outcome);
        // "; weight 0.894 of 1.949: 3.087 of 10 marks"
        let (before, numbers) = sentence.rsplit_once("; weight ").unwrap();
        let (weights, _) = numbers.split_once(": ").unwrap();
        let (weight, full) = weights.split_once(" of ").unwrap();
        let contradicting = before
            .split("; ")
            .find_map(|part| part.strip_prefix("contradicting this sample: "))
            .map_or(0, |part| part.split(" (").next().unwrap().split(", ").count());
        let share = (weight.parse::<f64>().unwrap() / full.parse::<f64>().unwrap()).min(1.0)
            - 0.15 * contradicting as f64;
        prop_assert!((share.max(0.0) * 10.0 - outcome.marks().as_f64()).abs() <= 0.0005 + 1e-9);
    }
}
