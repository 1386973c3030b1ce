//! From which difficulty on do judges place questions at a level or above?
//!
//! Source: Ferrara & Lewis 2012 (item-descriptor matching): logistic regression of "level L or above"
//! on item difficulty, all judges pooled; the cut is the difficulty where P = ½. Invalid: judges'
//! ratings of one question are not independent, so no standard error is given; levels that do not
//! rise with difficulty (refused). Missing: left out before.

use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::standard_setting::logistic_fit::logistic_fit;

/// The boundary below one level.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct LevelBoundary {
    /// Difficulty at which half of the placements are at the level or above.
    pub difficulty: f64,
    /// Number of questions.
    pub items: usize,
    /// Number of judges.
    pub judges: usize,
}

/// The boundary below `level` from placements (questions in rows, judges in columns).
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::TooFew`, `Refusal::NoVariance`, `Refusal::NotDefined`.
pub fn level_boundary(
    placements: &ScoreTable,
    difficulties: &[f64],
    level: f64,
) -> Result<LevelBoundary, Refusal> {
    at_least(2, placements.persons(), "questions", "a line needs two")?;
    if difficulties.len() != placements.persons() {
        return Err(Refusal::UnequalLengths {
            of: "difficulties",
            have: difficulties.len(),
            expected: placements.persons(),
        });
    }
    let (mut x, mut at_or_above) = (Vec::new(), Vec::new());
    for (row, difficulty) in placements.rows().zip(difficulties) {
        for placed in row {
            x.push(*difficulty);
            at_or_above.push(*placed >= level);
        }
    }
    let fit = logistic_fit(&x, &at_or_above)?;
    if fit.slope <= 0.0 {
        return Err(Refusal::NotDefined {
            of: "the boundary between levels",
            because: "harder questions are not placed higher",
        });
    }
    Ok(LevelBoundary {
        difficulty: -fit.intercept / fit.slope,
        items: placements.persons(),
        judges: placements.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn mirrored_placements_meet_in_the_middle() {
        let table = ScoreTable::new(&[[1.0, 1.0], [1.0, 2.0], [2.0, 1.0], [2.0, 2.0]]).unwrap();
        let made = level_boundary(&table, &[10.0, 20.0, 30.0, 40.0], 2.0).unwrap();
        assert!((made.difficulty - 25.0).abs() < 1e-9, "{made:?}");
        assert!(level_boundary(&table, &[10.0], 2.0).is_err());
    }
}
