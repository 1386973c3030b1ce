//! Did time run out, and for how many?
//!
//! Source: Swineford 1974, after Donlon 1984 (from memory): a test is unspeeded where 80 per cent of the
//! candidates reach the last question and everybody reaches three quarters of it. Reached is all up to
//! the last question that was answered or left out; what comes after was not reached. Invalid: a table
//! in which what was left out and what was not reached are not told apart (all blanks after the last
//! answer are then taken for not reached); forms whose questions stand in another order than here.
//! Smallest: 10 candidates (common practice, no source). Ties: none. Missing: is what this is about.

use crate::descriptive::proportion::{Proportion, proportion};
use crate::interval::Confidence;
use crate::refusal::{Refusal, at_least};

/// How far candidates came.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Speededness {
    /// Share of candidates who reached the last question, with its interval.
    pub finished: Proportion,
    /// The fewest questions that anybody reached.
    pub least_reached: usize,
    /// Candidates who reached each question.
    pub reached: Vec<usize>,
    /// Whether the rule of the source calls the test unspeeded.
    pub unspeeded: bool,
    /// Number of questions.
    pub items: usize,
}

/// How far candidates came: for each the number of questions that were reached.
///
/// # Errors
/// `Refusal::TooFew` below 10 candidates or without questions; `Refusal::OutOfRange` for more
/// reached than there are.
pub fn speededness(
    reached: &[usize],
    items: usize,
    confidence: Confidence,
) -> Result<Speededness, Refusal> {
    at_least(1, items, "questions", "there is nothing to reach")?;
    at_least(
        10,
        reached.len(),
        "candidates",
        "common practice, no source",
    )?;
    if let Some(more) = reached.iter().find(|reached| **reached > items) {
        return Err(Refusal::OutOfRange {
            of: "number of questions reached",
            value: *more as f64,
            allowed: "at most as many as there are",
        });
    }
    let counted = |place: usize| reached.iter().filter(|reached| **reached > place).count();
    let finished = counted(items - 1);
    let least_reached = reached.iter().copied().min().unwrap_or(0);
    Ok(Speededness {
        finished: proportion(finished, reached.len(), confidence)?,
        least_reached,
        reached: (0..items).map(counted).collect(),
        unspeeded: finished * 5 >= reached.len() * 4 && least_reached * 4 >= items * 3,
        items,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_rule_at_its_edges() {
        let at = |last: usize, least: usize| {
            let mut reached = vec![20; last];
            reached.resize(20, 19);
            reached[19] = least.min(reached[19]);
            speededness(&reached, 20, Confidence::P95).unwrap()
        };
        assert!(at(16, 15).unspeeded);
        assert!(!at(15, 15).unspeeded);
        let low = at(16, 14);
        assert!(!low.unspeeded && low.least_reached == 14);
        assert_eq!(
            (low.reached[13], low.reached[14], low.reached[19]),
            (20, 19, 16)
        );
        assert_eq!(low.finished.successes, 16);
    }

    #[test]
    fn few_candidates_and_impossible_counts_are_refused() {
        assert!(speededness(&[5; 9], 5, Confidence::P95).is_err());
        assert!(speededness(&[6; 10], 5, Confidence::P95).is_err());
        assert!(speededness(&[0; 10], 0, Confidence::P95).is_err());
    }
}
