//! Do many assessors put samples into the same category more often than chance would?
//!
//! Sources: Fleiss 1971: P̄ = mean over subjects of Σ nⱼ(nⱼ−1)/(m(m−1)), Pₑ = Σ pⱼ²; variance under
//! the null hypothesis, Fleiss, Nee & Landis 1979; for unequal numbers of ratings the form of Gwet
//! 2014 (observed over subjects with two ratings or more, chance from the mean share per subject).
//! Invalid: all ratings in one category (0/0, refused); assessors chosen to be the same few for
//! every sample are better served by [`super::conger_kappa`]. z is given for complete ratings only.
//! Ties: none possible. Missing: allowed; a subject with one rating counts for the shares only.

use crate::agreement::rating_table::RatingTable;
use crate::distribution::normal;
use crate::p_value::PValue;
use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// The test against no agreement.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct AgainstChance {
    /// Kappa over its standard error under the null hypothesis.
    pub z: f64,
    /// Both sides.
    pub p_value: PValue,
}

/// Fleiss' kappa.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct FleissKappa {
    /// The coefficient.
    pub kappa: f64,
    /// Agreement seen.
    pub observed: f64,
    /// Agreement expected by chance.
    pub by_chance: f64,
    /// Per category, in rising order of the values: the same for "this one or another"; a refusal
    /// with gaps in the table.
    pub by_category: Result<Vec<f64>, Refusal>,
    /// Test against no agreement; a refusal with gaps in the table.
    pub against_chance: Result<AgainstChance, Refusal>,
    /// Number of subjects with two ratings or more.
    pub subjects: usize,
    /// Number of assessors.
    pub assessors: usize,
}

/// Fleiss' kappa.
///
/// # Errors
/// `Refusal::TooFew` below two assessors or one subject rated twice; `Refusal::NotDefined` when all
/// ratings are the same.
pub fn fleiss_kappa(ratings: &RatingTable) -> Result<FleissKappa, Refusal> {
    at_least(2, ratings.raters(), "assessors", "agreement needs two")?;
    let values = ratings.values();
    let counts = ratings.counts(&values);
    let mut agreements = Vec::new();
    let mut shares = vec![Vec::new(); values.len()];
    for row in &counts {
        let m = sum(row.iter().copied());
        if m >= 2.0 {
            agreements.push(sum(row.iter().map(|n| n * (n - 1.0))) / (m * (m - 1.0)));
        }
        if m >= 1.0 {
            for (share, count) in shares.iter_mut().zip(row) {
                share.push(count / m);
            }
        }
    }
    at_least(
        1,
        agreements.len(),
        "subjects with two ratings",
        "agreement needs two ratings",
    )?;
    if values.len() < 2 {
        return Err(Refusal::NotDefined {
            of: "kappa",
            because: "all ratings are in one category",
        });
    }
    let subjects = agreements.len();
    let observed = sum(agreements) / subjects as f64;
    let p: Vec<f64> = shares
        .iter()
        .map(|share| sum(share.iter().copied()) / share.len() as f64)
        .collect();
    let by_chance = sum(p.iter().map(|share| share * share));
    let kappa = (observed - by_chance) / (1.0 - by_chance);
    let complete = ratings.is_complete();
    let m = ratings.raters() as f64;
    let gaps = Refusal::NotDefined {
        of: "this part of Fleiss' kappa",
        because: "some ratings are missing",
    };
    Ok(FleissKappa {
        kappa,
        observed,
        by_chance,
        by_category: if complete {
            Ok(by_category(&counts, &p, m))
        } else {
            Err(gaps)
        },
        against_chance: if complete {
            Ok(against_chance(kappa, &p, subjects as f64, m))
        } else {
            Err(gaps)
        },
        subjects,
        assessors: ratings.raters(),
    })
}

/// Fleiss 1971: 1 − Σ n(m−n)/(N m (m−1) p q), category by category.
fn by_category(counts: &[Vec<f64>], p: &[f64], m: f64) -> Vec<f64> {
    let n = counts.len() as f64;
    p.iter()
        .enumerate()
        .map(|(category, share)| {
            let apart = sum(counts
                .iter()
                .filter_map(|row| row.get(category))
                .map(|count| count * (m - count)));
            1.0 - apart / (n * m * (m - 1.0) * share * (1.0 - share))
        })
        .collect()
}

/// Fleiss, Nee & Landis 1979, variance when raters do no better than chance.
fn against_chance(kappa: f64, p: &[f64], n: f64, m: f64) -> AgainstChance {
    let spread = sum(p.iter().map(|share| share * (1.0 - share)));
    let lean = sum(p
        .iter()
        .map(|share| share * (1.0 - share) * (1.0 - 2.0 * share)));
    let variance = 2.0 / (n * m * (m - 1.0)) * (spread * spread - lean) / (spread * spread);
    let z = kappa / variance.sqrt();
    AgainstChance {
        z,
        p_value: normal::two_sided(z),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn table(rows: &[[f64; 3]]) -> RatingTable {
        let rows = rows
            .iter()
            .map(|row| row.iter().map(|v| Some(*v)).collect::<Vec<_>>());
        RatingTable::new(rows).unwrap()
    }

    #[test]
    fn the_weighted_mean_of_the_categories_is_the_whole() {
        // Identity of Fleiss 1971: weights p(1 − p).
        let ratings = table(&[
            [1.0, 1.0, 2.0],
            [3.0, 3.0, 3.0],
            [1.0, 2.0, 3.0],
            [2.0, 2.0, 2.0],
        ]);
        let made = fleiss_kappa(&ratings).unwrap();
        let shares: [f64; 3] = [3.0 / 12.0, 5.0 / 12.0, 4.0 / 12.0];
        let weights = shares.map(|p| p * (1.0 - p));
        let parts = made.by_category.unwrap();
        let mean = sum(parts.iter().zip(weights).map(|(k, w)| k * w)) / sum(weights);
        assert!((mean - made.kappa).abs() < 1e-12);
    }

    #[test]
    fn one_category_is_refused() {
        assert!(fleiss_kappa(&table(&[[1.0; 3], [1.0; 3]])).is_err());
    }
}
