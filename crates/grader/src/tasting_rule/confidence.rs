//! Confidence: a hundred parts shared out over a short list, of which one name is right.
//!
//! Quadratic: credit = 1 - d / 2 with d the squared distances of the stated shares from the truth
//! (Brier 1950), in whole hundredths and therefore exact. Logarithmic: credit grows with the
//! logarithm of what was given to the right name (Good 1952); nothing counts as less than one part
//! of a hundred, and all parts are then taken of their sum, so that certainty earns full marks and
//! certainty of something else nothing: ln(right / sum · (99 + k)) / ln(100) for k names.
//!
//! Both are proper: who states what they believe may expect most, and nothing is gained by
//! sounding surer. Nothing is therefore held at 0 or taken off, which would undo that, and who
//! knows nothing and says so earns much: 1/2 + 1/(2k), or ln((99 + k) / k) / ln(100). That is the
//! chance score; it stands with the question and is the price of the rule.

use base::Marks;
use exam_plan::confidence::{Confidence, ConfidenceScore};
use question_bank::printed_order::place_of;
use question_bank::word_match::fold;
use statistics::forecast::logarithmic_score::logarithmic_loss;

use crate::reason::{Beliefs, Earned, Reason};
use crate::share::Share;
use crate::spelling::is_slip;
use crate::verdict::Verdict;

/// The rule's stable name for squared distances.
pub const QUADRATIC_RULE: &str = "confidence quadratic";
/// The rule's stable name for the logarithm.
pub const LOGARITHMIC_RULE: &str = "confidence logarithmic";

/// All that is shared out.
pub const PARTS: u32 = 100;

/// The rule's stable name.
#[must_use]
pub const fn rule_name(score: ConfidenceScore) -> &'static str {
    match score {
        ConfidenceScore::Quadratic => QUADRATIC_RULE,
        ConfidenceScore::Logarithmic => LOGARITHMIC_RULE,
    }
}

/// Squared distances of stated parts from the truth, in ten-thousandths: 0 to 20,000.
#[must_use]
pub fn squared_distance(stated: &[u32], right: usize) -> u32 {
    stated
        .iter()
        .enumerate()
        .map(|(place, parts)| {
            let came = if place == right { PARTS } else { 0 };
            came.abs_diff(*parts).saturating_pow(2)
        })
        .fold(0, u32::saturating_add)
}

/// Parts given to the right name and to all, none of them counted as less than one.
#[must_use]
pub fn held_parts(stated: &[u32], right: usize) -> (u32, u32) {
    let held = |parts: &u32| (*parts).max(1);
    let sum = stated.iter().map(held).fold(0, u32::saturating_add);
    (stated.get(right).map_or(1, held), sum)
}

/// The logarithmic credit, 0 to 1.
#[must_use]
pub fn logarithmic_credit(stated: &[u32], right: usize) -> f64 {
    let (_, sum) = held_parts(stated, right);
    let shares: Vec<f64> = stated
        .iter()
        .map(|parts| f64::from((*parts).max(1)) / f64::from(sum.max(1)))
        .collect();
    let longest = libm::log(all_at_most(stated.len()));
    let whole = libm::log(f64::from(PARTS));
    // Shares of a sum are probabilities; without any there is nothing to earn.
    logarithmic_loss(&shares, right, 0.0)
        .map_or(0.0, |loss| ((longest - loss) / whole).clamp(0.0, 1.0))
}

/// The sum of all parts of who gives everything to one of so many names.
fn all_at_most(names: usize) -> f64 {
    f64::from(PARTS) - 1.0 + names as f64
}

/// Marks an answer that is not blank. `right` is the place of the right name.
#[must_use]
pub fn mark(right: Option<usize>, asked: &Confidence, answer: &str, of: Marks) -> Verdict {
    let Some((right, truth)) = right.and_then(|place| Some((place, asked.from.get(place)?))) else {
        return Verdict::for_a_person("no single name of the list is right", Vec::new());
    };
    let stated = match read_parts(answer, &asked.from) {
        Ok(stated) => stated,
        Err(why) => return Verdict::for_a_person(why, asked.from.clone()),
    };
    let (marks, score) = match asked.score {
        ConfidenceScore::Quadratic => {
            let distance = squared_distance(&stated, right);
            let share = Share::new(20_000_u32.saturating_sub(distance), 20_000);
            (share.of(of), BeliefScore::Squares(distance))
        }
        ConfidenceScore::Logarithmic => {
            let Some(marks) = of.credit(logarithmic_credit(&stated, right)) else {
                return Verdict::for_a_person("these shares have no score", Vec::new());
            };
            let (held, sum) = held_parts(&stated, right);
            let all = PARTS - 1 + u32::try_from(stated.len()).unwrap_or(0);
            (marks, BeliefScore::Logarithm { held, sum, all })
        }
    };
    let given = asked.from.iter().cloned().zip(stated);
    Reason::Beliefs(Box::new(Beliefs {
        given: given.filter(|(_, parts)| *parts > 0).collect(),
        truth: truth.clone(),
        score,
        earned: Earned { marks, of },
    }))
    .verdict(marks, rule_name(asked.score))
}

