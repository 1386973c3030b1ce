//! How hard are questions and how able are candidates, both estimated at once?
//!
//! Source: Wright & Panchapakesan 1969; Wright & Stone 1979: joint maximum likelihood, in which expected
//! equal observed totals of questions and of candidates; difficulties sum to 0.
//! Invalid: as the only estimate: difficulties come out too far apart, about k/(k-1) times (Andersen
//! 1973), so `corrected` carries Wright and Douglas's factor (k-1)/k (1977); rasch_conditional needs no
//! such repair. Errors take abilities as known and so are too small. Smallest n: 30 (Linacre 1994, from
//! memory). Missing: refused.

use super::estimate::Estimate;
use super::item_curve::logistic;
use super::least_persons;
use super::response_table::ResponseTable;
use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// Rounds after which the search is given up.
const ROUNDS: usize = 10_000;

/// Difficulties and abilities.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct RaschJoint {
    /// Difficulty of each question as estimated, in logits; they sum to 0.
    pub difficulties: Vec<Estimate>,
    /// The same times (k-1)/k.
    pub corrected: Vec<f64>,
    /// Ability of each total from 1 to k - 1 marks, beside the estimated (not corrected) difficulties.
    pub abilities: Vec<Estimate>,
    /// Joint log-likelihood of the candidates that tell something.
    pub log_likelihood: f64,
    /// Candidates with neither no marks nor all.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

/// Estimates both.
///
/// # Errors
/// `Refusal::NotDefined` for marks other than 0 and 1, `Refusal::ConstantColumn` (also when only
/// candidates with no marks or all break the pattern), `Refusal::TooFew`, `Refusal::NotANumber` at a
/// gap, `Refusal::NotSettled`.
pub fn rasch_joint(table: &ResponseTable) -> Result<RaschJoint, Refusal> {
    table.right_or_wrong_only("the joint Rasch model")?;
    table.category_counts()?;
    let items = table.items();
    at_least(
        3,
        items,
        "questions",
        "the bias of joint estimates is beyond repair below three",
    )?;
    let rows: Vec<Vec<usize>> = table
        .complete_rows()?
        .into_iter()
        .filter(|row| (1..items).contains(&row.iter().sum()))
        .collect();
    let (least, reason) = least_persons::RASCH;
    at_least(
        least,
        rows.len(),
        "candidates with neither no marks nor all",
        reason,
    )?;
    let mut totals = vec![0.0; items + 1];
    let mut right = vec![0.0; items];
    for row in &rows {
        totals[row.iter().sum::<usize>()] += 1.0;
        for (answer, right) in row.iter().zip(&mut right) {
            *right += *answer as f64;
        }
    }
    let persons = rows.len();
    if let Some(column) = right.iter().position(|n| *n == 0.0 || *n == persons as f64) {
        return Err(Refusal::ConstantColumn { column });
    }
    let mut difficulties: Vec<f64> = right
        .iter()
        .map(|right| libm::log((persons as f64 - right) / right))
        .collect();
    centre(&mut difficulties);
    let mut abilities: Vec<f64> = (1..items)
        .map(|total| libm::log(total as f64 / (items - total) as f64))
        .collect();
    for _ in 0..ROUNDS {
        let moved = round(&mut difficulties, &mut abilities, &right, &totals);
        if difficulties
            .iter()
            .chain(&abilities)
            .any(|place| place.abs() > 40.0)
        {
            return Err(Refusal::NotDefined {
                of: "the difficulty of questions",
                because: "one set of questions was always answered better than the rest",
            });
        }
        if moved < 1e-11 {
            return Ok(result(&difficulties, &abilities, &right, &totals, persons));
        }
    }
    Err(Refusal::NotSettled {
        of: "the joint Rasch model",
        steps: ROUNDS,
    })
}

