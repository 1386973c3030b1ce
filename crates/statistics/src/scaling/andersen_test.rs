//! Are the questions equally hard, next to each other, for weak and for strong candidates?
//!
//! Source: Andersen 1973, eq. 3.3: twice the gain in conditional log-likelihood when each group has its
//! own thresholds; chi-square with (groups - 1)(thresholds - 1) degrees of freedom.
//! Invalid: a split by something that came out of the same answers other than the total. Smallest n: 30
//! in each group with neither no marks nor all (common practice). Ties: totals at the mean go to the
//! lower group. Missing: refused.

use super::conditional_likelihood::ConditionalLikelihood;
use super::least_persons;
use super::response_table::ResponseTable;
use crate::distribution::chi_square;
use crate::p_value::{PValue, Side};
use crate::refusal::{Refusal, at_least};
use std::collections::BTreeMap;

/// The likelihood ratio.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct AndersenTest {
    /// The statistic.
    pub likelihood_ratio: f64,
    /// Degrees of freedom.
    pub degrees_of_freedom: usize,
    /// Probability of as much or more, were the questions equally hard for all.
    pub p_value: PValue,
    /// Candidates that tell something, by group in rising order.
    pub group_sizes: Vec<usize>,
}

/// Group 1 for totals above the mean total, group 0 for the others.
///
/// # Errors
/// `Refusal::NotANumber` at a gap.
pub fn split_at_mean(table: &ResponseTable) -> Result<Vec<usize>, Refusal> {
    let totals: Vec<usize> = table
        .complete_rows()?
        .iter()
        .map(|row| row.iter().sum())
        .collect();
    let whole: usize = totals.iter().sum();
    // total > whole / n, without rounding.
    Ok(totals
        .iter()
        .map(|total| usize::from(total * totals.len() > whole))
        .collect())
}

/// Compares the groups.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::TooFew` below two groups or 30 in one; in each group what
/// conditional estimation refuses.
pub fn andersen_test(table: &ResponseTable, groups: &[usize]) -> Result<AndersenTest, Refusal> {
    if groups.len() != table.persons() {
        return Err(Refusal::UnequalLengths {
            of: "groups beside candidates",
            have: groups.len(),
            expected: table.persons(),
        });
    }
    let mut rows: BTreeMap<usize, Vec<&[Option<u8>]>> = BTreeMap::new();
    for (row, group) in table.rows().zip(groups) {
        rows.entry(*group).or_default().push(row);
    }
    at_least(2, rows.len(), "groups", "a comparison needs two")?;
    let (least, reason) = least_persons::GROUP;
    let together = ConditionalLikelihood::of(table, least, reason)?.fit("Andersen's test")?;
    let thresholds: usize = together.thresholds.iter().map(Vec::len).sum();
    let mut gain = -together.log_likelihood;
    let mut group_sizes = Vec::with_capacity(rows.len());
    for rows in rows.values() {
        let part = ResponseTable::new(rows)?;
        let fit = ConditionalLikelihood::of(&part, least, reason)?.fit("Andersen's test")?;
        if fit.thresholds.iter().map(Vec::len).sum::<usize>() != thresholds {
            return Err(Refusal::NotDefined {
                of: "Andersen's test",
                because: "a group never gave a category that another gave",
            });
        }
        gain += fit.log_likelihood;
        group_sizes.push(fit.persons);
    }
    let degrees_of_freedom = (group_sizes.len() - 1) * (thresholds - 1);
    // Rounding may leave a hair below 0 where the groups agree exactly.
    let likelihood_ratio = (2.0 * gain).max(0.0);
    Ok(AndersenTest {
        likelihood_ratio,
        degrees_of_freedom,
        p_value: PValue {
            probability: chi_square::upper_tail(likelihood_ratio, degrees_of_freedom as f64),
            side: Side::Upper,
        },
        group_sizes,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::item_curve::ItemCurve;
    use super::super::simulated::simulated;
    use super::*;

    #[test]
    fn the_same_candidates_twice_do_not_differ() {
        let table = simulated(&[-1.0, 0.0, 0.4, 1.0].map(ItemCurve::rasch), 200, 7);
        let rows: Vec<Vec<Option<u8>>> = table
            .rows()
            .chain(table.rows())
            .map(<[_]>::to_vec)
            .collect();
        let groups: Vec<usize> = (0..400).map(|place| place / 200).collect();
        let made = andersen_test(&ResponseTable::new(&rows).unwrap(), &groups).unwrap();
        assert!(made.likelihood_ratio < 1e-8);
        assert_eq!(made.degrees_of_freedom, 3);
    }

    #[test]
    fn different_slopes_are_found() {
        let curves = [0.3, 0.3, 2.5, 2.5, 2.5].map(|slope| ItemCurve::Logistic {
            slope,
            intercept: 0.0,
            guessing: 0.0,
        });
        let table = simulated(&curves, 1_500, 29);
        let made = andersen_test(&table, &split_at_mean(&table).unwrap()).unwrap();
        assert!(made.p_value.probability < 1e-6, "{made:?}");
    }

    #[test]
    fn one_group_is_no_comparison() {
        let table = simulated(&[-1.0, 0.0, 0.4].map(ItemCurve::rasch), 100, 7);
        assert!(matches!(
            andersen_test(&table, &[0; 100]),
            Err(Refusal::TooFew { of: "groups", .. })
        ));
    }
}