/// What a stated share came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BeliefScore {
    /// Squared distances in ten-thousandths.
    Squares(u32),
    /// Parts held for the right name, parts in all, and the most that all can be.
    Logarithm {
        /// Parts of the right name, at least one.
        held: u32,
        /// All parts, none counted as less than one.
        sum: u32,
        /// The sum of who gives everything to one name.
        all: u32,
    },
}

/// The parts for each name of the list: `gin 60; rum 40`, with the printed letter for the name
/// (`A 60; B 40`), or a number for each name in the order of the list. What is not named has none.
fn read_parts(answer: &str, from: &[String]) -> Result<Vec<u32>, String> {
    let stated = if answer.chars().any(char::is_alphabetic) {
        named_parts(answer, from)?
    } else {
        parts_in_order(answer, from.len())?
    };
    let sum: u64 = stated.iter().map(|parts| u64::from(*parts)).sum();
    if sum == u64::from(PARTS) {
        Ok(stated)
    } else {
        Err(format!("the parts add up to {sum}, not to {PARTS}"))
    }
}

fn parts_in_order(answer: &str, names: usize) -> Result<Vec<u32>, String> {
    let numbers: Vec<&str> = answer
        .split(|c: char| c.is_whitespace() || matches!(c, ';' | ',' | '/' | '%'))
        .filter(|number| !number.is_empty())
        .collect();
    if numbers.len() != names {
        return Err(format!(
            "{} numbers stand for {names} names, so it cannot be told which belongs to which",
            numbers.len()
        ));
    }
    numbers.into_iter().map(whole_parts).collect()
}

fn named_parts(answer: &str, from: &[String]) -> Result<Vec<u32>, String> {
    let mut stated: Vec<Option<u32>> = vec![None; from.len()];
    // A comma may belong to a printed name.
    let commas = !answer.contains([';', '\n']) && !from.iter().any(|name| name.contains(','));
    let parted = |c: char| matches!(c, ';' | '\n' | '\r') || (c == ',' && commas);
    for piece in answer.split(parted).map(str::trim) {
        if piece.is_empty() {
            continue;
        }
        let shown = base::walk::shortened(piece);
        let bare = piece.trim_end_matches(['%', ' ']);
        let digits = bare.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        let (name, number) = bare.split_at(digits);
        let name = name.trim_end_matches([' ', ':', '=', '-', '–']).trim();
        if number.is_empty() {
            return Err(format!("\"{shown}\" says no number of parts"));
        }
        let place = place_named(name, from)
            .ok_or_else(|| format!("\"{shown}\" names nothing on the printed list"))?;
        let parts = whole_parts(number)?;
        match stated.get_mut(place) {
            Some(slot @ None) => *slot = Some(parts),
            Some(Some(_)) | None => return Err(format!("\"{shown}\" names the same again")),
        }
    }
    Ok(stated.into_iter().map(Option::unwrap_or_default).collect())
}

fn whole_parts(number: &str) -> Result<u32, String> {
    number
        .parse::<u32>()
        .ok()
        .filter(|parts| *parts <= PARTS)
        .ok_or_else(|| {
            let shown = base::walk::shortened(number);
            format!("\"{shown}\" is no whole number from 0 to {PARTS}")
        })
}

/// The place of a name: as printed, by its letter, or by a slip of one name only.
fn place_named(name: &str, from: &[String]) -> Option<usize> {
    let written = fold(name);
    if written.is_empty() {
        return None;
    }
    let folded: Vec<String> = from.iter().map(|name| fold(name)).collect();
    if let Some(place) = folded.iter().position(|name| *name == written) {
        return Some(place);
    }
    let mut letters = name.chars();
    if let (Some(letter), None) = (letters.next(), letters.next()) {
        return place_of(letter).filter(|place| *place < from.len());
    }
    let mut slips = (0..from.len()).filter(|place| {
        let name = folded.get(*place);
        name.is_some_and(|name| is_slip(&written, name))
    });
    slips.next().filter(|_| slips.next().is_none())
}

/// What somebody gets who knows nothing and says so: the same for each name.
#[must_use]
pub fn chance_score(asked: &Confidence) -> f64 {
    let names = asked.from.len().max(1) as f64;
    match asked.score {
        ConfidenceScore::Quadratic => 0.5 + 0.5 / names,
        ConfidenceScore::Logarithmic => {
            libm::log(all_at_most(asked.from.len()) / names) / libm::log(f64::from(PARTS))
        }
    }
}

#[cfg(test)]
mod tests;
