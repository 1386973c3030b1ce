//! Which questions of a test treat two groups of equal ability unequally?
//!
//! Sources: Holland & Thayer 1988 (the matching score contains the question under study);
//! purification as in Magis, Béland, Tuerlinckx & De Boeck 2010: flagged questions leave the
//! matching score of the others until the same questions are flagged twice. Many questions are
//! tested at once, so some flags are chance: a flag is a reason to read the question, not to drop
//! it. Invalid: fewer than about 20 questions (common practice, no source). Smallest groups: see
//! [`super::strata`]. Missing: none in the table; questions not reached are wrong there.

use crate::distribution::chi_square;
use crate::fairness::mantel_haenszel::{MantelHaenszel, mantel_haenszel};
use crate::fairness::strata::strata_by_score;
use crate::interval::Confidence;
use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::sum;

/// Rounds after which purification is given up.
const ROUNDS: usize = 50;

/// What candidates are matched on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Matching {
    /// All questions.
    Total,
    /// The question itself and those that are not flagged.
    Purified,
}

/// All questions of a test.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ItemScreen {
    /// Each question's comparison, or why there is none.
    pub items: Vec<Result<MantelHaenszel, Refusal>>,
    /// Places of the flagged questions, counted from 0.
    pub flagged: Vec<usize>,
    /// How often the comparisons were made.
    pub rounds: usize,
}

/// Compares every question; those whose χ² with correction reaches the upper point that leaves
/// `level` (such as 0.05) are flagged.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::OutOfRange` for marks other than 0 and 1 or a level not
/// between 0 and 1, `Refusal::TooFew` questions, `Refusal::NotSettled` when purification goes in
/// circles.
pub fn item_screen(
    scores: &ScoreTable,
    focal: &[bool],
    matching: Matching,
    level: f64,
    confidence: Confidence,
) -> Result<ItemScreen, Refusal> {
    at_least(2, scores.items(), "questions", "a matching score needs two")?;
    if focal.len() != scores.persons() {
        return Err(Refusal::UnequalLengths {
            of: "group beside candidates",
            have: focal.len(),
            expected: scores.persons(),
        });
    }
    if !(level > 0.0 && level < 1.0) {
        return Err(Refusal::OutOfRange {
            of: "level of a flag",
            value: level,
            allowed: "between 0 and 1",
        });
    }
    let other = scores
        .rows()
        .flatten()
        .find(|mark| **mark != 0.0 && **mark != 1.0);
    if let Some(mark) = other {
        return Err(Refusal::OutOfRange {
            of: "a mark",
            value: *mark,
            allowed: "0 or 1",
        });
    }
    let critical = chi_square::quantile_of_upper_tail(level, 1.0);
    let mut flagged: Vec<usize> = Vec::new();
    for round in 1..=ROUNDS {
        let items: Vec<Result<MantelHaenszel, Refusal>> = (0..scores.items())
            .map(|item| {
                let right: Vec<bool> = scores.column(item).iter().map(|mark| *mark > 0.5).collect();
                let matched = matching_scores(scores, item, &flagged);
                mantel_haenszel(&strata_by_score(&right, focal, &matched)?, confidence)
            })
            .collect();
        let now: Vec<usize> = items
            .iter()
            .enumerate()
            .filter(|(_, made)| made.as_ref().is_ok_and(|made| made.chi_square >= critical))
            .map(|(place, _)| place)
            .collect();
        let settled = match matching {
            Matching::Total => true,
            Matching::Purified => now == flagged,
        };
        if settled {
            return Ok(ItemScreen {
                items,
                flagged: now,
                rounds: round,
            });
        }
        flagged = now;
    }
    Err(Refusal::NotSettled {
        of: "purification of the matching score",
        steps: ROUNDS,
    })
}

/// Totals without the flagged questions, the question under study always among them.
#[must_use]
pub fn matching_scores(scores: &ScoreTable, item: usize, flagged: &[usize]) -> Vec<f64> {
    scores
        .rows()
        .map(|row| {
            sum(row
                .iter()
                .enumerate()
                .filter(|(place, _)| *place == item || !flagged.contains(place))
                .map(|(_, mark)| *mark))
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    /// 400 candidates by 12 questions; the last is far harder for the focal group.
    fn table() -> (ScoreTable, Vec<bool>) {
        let focal: Vec<bool> = (0..400_u32).map(|person| person % 2 == 0).collect();
        let rows: Vec<Vec<f64>> = (0..400_u32)
            .map(|person| {
                (0..12_u32)
                    .map(|item| {
                        let draw = (person * 7919 + item * 104_729 + person * item * 31) % 97;
                        let ability = 20 + person / 2 % 50;
                        let harder = if item == 11 && person % 2 == 0 { 40 } else { 0 };
                        f64::from(u8::from(draw + harder < ability + 10))
                    })
                    .collect()
            })
            .collect();
        (ScoreTable::new(&rows).unwrap(), focal)
    }

    #[test]
    fn the_planted_question_is_found_either_way() {
        let (scores, focal) = table();
        for matching in [Matching::Total, Matching::Purified] {
            let made = item_screen(&scores, &focal, matching, 0.01, Confidence::P95).unwrap();
            assert!(made.flagged.contains(&11), "{:?}", made.flagged);
            let worst = made.items.get(11).unwrap().unwrap();
            assert!(worst.delta < -1.5);
        }
    }

    #[test]
    fn part_marks_are_refused() {
        let scores = ScoreTable::new(&[[0.5, 1.0], [0.0, 1.0]]).unwrap();
        let made = item_screen(
            &scores,
            &[true, false],
            Matching::Total,
            0.05,
            Confidence::P95,
        );
        assert!(matches!(made, Err(Refusal::OutOfRange { .. })));
    }
}
