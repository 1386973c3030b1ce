//! At equal scores, does group change the chance of a right answer, and does it do so everywhere?
//!
//! Sources: Swaminathan & Rogers 1990: log odds on score, group and their product, by likelihood
//! ratios (both: 2 degrees of freedom; uniform and non-uniform: 1 each); effect size as the gain in
//! R² of Nagelkerke 1991, with the bounds .035 and .070 of Jodoin & Gierl 2001. Invalid: log odds
//! that are no straight line of the score; an unfair matching score. Smallest groups: see
//! [`super::strata`]; separation is refused. Ties: none. Missing: left out before.

use crate::distribution::chi_square;
use crate::fairness::logistic_model::{LogisticModel, logistic_model};
use crate::fairness::strata::{Groups, groups, same_length, strata_by_score};
use crate::p_value::{PValue, Side};
use crate::refusal::Refusal;
use crate::sums::{Divisor, is_constant, mean, variance};

/// A likelihood ratio.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct LikelihoodRatio {
    /// Twice the gain in log likelihood.
    pub chi_square: f64,
    /// Degrees of freedom.
    pub degrees_of_freedom: u8,
    /// Upper tail.
    pub p_value: PValue,
}

/// How large an effect is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum EffectSize {
    /// Gain in R² below .035, or not to be told from 0.
    Negligible,
    /// Below .070.
    Moderate,
    /// .070 or more.
    Large,
}

/// A comparison by logistic regression.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct LogisticDif {
    /// Group and its product with the score, together.
    pub both: LikelihoodRatio,
    /// Group alone: the same everywhere.
    pub uniform: LikelihoodRatio,
    /// The product alone: another at each score.
    pub non_uniform: LikelihoodRatio,
    /// Gain in Nagelkerke's R² from score alone to all three.
    pub gain: f64,
    /// Size of that gain.
    pub size: EffectSize,
    /// Log odds of the focal group above the reference group, in the uniform model.
    pub focal_log_odds: f64,
    /// Candidates that were compared.
    pub groups: Groups,
}

/// Compares the answers of two groups at equal matching scores.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::NotANumber`, `Refusal::TooFew` for small groups,
/// `Refusal::NoVariance` of answers or scores, `Refusal::NotDefined` for separation.
pub fn logistic_dif(
    right: &[bool],
    focal: &[bool],
    matching: &[f64],
) -> Result<LogisticDif, Refusal> {
    same_length(right, focal, matching)?;
    let groups = groups(&strata_by_score(right, focal, matching)?)?;
    let n = right.len() as f64;
    let right_answers = right.iter().filter(|right| **right).count() as f64;
    if right_answers == 0.0 || right_answers == n {
        return Err(Refusal::NoVariance { of: "answers" });
    }
    if is_constant(matching) {
        return Err(Refusal::NoVariance {
            of: "matching scores",
        });
    }
    // Centred and scaled: likelihoods stay as they are, and the steps behave.
    let (middle, spread) = (mean(matching)?, variance(matching, Divisor::Count)?.sqrt());
    let score: Vec<f64> = matching.iter().map(|x| (x - middle) / spread).collect();
    let group: Vec<f64> = focal.iter().map(|f| f64::from(u8::from(*f))).collect();
    let product: Vec<f64> = score.iter().zip(&group).map(|(x, g)| x * g).collect();
    let ones = vec![1.0; right.len()];
    let columns = [ones, score, group, product];
    let [one, two, three] = [2, 3, 4].map(|used| {
        let columns = columns.get(..used).unwrap_or(&columns);
        logistic_model(columns, right)
    });
    let (plain, uniform, all): (LogisticModel, LogisticModel, LogisticModel) = (one?, two?, three?);
    let both = ratio(plain.deviance - all.deviance, 2);
    let share = right_answers / n;
    let empty =
        -2.0 * (right_answers * libm::log(share) + (n - right_answers) * libm::log(1.0 - share));
    let explained =
        |model: &LogisticModel| libm::expm1((model.deviance - empty) / n) / libm::expm1(-empty / n);
    let gain = explained(&all) - explained(&plain);
    Ok(LogisticDif {
        both,
        uniform: ratio(plain.deviance - uniform.deviance, 1),
        non_uniform: ratio(uniform.deviance - all.deviance, 1),
        gain,
        size: if gain < 0.035 || both.p_value.probability >= 0.05 {
            EffectSize::Negligible
        } else if gain < 0.070 {
            EffectSize::Moderate
        } else {
            EffectSize::Large
        },
        focal_log_odds: uniform.coefficients.last().copied().unwrap_or(0.0),
        groups,
    })
}

fn ratio(gain: f64, degrees_of_freedom: u8) -> LikelihoodRatio {
    // A model with more to choose from cannot fit worse; what is below 0 is rounding.
    let chi = gain.max(0.0);
    LikelihoodRatio {
        chi_square: chi,
        degrees_of_freedom,
        p_value: PValue {
            probability: chi_square::upper_tail(chi, f64::from(degrees_of_freedom)),
            side: Side::Upper,
        },
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn made(turned: bool) -> LogisticDif {
        let (mut right, mut focal, mut matching) = (Vec::new(), Vec::new(), Vec::new());
        for place in 0..400_u32 {
            let score = f64::from(place % 10);
            let group = place % 4 == 0;
            let draw = f64::from((place * 7919 + 13) % 101) / 101.0;
            right.push(draw < (score + 1.0) / 12.0 + if group { 0.15 } else { 0.0 });
            focal.push(group != turned);
            matching.push(score);
        }
        logistic_dif(&right, &focal, &matching).unwrap()
    }

    #[test]
    fn the_parts_add_up_and_the_names_of_the_groups_do_not_matter() {
        let (one, other) = (made(false), made(true));
        let parts = one.uniform.chi_square + one.non_uniform.chi_square;
        assert!((one.both.chi_square - parts).abs() < 1e-9);
        assert!((one.both.chi_square - other.both.chi_square).abs() < 1e-8);
        assert!((one.focal_log_odds + other.focal_log_odds).abs() < 1e-8);
        assert!(one.focal_log_odds > 0.0);
    }

    #[test]
    fn what_cannot_be_fitted_is_refused() {
        let focal: Vec<bool> = (0..200).map(|place| place % 2 == 0).collect();
        let matching: Vec<f64> = (0..200).map(|place| f64::from(place / 2 % 10)).collect();
        let all = vec![true; 200];
        assert!(matches!(
            logistic_dif(&all, &focal, &matching),
            Err(Refusal::NoVariance { .. })
        ));
        let apart: Vec<bool> = matching.iter().map(|score| *score > 4.0).collect();
        assert!(matches!(
            logistic_dif(&apart, &focal, &matching),
            Err(Refusal::NotDefined { .. })
        ));
    }
}
