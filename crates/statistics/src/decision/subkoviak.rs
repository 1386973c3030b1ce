//! How consistent are passes and fails, candidate by candidate, from one sitting?
//!
//! Source: Subkoviak 1976: true share θᵢ = r xᵢ/k + (1−r) M/k with r the reliability; Pᵢ = P(Bin(k, θᵢ) ≥
//! cut); agreement mean(P² + (1−P)²), kappa from the mean P. Invalid: part marks; short tests
//! (the shrunken shares are rough). No interval is in use; resample. Missing: none.

use crate::decision::decision_figures::kappa;
use crate::distribution::binomial;
use crate::refusal::{Refusal, at_least};
use crate::sums::{mean, sum};

/// Decision consistency by Subkoviak.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Subkoviak {
    /// Share of the same decisions on a second sitting.
    pub agreement: f64,
    /// Agreement beyond chance.
    pub kappa: f64,
    /// Probability of passing again, candidate by candidate.
    pub passing: Vec<f64>,
    /// Number of candidates.
    pub n: usize,
}

/// Decision consistency of totals of `items` questions marked 0 or 1, passed at `cut`.
///
/// # Errors
/// `Refusal::TooFew` for nobody, `Refusal::OutOfRange` for a reliability outside 0 to 1 or a total
/// outside 0 to `items`.
pub fn subkoviak(
    totals: &[f64],
    reliability: f64,
    items: u32,
    cut: u32,
) -> Result<Subkoviak, Refusal> {
    at_least(1, totals.len(), "candidates", "a mean needs one")?;
    at_least(1, items as usize, "questions", "a share needs one")?;
    if !(0.0..=1.0).contains(&reliability) {
        return Err(Refusal::OutOfRange {
            of: "reliability",
            value: reliability,
            allowed: "0 to 1",
        });
    }
    let k = f64::from(items);
    if let Some(total) = totals.iter().find(|total| !(0.0..=k).contains(*total)) {
        return Err(Refusal::OutOfRange {
            of: "total",
            value: *total,
            allowed: "0 to the number of questions",
        });
    }
    let middle = mean(totals)?;
    let passing: Vec<f64> = totals
        .iter()
        .map(|total| {
            let share = (reliability * total + (1.0 - reliability) * middle) / k;
            binomial::upper_tail(cut, items, share)
        })
        .collect();
    let again = passing.iter().map(|p| p * p + (1.0 - p) * (1.0 - p));
    let agreement = sum(again) / totals.len() as f64;
    let rate = mean(&passing)?;
    let by_chance = rate * rate + (1.0 - rate) * (1.0 - rate);
    Ok(Subkoviak {
        agreement,
        kappa: kappa(agreement, by_chance),
        passing,
        n: totals.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_wide_gap_around_the_cut_is_decided_surely() {
        let made = subkoviak(&[1.0, 2.0, 98.0, 99.0], 0.99, 100, 50).unwrap();
        assert!(made.agreement > 0.999_999 && made.kappa > 0.999_999);
        assert!(subkoviak(&[101.0], 0.9, 100, 50).is_err());
        assert!(subkoviak(&[1.0], -0.1, 100, 50).is_err());
    }
}
