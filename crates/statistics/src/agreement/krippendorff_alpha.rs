//! How far do raters agree, whatever their number, the scale and the gaps?
//!
//! Source: Krippendorff 2011 (coincidence matrix): α = 1 − (n−1) Σ o_ck δ²_ck / Σ n_c n_k δ²_ck over
//! subjects with two ratings or more. Distances: nominal (0 or 1), ordinal (ranks between), interval
//! (squared difference), ratio (squared difference over sum). Invalid: all ratings alike (0/0,
//! refused). No interval is in use here; resample subjects. Missing: allowed.

use crate::agreement::rating_table::RatingTable;
use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// What the distance between two ratings means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub enum Scale {
    /// Names only.
    Nominal,
    /// An order.
    Ordinal,
    /// Equal steps.
    Interval,
    /// Equal steps from a true zero; ratings are not negative.
    Ratio,
}

/// Krippendorff's alpha.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct KrippendorffAlpha {
    /// The coefficient.
    pub alpha: f64,
    /// The scale it was computed for.
    pub scale: Scale,
    /// Subjects with two ratings or more.
    pub subjects: usize,
    /// Ratings of those subjects.
    pub ratings: usize,
}

/// Krippendorff's alpha.
///
/// # Errors
/// `Refusal::TooFew` without a subject rated twice, `Refusal::NotDefined` when all ratings are
/// alike, `Refusal::OutOfRange` for a negative rating on a ratio scale.
pub fn krippendorff_alpha(
    ratings: &RatingTable,
    scale: Scale,
) -> Result<KrippendorffAlpha, Refusal> {
    let values = ratings.values();
    if let (Scale::Ratio, Some(value)) = (scale, values.iter().find(|value| **value < 0.0)) {
        return Err(Refusal::OutOfRange {
            of: "rating on a ratio scale",
            value: *value,
            allowed: "0 or more",
        });
    }
    let paired: Vec<Vec<f64>> = ratings
        .counts(&values)
        .into_iter()
        .filter(|row| sum(row.iter().copied()) >= 2.0)
        .collect();
    at_least(
        1,
        paired.len(),
        "subjects with two ratings",
        "agreement needs two ratings",
    )?;
    // How often each value occurs among paired ratings.
    let totals: Vec<f64> = (0..values.len())
        .map(|place| sum(paired.iter().filter_map(|row| row.get(place).copied())))
        .collect();
    let n = sum(totals.iter().copied());
    let distances = distances(&values, &totals, scale);
    let over_pairs = |weights: &[f64]| -> f64 {
        sum(distances.iter().zip(weights).flat_map(|(line, one)| {
            line.iter()
                .zip(weights)
                .map(move |(far, other)| far * one * other)
        }))
    };
    // A value is at distance 0 from itself, so pairs of a rating with itself add nothing.
    let observed = sum(paired.iter().map(|row| {
        let m = sum(row.iter().copied());
        over_pairs(row) / (m - 1.0)
    }));
    let by_chance = over_pairs(&totals);
    if by_chance <= 0.0 {
        return Err(Refusal::NotDefined {
            of: "Krippendorff's alpha",
            because: "all ratings are alike",
        });
    }
    Ok(KrippendorffAlpha {
        alpha: 1.0 - (n - 1.0) * observed / by_chance,
        scale,
        subjects: paired.len(),
        ratings: n as usize,
    })
}

/// Squared distances between the values, in rising order.
fn distances(values: &[f64], totals: &[f64], scale: Scale) -> Vec<Vec<f64>> {
    // Number of ratings up to the middle of each value's own.
    let mut before = 0.0;
    let middles: Vec<f64> = totals
        .iter()
        .map(|count| {
            let middle = before + count / 2.0;
            before += count;
            middle
        })
        .collect();
    values
        .iter()
        .zip(&middles)
        .map(|(one, one_middle)| {
            values
                .iter()
                .zip(&middles)
                .map(|(other, other_middle)| {
                    let far = match scale {
                        Scale::Nominal => f64::from(u8::from(one != other)),
                        Scale::Ordinal => one_middle - other_middle,
                        Scale::Interval => one - other,
                        Scale::Ratio if one == other => 0.0,
                        Scale::Ratio => (one - other) / (one + other),
                    };
                    far * far
                })
                .collect()
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn table(rows: &[&[Option<f64>]]) -> RatingTable {
        RatingTable::new(rows).unwrap()
    }

    #[test]
    fn with_two_values_all_scales_but_ratio_are_one() {
        let ratings = table(&[
            &[Some(1.0), Some(1.0), None],
            &[Some(2.0), Some(1.0), Some(2.0)],
            &[Some(2.0), Some(2.0), Some(2.0)],
            &[None, None, Some(1.0)],
        ]);
        let alpha = |scale| krippendorff_alpha(&ratings, scale).unwrap().alpha;
        assert!((alpha(Scale::Nominal) - alpha(Scale::Interval)).abs() < 1e-14);
        assert!((alpha(Scale::Nominal) - alpha(Scale::Ordinal)).abs() < 1e-14);
        assert_eq!(
            krippendorff_alpha(&ratings, Scale::Nominal)
                .unwrap()
                .subjects,
            3
        );
    }

    #[test]
    fn alike_or_single_ratings_are_refused() {
        let alike = table(&[&[Some(1.0), Some(1.0)]]);
        assert!(krippendorff_alpha(&alike, Scale::Nominal).is_err());
        let single = table(&[&[Some(1.0), None], &[None, Some(2.0)]]);
        assert!(krippendorff_alpha(&single, Scale::Nominal).is_err());
    }
}
