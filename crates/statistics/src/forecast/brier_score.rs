//! How far did stated probabilities lie from what came, in squares?
//!
//! Source: Brier 1950, sum over the possible outcomes of (p - o)², 0 to 2 however many there are.
//! Proper: who states what they believe has the least expected score. Invalid: comparisons between
//! lists of unlike length; the skill against equal probabilities is for those.

use super::probabilities::stated_for;
use crate::refusal::Refusal;

/// The score of one forecast.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct BrierScore {
    /// Squared distance, 0 (certain and right) to 2 (certain and wrong).
    pub distance: f64,
    /// 1 - distance / 2: a credit from 0 to 1.
    pub quadratic_credit: f64,
    /// 1 - distance / distance of equal probabilities: 0 for who knows nothing and says so.
    pub skill_against_equal: f64,
}

/// The score of probabilities where the outcome at this place, counted from 0, came.
///
/// # Errors
/// When the probabilities are none: see [`Refusal`].
pub fn brier_score(probabilities: &[f64], outcome: usize) -> Result<BrierScore, Refusal> {
    stated_for(probabilities, outcome)?;
    let distance: f64 = probabilities
        .iter()
        .enumerate()
        .map(|(place, stated)| {
            let came = if place == outcome { 1.0 } else { 0.0 };
            (stated - came) * (stated - came)
        })
        .sum();
    // (1 - 1/k)² + (k - 1)/k² is 1 - 1/k.
    #[allow(clippy::cast_precision_loss)]
    let of_equal = 1.0 - 1.0 / probabilities.len() as f64;
    Ok(BrierScore {
        distance,
        quadratic_credit: 1.0 - distance / 2.0,
        skill_against_equal: 1.0 - distance / of_equal,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn equal_probabilities_have_no_skill_and_certainty_all_or_less_than_none() {
        let equal = brier_score(&[0.25; 4], 2).unwrap();
        assert!(equal.skill_against_equal.abs() < 1e-12);
        assert_eq!(brier_score(&[0.0, 1.0], 1).unwrap().quadratic_credit, 1.0);
        assert_eq!(brier_score(&[0.0, 1.0], 0).unwrap().distance, 2.0);
    }

    proptest! {
        #[test]
        fn who_says_what_they_believe_expects_most(
            belief in prop::collection::vec(0.01_f64..1.0, 2..6),
            other in prop::collection::vec(0.01_f64..1.0, 6),
        ) {
            let shares = |of: &[f64]| {
                let sum: f64 = of.iter().sum();
                of.iter().map(|value| value / sum).collect::<Vec<_>>()
            };
            let (belief, other) = (shares(&belief), shares(&other[..belief.len()]));
            let expected = |said: &[f64]| -> f64 {
                belief
                    .iter()
                    .enumerate()
                    .map(|(place, p)| p * brier_score(said, place).unwrap().quadratic_credit)
                    .sum()
            };
            prop_assert!(expected(&belief) >= expected(&other) - 1e-12);
        }
    }
}
