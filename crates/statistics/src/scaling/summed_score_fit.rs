//! Do candidates with the same total answer a question as often right as its curve says?
//!
//! Source: Orlando & Thissen 2000, eq. 7 (S-X²), with the recursion of Lord & Wingersky 1984 for the
//! expected shares; neighbouring totals are joined from the ends inward while fewer than 1 right or
//! wrong answer is expected; degrees of freedom: groups less parameters of the question.
//! Invalid: several categories (not built), curves from other data. Smallest n: 500 (Orlando & Thissen
//! 2003, from memory). Missing: refused.

use super::ability_prior::AbilityPrior;
use super::item_curve::ItemCurve;
use super::least_persons;
use super::quadrature::{points, weights};
use super::response_table::ResponseTable;
use super::score_distribution::score_distribution;
use crate::distribution::chi_square;
use crate::p_value::{PValue, Side};
use crate::refusal::{Refusal, at_least};

/// Fewest expected right and wrong answers in a group of totals.
const LEAST_EXPECTED: f64 = 1.0;

/// S-X² of one question.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct SummedScoreFit {
    /// The statistic.
    pub chi_square: f64,
    /// Degrees of freedom.
    pub degrees_of_freedom: usize,
    /// Probability of as much or more.
    pub p_value: PValue,
    /// Groups of totals that were compared.
    pub groups: usize,
    /// Candidates.
    pub persons: usize,
}

/// S-X² of each question; none where no degree of freedom is left. `parameters` is how many were
/// estimated for each question (2 for slope and intercept).
///
/// # Errors
/// `Refusal::NotDefined` for marks other than 0 and 1, `Refusal::UnequalLengths`,
/// `Refusal::OutOfRange`, `Refusal::TooFew`, `Refusal::NotANumber` at a gap.
pub fn summed_score_fit(
    table: &ResponseTable,
    curves: &[ItemCurve],
    population: AbilityPrior,
    parameters: usize,
) -> Result<Vec<Option<SummedScoreFit>>, Refusal> {
    table.right_or_wrong_only("S-X²")?;
    if curves.len() != table.items() {
        return Err(Refusal::UnequalLengths {
            of: "curves beside questions",
            have: curves.len(),
            expected: table.items(),
        });
    }
    for curve in curves {
        curve.check()?;
        if curve.categories() != 2 {
            return Err(Refusal::NotDefined {
                of: "S-X²",
                because: "it is for questions with two categories, and a curve has more",
            });
        }
    }
    let rows = table.complete_rows()?;
    let (least, reason) = least_persons::SUMMED_SCORE_FIT;
    at_least(least, rows.len(), "candidates", reason)?;
    let items = curves.len();
    let mut persons = vec![0.0; items + 1];
    let mut right = vec![vec![0.0; items + 1]; items];
    for row in &rows {
        let total: usize = row.iter().sum();
        persons[total] += 1.0;
        for (answer, right) in row.iter().zip(&mut right) {
            right[total] += *answer as f64;
        }
    }
    let shares = expected_shares(curves, population);
    Ok(right
        .iter()
        .zip(&shares)
        .map(|(right, shares)| compare(&persons, right, shares, parameters, rows.len()))
        .collect())
}

/// By question and total: the expected share of right answers.
fn expected_shares(curves: &[ItemCurve], population: AbilityPrior) -> Vec<Vec<f64>> {
    let items = curves.len();
    let mut whole = vec![0.0; items + 1];
    let mut with = vec![vec![0.0; items + 1]; items];
    for (z, weight) in points().into_iter().zip(weights()) {
        let ability = population.mean() + population.standard_deviation() * z;
        let categories: Vec<Vec<f64>> = curves
            .iter()
            .map(|curve| curve.probabilities(ability))
            .collect();
        let sums = score_distribution(&categories);
        for (total, share) in sums.whole.iter().enumerate() {
            whole[total] += weight * share;
        }
        for ((with, chances), without) in with.iter_mut().zip(&categories).zip(&sums.without) {
            for (rest, share) in without.iter().enumerate() {
                with[rest + 1] += weight * chances[1] * share;
            }
        }
    }
    with.iter()
        .map(|with| {
            with.iter()
                .zip(&whole)
                .map(|(one, all)| one / all)
                .collect()
        })
        .collect()
}

#[derive(Clone, Copy)]
struct Group {
    persons: f64,
    right: f64,
    expected: f64,
}

impl Group {
    fn enough(&self) -> bool {
        self.expected >= LEAST_EXPECTED && self.persons - self.expected >= LEAST_EXPECTED
    }

    fn join(&mut self, other: Self) {
        self.persons += other.persons;
        self.right += other.right;
        self.expected += other.expected;
    }
}

