//! Do a judge's estimates fit how hard the questions really were?
//!
//! Sources: Kane 1987: the ability at which the expected total equals the cut; van der Linden 1982
//! and Goodwin 1999: each judge's estimates against the probabilities at that ability, as
//! correlation, mean absolute difference and root mean square. Invalid: without difficulties from a
//! Rasch analysis on enough candidates; a cut of none or all questions. Missing: refused.

use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::standard_setting::angoff::shares_only;
use crate::standard_setting::rasch_curve::{ability_of_total, probability};
use crate::sums::{correlation, mean, sum};

/// One judge against the difficulties.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct JudgeConsistency {
    /// Correlation of estimates and probabilities; a refusal when either does not vary.
    pub correlation: Result<f64, Refusal>,
    /// Mean absolute difference.
    pub mean_difference: f64,
    /// Root mean square of the differences.
    pub root_mean_square: f64,
}

/// All judges against the difficulties.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct AngoffConsistency {
    /// Ability at which the expected total is the mean cut.
    pub ability: f64,
    /// In the order of the judges.
    pub judges: Vec<JudgeConsistency>,
    /// Number of questions.
    pub items: usize,
}

/// Compares estimates (questions in rows, judges in columns) with Rasch difficulties.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::OutOfRange`, or `Refusal::NotDefined` for a cut of none or
/// all questions.
pub fn angoff_consistency(
    estimates: &ScoreTable,
    difficulties: &[f64],
) -> Result<AngoffConsistency, Refusal> {
    at_least(
        2,
        estimates.persons(),
        "questions",
        "a correlation needs two",
    )?;
    shares_only(estimates)?;
    let items = estimates.persons();
    if difficulties.len() != items {
        return Err(Refusal::UnequalLengths {
            of: "difficulties",
            have: difficulties.len(),
            expected: items,
        });
    }
    if let Some(column) = difficulties.iter().position(|b| !b.is_finite()) {
        return Err(Refusal::NotANumber { row: 0, column });
    }
    let cuts: Vec<f64> = estimates
        .item_columns()
        .iter()
        .map(|own| sum(own.iter().copied()))
        .collect();
    let cut = mean(&cuts)?;
    if cut <= 0.0 || cut >= items as f64 {
        return Err(Refusal::NotDefined {
            of: "the ability at the cut",
            because: "the cut is none or all of the questions",
        });
    }
    let ability = ability_of_total(cut, difficulties);
    let probabilities: Vec<f64> = difficulties
        .iter()
        .map(|difficulty| probability(ability, *difficulty))
        .collect();
    let judges = estimates
        .item_columns()
        .iter()
        .map(|own| {
            let differences: Vec<f64> =
                own.iter().zip(&probabilities).map(|(a, b)| a - b).collect();
            let n = items as f64;
            JudgeConsistency {
                correlation: correlation(own, &probabilities),
                mean_difference: sum(differences.iter().map(|d| d.abs())) / n,
                root_mean_square: (sum(differences.iter().map(|d| d * d)) / n).sqrt(),
            }
        })
        .collect();
    Ok(AngoffConsistency {
        ability,
        judges,
        items,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_judge_who_knows_the_curve_is_consistent() {
        let difficulties = [-1.0, 0.0, 1.5];
        let rows: Vec<Vec<f64>> = difficulties
            .iter()
            .map(|b| vec![probability(0.3, *b)])
            .collect();
        let made = angoff_consistency(&ScoreTable::new(&rows).unwrap(), &difficulties).unwrap();
        assert!((made.ability - 0.3).abs() < 1e-12);
        assert!(made.judges[0].root_mean_square < 1e-12);
        let none = ScoreTable::new(&[[0.0], [0.0], [0.0]]).unwrap();
        assert!(angoff_consistency(&none, &difficulties).is_err());
    }
}
