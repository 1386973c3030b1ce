//! Does each assessor of a panel agree with the rest on one sample, and how alike are they all?
//!
//! Source: agreement as in ISO 11132 (from memory): the correlation of an assessor's intensities over
//! the descriptors with the means of all others. Who stands apart: a correlation that is not above 0
//! at one chance in twenty (t of a correlation, one-sided), thus somebody who cannot be told from one
//! who writes at random; the limit is this project's choice. For the panel: the mean correlation of
//! pairs r, and by Spearman and Brown the reliability of the panel's mean profile, k r/(1+(k−1) r).
//! Not cited counts as 0. Invalid: below three assessors or five descriptors (refused); an assessor
//! whose intensities are all equal has no correlation (a refusal for that one alone).

use crate::distribution::student_t;
use crate::panel::key_weights::check_table;
use crate::refusal::{Refusal, at_least};
use crate::sums::{correlation, mean, sum};

/// The chance at which an assessor is said to stand apart.
pub const RISK: f64 = 0.05;

/// One assessor against the rest.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Standing {
    /// Correlation with the mean of all others; a refusal when either does not vary.
    pub agreement: Result<f64, Refusal>,
    /// Whether the correlation cannot be told from none (or is none).
    pub stands_apart: bool,
}

/// A panel on one sample.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct PanelStanding {
    /// In the order of the data.
    pub assessors: Vec<Standing>,
    /// Mean correlation of all pairs whose correlation is defined.
    pub mean_pair: f64,
    /// Reliability of the panel's mean profile; 0 where pairs do not agree on average.
    pub reliability: f64,
    /// Number of assessors.
    pub n: usize,
    /// Number of descriptors.
    pub descriptors: usize,
}

/// Sets each assessor against the rest, from intensities by assessor and descriptor.
///
/// # Errors
/// `Refusal::TooFew` below three assessors or five descriptors, `Refusal::UnevenRows`,
/// `Refusal::NotANumber`, and `Refusal::NoVariance` when no pair has a correlation.
pub fn assessor_standing(intensities: &[Vec<f64>]) -> Result<PanelStanding, Refusal> {
    at_least(3, intensities.len(), "assessors", "a rest needs two")?;
    let top = intensities.iter().flatten().copied().fold(1.0, f64::max);
    let words = check_table(intensities, top)?;
    at_least(
        5,
        words,
        "descriptors",
        "a correlation over fewer says nothing",
    )?;
    let mut assessors = Vec::with_capacity(intensities.len());
    for (place, own) in intensities.iter().enumerate() {
        let others: Vec<f64> = (0..words)
            .map(|word| {
                let column = intensities
                    .iter()
                    .enumerate()
                    .filter(|(other, _)| *other != place)
                    .filter_map(|(_, row)| row.get(word).copied());
                sum(column) / (intensities.len() as f64 - 1.0)
            })
            .collect();
        let agreement = correlation(own, &others);
        let stands_apart = agreement.is_ok_and(|r| !above_nothing(r, words)) || agreement.is_err();
        assessors.push(Standing {
            agreement,
            stands_apart,
        });
    }
    let mut pairs = Vec::new();
    for (place, one) in intensities.iter().enumerate() {
        for other in intensities.iter().skip(place + 1) {
            pairs.extend(correlation(one, other).ok());
        }
    }
    if pairs.is_empty() {
        return Err(Refusal::NoVariance { of: "intensities" });
    }
    let mean_pair = mean(&pairs)?;
    let k = intensities.len() as f64;
    Ok(PanelStanding {
        assessors,
        mean_pair,
        reliability: (k * mean_pair / (1.0 + (k - 1.0) * mean_pair)).max(0.0),
        n: intensities.len(),
        descriptors: words,
    })
}

/// Whether a correlation over so many descriptors is above 0 at the risk.
fn above_nothing(r: f64, descriptors: usize) -> bool {
    let freedom = descriptors as f64 - 2.0;
    if r >= 1.0 {
        return true;
    }
    let t = r * (freedom / (1.0 - r * r)).sqrt();
    student_t::upper_tail(t, freedom) <= RISK
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn who_writes_the_opposite_stands_apart() {
        let usual = vec![5.0, 4.0, 3.0, 0.0, 0.0, 1.0];
        let table = vec![
            usual.clone(),
            usual.clone(),
            usual,
            vec![0.0, 0.0, 1.0, 5.0, 4.0, 0.0],
            vec![3.0; 6],
        ];
        let made = assessor_standing(&table).unwrap();
        let apart: Vec<bool> = made.assessors.iter().map(|a| a.stands_apart).collect();
        assert_eq!(apart, [false, false, false, true, true]);
        assert!(made.assessors[4].agreement.is_err());
        assert!(made.reliability < 1.0);
    }

    #[test]
    fn a_panel_at_one_is_wholly_reliable() {
        let table = vec![vec![5.0, 4.0, 3.0, 0.0, 1.0]; 4];
        let made = assessor_standing(&table).unwrap();
        assert!((made.mean_pair - 1.0).abs() < 1e-12 && (made.reliability - 1.0).abs() < 1e-12);
        assert!(assessor_standing(&table[..2]).is_err());
        assert!(assessor_standing(&[vec![1.0; 5], vec![2.0; 5], vec![0.0; 5]]).is_err());
    }

    #[test]
    fn the_limit_is_the_tabled_one() {
        // Critical values of r, one-sided 5 %: .805 for 5 pairs, .549 for 10 (Fisher & Yates).
        assert!(above_nothing(0.806, 5) && !above_nothing(0.804, 5));
        assert!(above_nothing(0.550, 10) && !above_nothing(0.548, 10));
    }
}