fn compare(
    persons: &[f64],
    right: &[f64],
    shares: &[f64],
    parameters: usize,
    candidates: usize,
) -> Option<SummedScoreFit> {
    // Totals of nothing and everything agree by construction.
    let inner = 1..persons.len().saturating_sub(1);
    let groups: Vec<Group> = inner
        .map(|total| Group {
            persons: persons[total],
            right: right[total],
            expected: persons[total] * shares[total],
        })
        .collect();
    let groups = join_small(groups);
    let degrees_of_freedom = groups.len().checked_sub(parameters).filter(|df| *df > 0)?;
    let chi_square: f64 = groups
        .iter()
        .map(|group| {
            let off = group.right - group.expected;
            off * off * group.persons / (group.expected * (group.persons - group.expected))
        })
        .sum();
    Some(SummedScoreFit {
        chi_square,
        degrees_of_freedom,
        p_value: PValue {
            probability: chi_square::upper_tail(chi_square, degrees_of_freedom as f64),
            side: Side::Upper,
        },
        groups: groups.len(),
        persons: candidates,
    })
}

/// Joins groups that are too small with the next one towards the middle.
fn join_small(groups: Vec<Group>) -> Vec<Group> {
    let middle = groups.len() / 2;
    let mut low: Vec<Group> = Vec::new();
    let mut carried: Option<Group> = None;
    for (place, mut group) in groups.iter().copied().enumerate() {
        if place > middle {
            break;
        }
        if let Some(small) = carried.take() {
            group.join(small);
        }
        if group.enough() || place == middle {
            low.push(group);
        } else {
            carried = Some(group);
        }
    }
    let mut high: Vec<Group> = Vec::new();
    for mut group in groups.into_iter().skip(middle + 1).rev() {
        if let Some(small) = carried.take() {
            group.join(small);
        }
        if group.enough() {
            high.push(group);
        } else {
            carried = Some(group);
        }
    }
    if let (Some(small), Some(last)) = (carried, low.last_mut()) {
        last.join(small);
    }
    low.extend(high.into_iter().rev());
    // The middle itself may be small: it joins its neighbour.
    let mut place = 0;
    while place < low.len() {
        if !low[place].enough() && low.len() > 1 {
            let small = low.remove(place);
            let neighbour = if place == 0 { 0 } else { place - 1 };
            low[neighbour].join(small);
            place = 0;
        } else {
            place += 1;
        }
    }
    low.retain(Group::enough);
    low
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::simulated::simulated;
    use super::*;

    fn curves() -> Vec<ItemCurve> {
        [-1.2, -0.7, -0.2, 0.0, 0.3, 0.6, 0.9, 1.3]
            .map(|intercept| ItemCurve::Logistic {
                slope: 1.2,
                intercept,
                guessing: 0.0,
            })
            .to_vec()
    }

    #[test]
    fn expected_shares_sum_to_the_total() {
        let shares = expected_shares(&curves(), AbilityPrior::STANDARD);
        for total in 0..=8 {
            let sum: f64 = shares.iter().map(|share| share[total]).sum();
            assert!((sum - total as f64).abs() < 1e-10);
        }
    }

    #[test]
    fn true_curves_fit_and_a_wrong_one_does_not() {
        let table = simulated(&curves(), 2_000, 13);
        let good = summed_score_fit(&table, &curves(), AbilityPrior::STANDARD, 0).unwrap();
        assert!(
            good.iter()
                .all(|fit| fit.unwrap().p_value.probability > 1e-3)
        );
        let mut wrong = curves();
        wrong[2] = ItemCurve::Logistic {
            slope: 0.3,
            intercept: -0.2,
            guessing: 0.0,
        };
        let bad = summed_score_fit(&table, &wrong, AbilityPrior::STANDARD, 0).unwrap();
        assert!(bad[2].unwrap().p_value.probability < 1e-6);
    }

    #[test]
    fn small_groups_are_joined_inward() {
        let group = |persons: f64, expected: f64| Group {
            persons,
            right: 0.0,
            expected,
        };
        let made = join_small(vec![
            group(3.0, 0.2),
            group(20.0, 5.0),
            group(30.0, 15.0),
            group(10.0, 9.5),
        ]);
        assert_eq!(made.len(), 2);
        assert_eq!((made[0].persons, made[1].persons), (23.0, 40.0));
    }

    #[test]
    fn too_few_questions_leave_no_degree_of_freedom() {
        let two = &curves()[..2];
        let made = summed_score_fit(&simulated(two, 600, 3), two, AbilityPrior::STANDARD, 2);
        assert_eq!(made.unwrap(), [None, None]);
    }
}