/// One Newton step for each ability and each difficulty; how far the farthest moved.
fn round(difficulties: &mut [f64], abilities: &mut [f64], right: &[f64], totals: &[f64]) -> f64 {
    let mut farthest: f64 = 0.0;
    for (place, ability) in abilities.iter_mut().enumerate() {
        let (expected, variance) = moments(difficulties.iter().map(|b| (1.0, *ability - b)));
        let step = ((place as f64 + 1.0 - expected) / variance).clamp(-1.0, 1.0);
        *ability += step;
        farthest = farthest.max(step.abs());
    }
    let before = difficulties.to_vec();
    for (difficulty, right) in difficulties.iter_mut().zip(right) {
        let (expected, variance) = moments(
            abilities
                .iter()
                .zip(totals.iter().skip(1))
                .map(|(ability, n)| (*n, ability - *difficulty)),
        );
        *difficulty -= ((right - expected) / variance).clamp(-1.0, 1.0);
    }
    centre(difficulties);
    for (now, then) in difficulties.iter().zip(before) {
        farthest = farthest.max((now - then).abs());
    }
    farthest
}

/// Expected right answers and their variance, from numbers and logits.
fn moments(logits: impl Iterator<Item = (f64, f64)>) -> (f64, f64) {
    logits.fold((0.0, 0.0), |(expected, variance), (n, logit)| {
        let p = logistic(logit);
        (expected + n * p, variance + n * p * (1.0 - p))
    })
}

fn centre(values: &mut [f64]) {
    let middle = sum(values.iter().copied()) / values.len() as f64;
    for value in values {
        *value -= middle;
    }
}

fn result(
    difficulties: &[f64],
    abilities: &[f64],
    right: &[f64],
    totals: &[f64],
    persons: usize,
) -> RaschJoint {
    let items = difficulties.len();
    let by_total = || abilities.iter().zip(totals.iter().skip(1));
    let mut log_likelihood = 0.0;
    for (place, (ability, n)) in by_total().enumerate() {
        log_likelihood += n * ability * (place as f64 + 1.0);
        for difficulty in difficulties {
            // log(1 + e^u) as -log of the chance to fail.
            log_likelihood += n * libm::log(logistic(difficulty - ability));
        }
    }
    for (difficulty, right) in difficulties.iter().zip(right) {
        log_likelihood -= difficulty * right;
    }
    let estimate = |value: f64, variance: f64| Estimate {
        value,
        standard_error: 1.0 / variance.sqrt(),
    };
    RaschJoint {
        difficulties: difficulties
            .iter()
            .map(|b| {
                estimate(
                    *b,
                    moments(by_total().map(|(ability, n)| (*n, ability - b))).1,
                )
            })
            .collect(),
        corrected: difficulties
            .iter()
            .map(|b| b * (items as f64 - 1.0) / items as f64)
            .collect(),
        abilities: abilities
            .iter()
            .map(|at| estimate(*at, moments(difficulties.iter().map(|b| (1.0, at - b))).1))
            .collect(),
        log_likelihood,
        persons,
        items,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::item_curve::ItemCurve;
    use super::super::rasch_conditional::rasch_conditional;
    use super::super::simulated::simulated;
    use super::*;

    #[test]
    fn expected_equal_observed_totals() {
        let table = simulated(&[-1.0, -0.3, 0.0, 0.4, 1.0].map(ItemCurve::rasch), 500, 3);
        let made = rasch_joint(&table).unwrap();
        for (place, ability) in made.abilities.iter().enumerate() {
            let expected: f64 = made
                .difficulties
                .iter()
                .map(|b| logistic(ability.value - b.value))
                .sum();
            assert!((expected - place as f64 - 1.0).abs() < 1e-8);
        }
    }

    #[test]
    fn the_known_bias_is_repaired() {
        // Andersen 1973: joint estimates are about k/(k-1) times the conditional ones.
        let table = simulated(&[-1.0, -0.5, 0.0, 0.5, 1.0].map(ItemCurve::rasch), 2_000, 6);
        let joint = rasch_joint(&table).unwrap();
        let conditional = rasch_conditional(&table).unwrap();
        for (repaired, right) in joint.corrected.iter().zip(&conditional.difficulties) {
            assert!((repaired - right.value).abs() < 0.06);
        }
    }

    #[test]
    fn everybody_right_is_refused() {
        let table = ResponseTable::new(&vec![[Some(1); 3]; 50]).unwrap();
        assert_eq!(
            rasch_joint(&table),
            Err(Refusal::ConstantColumn { column: 0 })
        );
    }
}
