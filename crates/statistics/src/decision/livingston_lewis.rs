//! How consistent and accurate are passes and fails on one form, whatever its marks are made of?
//!
//! Source: Livingston & Lewis 1995; moments as Hanson 1991: effective length
//! [(M−min)(max−M) − r s²]/[s²(1−r)] (s² with divisor n−1); true shares as a four-parameter beta from
//! the factorial moments of the scores brought to that length (from the second on 0 where a score is
//! below the order);
//! binomial errors with the rounded length, pass at or above ⌊cut share × length⌋. The paper's last
//! step, rescaling to the observed margins, is not applied. Invalid: with few candidates the moments
//! are noise (resample for an interval); a reliability that is not between 0 and 1. Missing: none.

use crate::decision::decision_figures::{DecisionFigures, decision_figures};
use crate::decision::four_parameter_beta::FourParameterBeta;
use crate::distribution::binomial;
use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, mean, sum, variance};

/// Decision consistency by Livingston and Lewis.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct LivingstonLewis {
    /// Number of equal right-or-wrong questions that would be as reliable.
    pub effective_length: f64,
    /// The true shares.
    pub true_shares: FourParameterBeta,
    /// The decisions.
    pub decisions: DecisionFigures,
    /// Number of candidates.
    pub n: usize,
}

/// Decision consistency of these totals on a scale from `minimum` to `maximum`, passed at `cut`.
///
/// # Errors
/// `Refusal::TooFew` below two candidates, `Refusal::NoVariance`, `Refusal::OutOfRange` for a
/// reliability not between 0 and 1 or a cut off the scale, `Refusal::NotDefined` where the model
/// does not fit.
pub fn livingston_lewis(
    totals: &[f64],
    reliability: f64,
    minimum: f64,
    maximum: f64,
    cut: f64,
) -> Result<LivingstonLewis, Refusal> {
    at_least(2, totals.len(), "candidates", "a variance needs two")?;
    between_zero_and_one(reliability)?;
    let span = maximum - minimum;
    let cut_share = (cut - minimum) / span;
    if !(span > 0.0 && (0.0..=1.0).contains(&cut_share)) {
        return Err(Refusal::OutOfRange {
            of: "cut",
            value: cut,
            allowed: "from the lowest to the highest total",
        });
    }
    let middle = mean(totals)?;
    let spread = variance(totals, Divisor::CountLessOne)?;
    if spread <= 0.0 {
        return Err(Refusal::NoVariance { of: "totals" });
    }
    let effective_length = ((middle - minimum) * (maximum - middle) - reliability * spread)
        / (spread * (1.0 - reliability));
    if effective_length.is_nan() || effective_length <= 3.0 {
        return Err(Refusal::NotDefined {
            of: "the effective test length",
            because: "it is not above 3, too short for four moments",
        });
    }
    let mut moments = [0.0; 4];
    let (mut order, mut most) = (0.0, 1.0);
    for moment in &mut moments {
        most *= effective_length - order;
        order += 1.0;
        let factorials = totals
            .iter()
            .map(|total| falling_factorial((total - minimum) / span * effective_length, order));
        *moment = sum(factorials) / totals.len() as f64 / most;
    }
    let true_shares = FourParameterBeta::from_moments(moments)?;
    Ok(LivingstonLewis {
        effective_length,
        true_shares,
        decisions: decisions_with_binomial_errors(&true_shares, effective_length, cut_share)?,
        n: totals.len(),
    })
}

/// Decisions at a cut share when a test of this (rounded) length makes binomial errors.
///
/// # Errors
/// `Refusal::OutOfRange` for a length below 1 or beyond a million.
pub fn decisions_with_binomial_errors(
    true_shares: &FourParameterBeta,
    length: f64,
    cut_share: f64,
) -> Result<DecisionFigures, Refusal> {
    let rounded = length.round();
    if !(1.0..=1e6).contains(&rounded) {
        return Err(Refusal::OutOfRange {
            of: "test length",
            value: length,
            allowed: "1 to 1000000",
        });
    }
    let trials = rounded as u32;
    let pass_at = (cut_share * rounded).floor().max(0.0) as u32;
    Ok(decision_figures(true_shares, cut_share, |share| {
        binomial::upper_tail(pass_at, trials, share)
    }))
}

pub(crate) fn between_zero_and_one(reliability: f64) -> Result<(), Refusal> {
    if reliability > 0.0 && reliability < 1.0 {
        Ok(())
    } else {
        Err(Refusal::OutOfRange {
            of: "reliability",
            value: reliability,
            allowed: "between 0 and 1",
        })
    }
}

/// x(x−1)…(x−order+1); from the second order on 0 where x is below the order, since a score between
/// whole numbers would otherwise bring a product of mixed signs. The first is x itself.
pub(crate) fn falling_factorial(x: f64, order: f64) -> f64 {
    if order > 1.0 && x < order {
        return 0.0;
    }
    let (mut product, mut step) = (1.0, 0.0);
    while step < order {
        product *= x - step;
        step += 1.0;
    }
    product
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_longer_test_decides_more_surely() {
        let shares = FourParameterBeta::given(0.1, 1.0, 4.0, 2.0).unwrap();
        let short = decisions_with_binomial_errors(&shares, 20.0, 0.6).unwrap();
        let long = decisions_with_binomial_errors(&shares, 200.0, 0.6).unwrap();
        assert!(long.agreement > short.agreement && long.accuracy > short.accuracy);
    }

    #[test]
    fn refuses_what_the_model_cannot_take() {
        let totals = [3.0, 5.0, 9.0, 12.0, 7.0, 8.0];
        assert!(livingston_lewis(&totals, 1.0, 0.0, 20.0, 12.0).is_err());
        assert!(livingston_lewis(&totals, 0.8, 0.0, 20.0, 21.0).is_err());
        assert!(livingston_lewis(&[5.0, 5.0], 0.8, 0.0, 20.0, 12.0).is_err());
        assert_eq!(falling_factorial(5.0, 3.0), 60.0);
        assert_eq!(falling_factorial(2.5, 3.0), 0.0);
        assert_eq!(falling_factorial(0.5, 1.0), 0.5);
    }
}
