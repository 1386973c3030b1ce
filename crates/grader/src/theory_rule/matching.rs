//! Matching: each pair counts alike and is judged by itself.
//!
//! Source: common practice, no source. Chance score: with m entries in the right column each left
//! entry is hit once in m, whether or not entries are used twice. How many pairs a guesser who
//! uses each entry once has right: matching without replacement (de Montmort's problem).

use base::Marks;
use question_bank::PrintedOrder;
use question_bank::printed_order::place_of;
use question_bank::question_kind::Matching;

use super::TheoryRule;
use crate::printed_letters::{Unreadable, read_letters};
use crate::reason::{Earned, Reason};
use crate::rules::{PRACTICE, Rule, rule};
use crate::share::Share;
use crate::verdict::Verdict;

/// The lines in the list of rules.
pub(crate) const RULES: &[Rule] = &[rule(
    "matching pairs",
    "matching",
    PRACTICE,
    "any right-hand entry for each left-hand one",
)];

impl TheoryRule for Matching {
    fn verdict(&self, order: &PrintedOrder, answer: &str, of: Marks) -> Verdict {
        mark(self, order, answer, of)
    }
    fn rule(&self) -> &'static str {
        RULE
    }
    fn guesser(&self) -> f64 {
        chance_score(self)
    }
}

/// The rule's stable name.
pub const RULE: &str = "matching pairs";

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(kind: &Matching, order: &PrintedOrder, answer: &str, of: Marks) -> Verdict {
    let left = kind.pairs.len();
    let joined = match read_pairs(answer, left, kind.right_column().len()) {
        Ok(joined) => joined,
        Err(why) => return Verdict::for_a_person(why, Vec::new()),
    };
    let right = joined
        .iter()
        .enumerate()
        .filter(|(left, letters)| match letters.as_slice() {
            [one] => order.written_at(*one) == Some(*left),
            // Nothing, or two letters for one entry.
            _ => false,
        })
        .count();
    let marks = Share::of_counts(i64::try_from(right).unwrap_or(i64::MAX), left).of(of);
    Reason::PairsMatched {
        right,
        pairs: left,
        earned: Earned { marks, of },
    }
    .verdict(marks, RULE)
}

/// The printed right-hand places joined to each left-hand entry: from "1B 2A 3C", or from letters
/// in the order of the left column with a stroke for an open one: "B A - C".
fn read_pairs(answer: &str, left: usize, printed: usize) -> Result<Vec<Vec<usize>>, String> {
    let mut joined: Vec<Vec<usize>> = vec![Vec::new(); left];
    if !answer.chars().any(|c| c.is_ascii_digit()) {
        let mut entries: Vec<Option<usize>> = Vec::new();
        for token in answer.split(|c: char| c.is_whitespace() || matches!(c, ';' | ',' | '/')) {
            if matches!(token, "-" | "–" | "—" | "_") {
                entries.push(None);
            } else if !token.is_empty() {
                let letters = read_letters(token, printed).map_err(|why| why.sentence(printed))?;
                entries.extend(letters.into_iter().map(Some));
            }
        }
        if entries.len() != left {
            return Err(format!(
                "{} letters stand for {left} entries, so it cannot be told which belongs to which",
                entries.len()
            ));
        }
        for (slot, entry) in joined.iter_mut().zip(entries) {
            slot.extend(entry);
        }
        return Ok(joined);
    }
    let mut number: Option<usize> = None;
    let mut digits = String::new();
    for c in answer.chars().chain([' ']) {
        if c.is_ascii_digit() {
            digits.push(c);
            continue;
        }
        if !digits.is_empty() {
            let read = digits
                .parse::<usize>()
                .ok()
                .filter(|n| (1..=left).contains(n));
            if read.is_none() {
                return Err(format!(
                    "\"{}\" is no number of the left column, which ends at {left}",
                    base::walk::shortened(&digits)
                ));
            }
            number = read;
            digits.clear();
        }
        if let Some(place) = place_of(c) {
            if place >= printed {
                return Err(Unreadable::Beyond(c.to_ascii_uppercase()).sentence(printed));
            }
            let Some(slot) = number.and_then(|n| joined.get_mut(n - 1)) else {
                return Err(format!(
                    "{} stands without a number of the left column",
                    c.to_ascii_uppercase()
                ));
            };
            if !slot.contains(&place) {
                slot.push(place);
            }
        } else if !(c.is_whitespace()
            || matches!(
                c,
                ';' | ',' | '-' | '–' | ':' | '=' | '.' | ')' | '(' | '/' | '>' | '→'
            ))
        {
            return Err(format!("\"{c}\" is neither a number nor a letter"));
        }
    }
    Ok(joined)
}

