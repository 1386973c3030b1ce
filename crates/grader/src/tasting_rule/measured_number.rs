//! Strength: full marks within the plan's tolerance, half within twice it.
//!
//! Source: common practice, no source. Chance score: a guesser writes any whole number of % vol
//! from 35 to 65, each equally likely; who lists several numbers gets nothing.

use base::Marks;

use crate::theory_rule::{Wanted, mark_number};
use crate::verdict::Verdict;

/// The rule's stable name.
pub const RULE: &str = "strength tolerance";

/// The strengths among which a guesser guesses, % vol: where bottled spirits mostly lie (common
/// practice, no source).
pub const GUESSED: std::ops::RangeInclusive<u32> = 35..=65;

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(strength: f64, tolerance: f64, answer: &str, of: Marks) -> Verdict {
    mark_number(
        &Wanted {
            answer: strength,
            written: &strength.to_string(),
            unit: "% vol",
            tolerance,
            half_within: Some(2.0 * tolerance),
            mistakes: &[],
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example::{Glass, told};
    use exam_plan::Asked;

    #[test]
    fn half_marks_reach_twice_as_far() {
        let glass = Glass::new();
        for (answer, marks) in [
            ("43", "1"),
            ("44 %", "1"),
            ("45", "0.5"),
            ("40.9", "0"),
            ("41", "0.5"),
        ] {
            let outcome = glass.mark(Asked::Strength { tolerance: 1.0 }, "1", answer);
            assert_eq!(told(&outcome).0, marks, "{answer}");
        }
        assert_eq!(
            told(&glass.mark(Asked::Strength { tolerance: 1.0 }, "1", "45")).1,
            "45 earns half by lying within 2 of 43 % vol: 0.5 of 1 mark"
        );
    }

    #[test]
    fn a_guesser_by_hand() {
        // 42, 43, 44 full, 41 and 45 half: 4 of 31 guesses' worth.
        assert!((chance_score(43.0, 1.0) - 4.0 / 31.0).abs() < 1e-12);
    }
}
