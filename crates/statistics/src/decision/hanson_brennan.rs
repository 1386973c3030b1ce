//! How consistent and accurate are passes and fails when questions of unequal difficulty are marked
//! 0 or 1?
//!
//! Source: Hanson & Brennan 1990; Hanson 1991; Lord 1965: Lord's k from the reliability, true shares
//! as a four-parameter beta, errors by the two-term approximation to the compound binomial:
//! B(x;n,τ) − kτ(1−τ)[B(x;n−2,τ) − 2B(x−1;n−2,τ) + B(x−2;n−2,τ)]; pass at or above the cut. Variance of the
//! totals with divisor n−1. Invalid: part marks; few candidates (resample). Missing: none.

use crate::decision::decision_figures::{DecisionFigures, decision_figures};
use crate::decision::four_parameter_beta::FourParameterBeta;
use crate::decision::livingston_lewis::{between_zero_and_one, falling_factorial};
use crate::distribution::binomial;
use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, mean, sum, variance};

/// Decision consistency by Hanson and Brennan.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct HansonBrennan {
    /// Lord's k: how far errors differ from binomial ones.
    pub lords_k: f64,
    /// The true shares.
    pub true_shares: FourParameterBeta,
    /// The decisions.
    pub decisions: DecisionFigures,
    /// Number of candidates.
    pub n: usize,
}

/// Decision consistency of totals of `items` questions marked 0 or 1, passed at `cut`.
///
/// # Errors
/// `Refusal::TooFew` below four questions or two candidates, `Refusal::NoVariance`,
/// `Refusal::OutOfRange`, or `Refusal::NotDefined` where the model does not fit.
pub fn hanson_brennan(
    totals: &[f64],
    reliability: f64,
    items: u32,
    cut: u32,
) -> Result<HansonBrennan, Refusal> {
    at_least(4, items as usize, "questions", "four moments are needed")?;
    at_least(2, totals.len(), "candidates", "a variance needs two")?;
    between_zero_and_one(reliability)?;
    if cut > items {
        return Err(Refusal::OutOfRange {
            of: "cut",
            value: f64::from(cut),
            allowed: "up to the number of questions",
        });
    }
    let n = f64::from(items);
    let middle = mean(totals)?;
    let spread = variance(totals, Divisor::CountLessOne)?;
    if spread <= 0.0 {
        return Err(Refusal::NoVariance { of: "totals" });
    }
    let true_spread = reliability * spread;
    let below = 2.0 * (middle * (n - middle) - true_spread);
    if below <= 0.0 {
        return Err(Refusal::NotDefined {
            of: "Lord's k",
            because: "totals vary more than right and wrong answers can",
        });
    }
    let lords_k = n * ((n - 1.0) * true_spread - n * spread + middle * (n - middle)) / below;
    let true_shares = FourParameterBeta::from_moments(true_moments(totals, n, lords_k)?)?;
    Ok(HansonBrennan {
        lords_k,
        true_shares,
        decisions: decision_figures(&true_shares, f64::from(cut) / n, |share| {
            passes(cut, items, lords_k, share)
        }),
        n: totals.len(),
    })
}

/// The moments of the true shares: the i-th factorial moment of the two-term model is
/// (n−2)⁽ⁱ⁻²⁾ [(n(n−1) + k i(i−1)) mᵢ − k i(i−1) mᵢ₋₁].
fn true_moments(totals: &[f64], n: f64, lords_k: f64) -> Result<[f64; 4], Refusal> {
    let mut moments = [mean(totals)? / n, 0.0, 0.0, 0.0];
    let mut before = mean(totals)? / n;
    let mut shorter = 1.0;
    for (order, moment) in [2.0, 3.0, 4.0].into_iter().zip(moments.iter_mut().skip(1)) {
        if order > 2.0 {
            shorter *= n - order + 1.0;
        }
        let seen =
            sum(totals.iter().map(|total| falling_factorial(*total, order))) / totals.len() as f64;
        let part = lords_k * order * (order - 1.0);
        let whole = n * (n - 1.0) + part;
        if whole <= 0.0 {
            return Err(Refusal::NotDefined {
                of: "the moments of the true shares",
                because: "Lord's k is too far below 0",
            });
        }
        *moment = (seen / shorter + part * before) / whole;
        before = *moment;
    }
    Ok(moments)
}

/// Probability of `cut` or more under the two-term model, kept inside 0 to 1 where the
/// approximation leaves it.
fn passes(cut: u32, items: u32, lords_k: f64, share: f64) -> f64 {
    let shorter = items.saturating_sub(2);
    let tail = |drop: u32| binomial::upper_tail(cut.saturating_sub(drop), shorter, share);
    let correction = tail(0) - 2.0 * tail(1) + tail(2);
    let plain = binomial::upper_tail(cut, items, share);
    (plain - lords_k * share * (1.0 - share) * correction).clamp(0.0, 1.0)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn without_correction_errors_are_binomial() {
        assert_eq!(
            passes(12, 20, 0.0, 0.55),
            binomial::upper_tail(12, 20, 0.55)
        );
        assert_eq!(passes(0, 20, 0.8, 0.55), 1.0);
    }

    #[test]
    fn refuses_what_the_model_cannot_take() {
        assert!(hanson_brennan(&[1.0, 3.0], 0.8, 3, 2).is_err());
        assert!(hanson_brennan(&[1.0, 3.0], 0.8, 4, 5).is_err());
        assert!(hanson_brennan(&[0.0, 4.0, 0.0, 4.0], 0.9, 4, 2).is_err());
    }
}