/// What a guesser gets on average, as a share of the marks.
#[must_use]
pub fn chance_score(kind: &Matching) -> f64 {
    1.0 / kind.right_column().len().max(1) as f64
}

/// How many pairs a guesser who uses each right-hand entry at most once has right: the chances of
/// exactly 0, 1, … `left` of them, with `right` entries to choose from (at least as many). By
/// inclusion and exclusion; exact in floating point for the few entries that a question has.
#[must_use]
pub fn hits_without_replacement(left: usize, right: usize) -> Vec<f64> {
    let arrangements = |from: usize, take: usize| -> f64 {
        (0..take).fold(1.0, |ways, i| ways * from.saturating_sub(i) as f64)
    };
    let choose = |all: usize, some: usize| -> f64 {
        (0..some).fold(1.0, |ways, i| ways * (all - i) as f64 / (i + 1) as f64)
    };
    let all = arrangements(right, left);
    if all == 0.0 {
        return Vec::new();
    }
    (0..=left)
        .map(|hits| {
            let rest = left - hits;
            let none_further: f64 = (0..=rest)
                .map(|i| {
                    let sign = if i % 2 == 0 { 1.0 } else { -1.0 };
                    sign * choose(rest, i) * arrangements(right - hits - i, rest - i)
                })
                .sum();
            choose(left, hits) * none_further / all
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::{matching, question, told};
    use crate::mark_theory;

    #[test]
    fn pairs_are_read_as_people_write_them() {
        let read = |text| read_pairs(text, 3, 4);
        let expected = Ok(vec![vec![1], vec![0], vec![3]]);
        for text in [
            "1B 2A 3D",
            "1-b; 2-a; 3-d",
            "3D,1B,2A",
            "1: B 2: A 3: D",
            "B A D",
            "BAD",
            "b,a,d",
        ] {
            assert_eq!(read(text), expected, "{text}");
        }
        assert_eq!(read("B - D"), Ok(vec![vec![1], vec![], vec![3]]));
        assert_eq!(read("1B 1C"), Ok(vec![vec![1, 2], vec![], vec![]]));
        for text in [
            "B A",
            "B A D C",
            "4A",
            "1E",
            "E A B",
            "A1",
            "1B?",
            "0A",
            "99999999999999999999A",
        ] {
            assert!(read(text).is_err(), "{text}");
        }
    }

    #[test]
    fn pairs_are_read_through_the_printed_order() {
        // Printed: A two, B four, C one, D three.
        let order = PrintedOrder::from_places(vec![1, 3, 0, 2]).unwrap();
        let question = question(matching(), "3");
        for (answer, marks) in [
            ("1C 2A 3D", "3"),
            ("C A D", "3"),
            ("C A B", "2"),
            ("1C 1D 2A", "1"),
            ("C C C", "1"),
            ("- A -", "1"),
        ] {
            let outcome = mark_theory(&question, &order, answer);
            assert_eq!(outcome.marks().to_string(), marks, "{answer}");
        }
        assert!(mark_theory(&question, &order, "C A").waits());
        assert_eq!(
            told(&mark_theory(&question, &order, "C A B")).1,
            "2 of 3 pairs are right: 2 of 3 marks"
        );
    }

    #[test]
    fn the_mean_of_hits_is_the_chance_score() {
        for (left, right) in [(2, 2), (3, 4), (5, 5), (4, 7)] {
            let hits = hits_without_replacement(left, right);
            let sum: f64 = hits.iter().sum();
            let mean: f64 = hits
                .iter()
                .zip(0_u32..)
                .map(|(p, k)| p * f64::from(k))
                .sum();
            assert!((sum - 1.0).abs() < 1e-12, "{left} {right}");
            assert!(
                (mean / left as f64 - 1.0 / right as f64).abs() < 1e-12,
                "{left} {right}"
            );
        }
    }

    #[test]
    fn a_hand_count_of_hits_with_a_distractor() {
        // Two left entries, three right ones: of the 6 arrangements 1 has both, 2 have one.
        let hits = hits_without_replacement(2, 3);
        for (found, expected) in hits.iter().zip([3.0 / 6.0, 2.0 / 6.0, 1.0 / 6.0]) {
            assert!((found - expected).abs() < 1e-12, "{hits:?}");
        }
    }
}
