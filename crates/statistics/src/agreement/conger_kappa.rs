//! Do these assessors, the same for every sample, agree more than their own habits would?
//!
//! Source: Conger 1980: chance agreement is the mean over pairs of raters of Σ pₐⱼ p_bⱼ; equal to
//! Cohen's kappa for two raters. Invalid: all ratings in one category (refused). No interval is in
//! use; resample. Missing: refused.

use crate::agreement::rating_table::{RatingTable, without_gaps};
use crate::refusal::{Refusal, at_least};
use crate::sums::{mean, sum};

/// Conger's kappa.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct CongerKappa {
    /// The coefficient.
    pub kappa: f64,
    /// Agreement seen.
    pub observed: f64,
    /// Agreement expected by chance.
    pub by_chance: f64,
    /// Number of subjects.
    pub subjects: usize,
    /// Number of assessors.
    pub assessors: usize,
}

/// Conger's kappa.
///
/// # Errors
/// `Refusal::TooFew` below two assessors, `Refusal::NotDefined` with gaps or one category.
pub fn conger_kappa(ratings: &RatingTable) -> Result<CongerKappa, Refusal> {
    at_least(2, ratings.raters(), "assessors", "agreement needs two")?;
    without_gaps(ratings, "Conger's kappa")?;
    let values = ratings.values();
    let m = ratings.raters() as f64;
    let agreements: Vec<f64> = ratings
        .counts(&values)
        .iter()
        .map(|row| sum(row.iter().map(|n| n * (n - 1.0))) / (m * (m - 1.0)))
        .collect();
    let observed = mean(&agreements)?;
    let habits: Vec<Vec<f64>> = (0..ratings.raters())
        .map(|rater| {
            values
                .iter()
                .map(|value| {
                    let used = ratings
                        .ratings_of(rater)
                        .filter(|rating| *rating == Some(*value))
                        .count();
                    used as f64 / ratings.subjects() as f64
                })
                .collect()
        })
        .collect();
    let mut pairs = Vec::new();
    for (place, first) in habits.iter().enumerate() {
        for second in habits.iter().skip(place + 1) {
            pairs.push(sum(first.iter().zip(second).map(|(a, b)| a * b)));
        }
    }
    let by_chance = mean(&pairs)?;
    if 1.0 - by_chance < 1e-12 {
        return Err(Refusal::NotDefined {
            of: "kappa",
            because: "all ratings are in one category",
        });
    }
    Ok(CongerKappa {
        kappa: (observed - by_chance) / (1.0 - by_chance),
        observed,
        by_chance,
        subjects: ratings.subjects(),
        assessors: ratings.raters(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::agreement::light_kappa::light_kappa;

    #[test]
    fn with_two_assessors_all_roads_meet() {
        let rows = [[0, 0], [0, 1], [1, 1], [1, 1], [0, 0], [1, 0], [1, 1]];
        let ratings = RatingTable::new(
            rows.iter()
                .map(|row| row.iter().map(|v| Some(f64::from(*v))).collect::<Vec<_>>()),
        )
        .unwrap();
        let conger = conger_kappa(&ratings).unwrap().kappa;
        assert!((conger - light_kappa(&ratings).unwrap().kappa).abs() < 1e-15);
    }
}
