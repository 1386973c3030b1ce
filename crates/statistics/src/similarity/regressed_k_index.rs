//! The K index with the expected share taken from all groups, when the copier's own is small.
//!
//! Source: Sotaridona & Meijer 2002, K₁ and K₂: the groups' mean shares of the source's wrong
//! choices, regressed on their share of wrong answers by a line or a parabola, each group counting
//! once and the source left out. Invalid: a regression that leaves 0 to 1 at the copier's place
//! (refused). Smallest: one group more than coefficients. Missing: a blank is wrong and shared with
//! nobody.

use crate::refusal::{Refusal, at_least};
use crate::similarity::answer_sheets::{AnswerSheets, Pair};
use crate::similarity::k_index::{KIndex, tail};
use crate::small_system::{solve, weighted_products};

/// The shape of the regression.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Regression {
    /// K₁: a line.
    Line,
    /// K₂: a parabola.
    Parabola,
}

/// K₁ or K₂ of a pair; `group` of the result counts the copier's own group, which may be the copier.
///
/// # Errors
/// `Refusal::OutOfRange` for the pair; `Refusal::NotDefined` when the source has no wrong answer or
/// the regression leaves 0 to 1; `Refusal::TooFew` groups.
pub fn regressed_k_index(
    sheets: &AnswerSheets,
    pair: Pair,
    regression: Regression,
) -> Result<KIndex, Refusal> {
    let shared = sheets.shared_wrong(pair)?;
    let [_, source] = sheets.pair(pair)?;
    let groups = sheets.groups(source, |place| place != pair.source);
    let coefficients = match regression {
        Regression::Line => 2,
        Regression::Parabola => 3,
    };
    at_least(
        coefficients + 1,
        groups.len(),
        "different numbers of wrong answers",
        "a regression needs more points than coefficients",
    )?;
    let questions = sheets.questions() as f64;
    let powers = |wrong: usize| -> Vec<f64> {
        let at = wrong as f64 / questions;
        [1.0, at, at * at].into_iter().take(coefficients).collect()
    };
    let rows: Vec<Vec<f64>> = groups.iter().map(|group| powers(group.wrong)).collect();
    let columns: Vec<Vec<f64>> = (0..coefficients)
        .map(|column| {
            rows.iter()
                .filter_map(|row| row.get(column).copied())
                .collect()
        })
        .collect();
    let shares: Vec<f64> = groups
        .iter()
        .map(|group| group.mean_shared / shared.source_wrong as f64)
        .collect();
    let (matrix, right) = weighted_products(&columns, &vec![1.0; groups.len()], &shares);
    let line = solve(&matrix, &right).ok_or(Refusal::NotDefined {
        of: "the regressed K index",
        because: "the numbers of wrong answers do not tell the coefficients apart",
    })?;
    let expected_share: f64 = powers(shared.copier_wrong)
        .iter()
        .zip(&line)
        .map(|(power, coefficient)| power * coefficient)
        .sum();
    if !(0.0..=1.0).contains(&expected_share) {
        return Err(Refusal::NotDefined {
            of: "the regressed K index",
            because: "the regression leaves 0 to 1 at the copier's number of wrong answers",
        });
    }
    Ok(KIndex {
        p_value: tail(shared.shared, shared.source_wrong, expected_share),
        shared: shared.shared,
        source_wrong: shared.source_wrong,
        expected_share,
        group: groups
            .iter()
            .find(|group| group.wrong == shared.copier_wrong)
            .map_or(0, |group| group.size),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::similarity::answer_sheets::tests::sheets;

    #[test]
    fn the_line_passes_through_the_mean_of_the_groups() {
        let pair = Pair {
            copier: 0,
            source: 1,
        };
        let made = regressed_k_index(&sheets(), pair, Regression::Line).unwrap();
        // Groups of 1, 2, 3 and 5 wrong (4 is the source alone): candidates 2, 4, 9, 10 share
        // 0, 0, 1, 1; 7 shares 1; 0, 3, 5, 6 share 3, 0, 2, 1; 8 and 11 share 2 and 2.
        let (wrong, share) = ([1.0, 2.0, 3.0, 5.0], [0.5, 1.0, 1.5, 2.0]);
        let (mx, my) = (2.75, 1.25);
        let product: f64 = wrong
            .iter()
            .zip(share)
            .map(|(x, y)| (x - mx) * (y - my))
            .sum();
        let square: f64 = wrong.iter().map(|x| (x - mx) * (x - mx)).sum();
        let expected = (my + product / square * (3.0 - mx)) / 4.0;
        assert!((made.expected_share - expected).abs() < 1e-13, "{made:?}");
    }

    #[test]
    fn two_groups_carry_no_parabola() {
        let few = AnswerSheets::new(
            vec![vec![Some(0), Some(1)], vec![Some(1), Some(1)]],
            vec![0, 0],
        )
        .unwrap();
        let pair = Pair {
            copier: 0,
            source: 1,
        };
        assert!(matches!(
            regressed_k_index(&few, pair, Regression::Parabola),
            Err(Refusal::TooFew { need: 4, .. })
        ));
    }
}
