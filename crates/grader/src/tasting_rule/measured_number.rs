//! Strength: full marks within the plan's tolerance, half within twice it.
//!
//! Source: common practice, no source. Chance score: a guesser writes any whole number of % vol
//! from 35 to 65, each equally likely; who lists several numbers gets nothing.

use base::Marks;

use crate::award::Outcome;
use crate::theory_rule::numeric::{Wanted, mark_number};

/// The rule's stable name.
pub const RULE: &str = "strength tolerance";

/// The strengths among which a guesser guesses, % vol: where bottled spirits mostly lie (common
/// practice, no source).
pub const GUESSED: std::ops::RangeInclusive<u32> = 35..=65;

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(strength: f64, tolerance: f64, answer: &str, of: Marks) -> Outcome {
    mark_number(
        &Wanted {
            answer: strength,
            written: &strength.to_string(),
            unit: "% vol",
            tolerance,
            half_within: Some(2.0 * tolerance),
        },
        answer,
        of,
        RULE,
    )
}

/// What a guesser gets on average, as a share of the marks.
#[must_use]
pub fn chance_score(strength: f64, tolerance: f64) -> f64 {
    let credits = GUESSED.map(|guess| {
        mark(strength, tolerance, &guess.to_string(), Marks::ONE)
            .marks()
            .as_f64()
    });
    credits.sum::<f64>() / GUESSED.count() as f64
}
