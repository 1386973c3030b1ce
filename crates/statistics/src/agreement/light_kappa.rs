//! What is the mean agreement of all pairs of assessors?
//!
//! Source: Light 1971: the mean of Cohen's kappas of all pairs. Invalid: a pair that used one and
//! the same category throughout (refused). No interval is in use; resample. Missing: refused.

use crate::agreement::category_table::{CategoryTable, Weighting};
use crate::agreement::cohen_kappa::cohen_kappa;
use crate::agreement::rating_table::{RatingTable, without_gaps};
use crate::interval::Confidence;
use crate::refusal::{Refusal, at_least};
use crate::sums::mean;

/// Light's kappa.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct LightKappa {
    /// The mean.
    pub kappa: f64,
    /// Number of pairs.
    pub pairs: usize,
    /// Number of subjects.
    pub subjects: usize,
}

/// Light's kappa.
///
/// # Errors
/// `Refusal::TooFew` below two assessors, `Refusal::NotDefined` with gaps or a constant pair.
pub fn light_kappa(ratings: &RatingTable) -> Result<LightKappa, Refusal> {
    at_least(2, ratings.raters(), "assessors", "agreement needs two")?;
    without_gaps(ratings, "Light's kappa")?;
    let values = ratings.values();
    let places: Vec<Vec<usize>> = (0..ratings.raters())
        .map(|rater| {
            ratings
                .ratings_of(rater)
                .flatten()
                .filter_map(|rating| values.iter().position(|value| *value == rating))
                .collect()
        })
        .collect();
    let mut kappas = Vec::new();
    for (place, first) in places.iter().enumerate() {
        for second in places.iter().skip(place + 1) {
            let table = CategoryTable::of_ratings(first, second, values.len())?;
            kappas.push(cohen_kappa(&table, &Weighting::Unweighted, Confidence::P95)?.kappa);
        }
    }
    Ok(LightKappa {
        kappa: mean(&kappas)?,
        pairs: kappas.len(),
        subjects: ratings.subjects(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn with_two_assessors_it_is_cohens() {
        let rows = [[0, 0], [0, 1], [1, 1], [1, 1], [0, 0]];
        let ratings = RatingTable::new(
            rows.iter()
                .map(|row| row.iter().map(|v| Some(f64::from(*v))).collect::<Vec<_>>()),
        )
        .unwrap();
        let table = CategoryTable::of_ratings(&[0, 0, 1, 1, 0], &[0, 1, 1, 1, 0], 2).unwrap();
        let cohen = cohen_kappa(&table, &Weighting::Unweighted, Confidence::P95).unwrap();
        assert!((light_kappa(&ratings).unwrap().kappa - cohen.kappa).abs() < 1e-15);
    }
}
