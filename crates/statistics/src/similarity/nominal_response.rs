//! How probable is each choice of a question at an ability (nominal response model)?
//!
//! Source: Bock 1972: P(k) = exp(a_k θ + c_k)/Σ exp(a_h θ + c_h). Parameters are given; none is
//! estimated here (see [`super::nominal_fit`]).

use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// A question's parameters, one pair for each choice.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct NominalItem {
    slopes: Vec<f64>,
    intercepts: Vec<f64>,
}

impl NominalItem {
    /// Takes slope and intercept of each choice.
    ///
    /// # Errors
    /// `Refusal::UnequalLengths`; `Refusal::TooFew` below two choices; `Refusal::OutOfRange` for
    /// what is no finite number.
    pub fn new(slopes: Vec<f64>, intercepts: Vec<f64>) -> Result<Self, Refusal> {
        at_least(2, slopes.len(), "choices", "a question needs two")?;
        if slopes.len() != intercepts.len() {
            return Err(Refusal::UnequalLengths {
                of: "intercepts beside slopes",
                have: intercepts.len(),
                expected: slopes.len(),
            });
        }
        match slopes
            .iter()
            .chain(&intercepts)
            .find(|one| !one.is_finite())
        {
            Some(value) => Err(Refusal::OutOfRange {
                of: "a parameter of a choice",
                value: *value,
                allowed: "a finite number",
            }),
            None => Ok(Self { slopes, intercepts }),
        }
    }

    /// Probability of each choice.
    #[must_use]
    pub fn probabilities(&self, ability: f64) -> Vec<f64> {
        let powers: Vec<f64> = self
            .slopes
            .iter()
            .zip(&self.intercepts)
            .map(|(slope, intercept)| slope * ability + intercept)
            .collect();
        // The largest is taken out, so that nothing overflows.
        let largest = powers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let parts: Vec<f64> = powers.iter().map(|p| libm::exp(p - largest)).collect();
        let whole = sum(parts.iter().copied());
        parts.iter().map(|part| part / whole).collect()
    }

    /// Slope of one choice; none where there is no such choice.
    pub(crate) fn slope(&self, choice: usize) -> Option<f64> {
        self.slopes.get(choice).copied()
    }

    /// Mean of the slopes of what would be chosen at an ability.
    pub(crate) fn mean_slope(&self, ability: f64) -> f64 {
        sum(self
            .probabilities(ability)
            .iter()
            .zip(&self.slopes)
            .map(|(share, slope)| share * slope))
    }

    /// Probability of one choice; refused when there is no such choice.
    pub(crate) fn probability(&self, choice: usize, ability: f64) -> Result<f64, Refusal> {
        self.probabilities(ability)
            .get(choice)
            .copied()
            .ok_or(Refusal::OutOfRange {
                of: "a choice",
                value: choice as f64,
                allowed: "one that the parameters name",
            })
    }
}

/// Refuses parameters that do not fit the sheets, and abilities that are no numbers.
pub(crate) fn fitting(
    items: &[NominalItem],
    questions: usize,
    abilities: &[f64],
) -> Result<(), Refusal> {
    if items.len() != questions {
        return Err(Refusal::UnequalLengths {
            of: "parameters beside questions",
            have: items.len(),
            expected: questions,
        });
    }
    match abilities.iter().find(|ability| !ability.is_finite()) {
        Some(ability) => Err(Refusal::OutOfRange {
            of: "an ability",
            value: *ability,
            allowed: "a finite number",
        }),
        None => Ok(()),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn two_choices_are_the_logistic_curve() {
        let item = NominalItem::new(vec![0.0, 1.5], vec![0.0, -0.3]).unwrap();
        let made = item.probabilities(0.8);
        let expected = 1.0 / (1.0 + libm::exp(-(1.5 * 0.8 - 0.3)));
        assert!((made[1] - expected).abs() < 1e-15);
        assert!((made.iter().sum::<f64>() - 1.0).abs() < 1e-15);
        assert!(item.probabilities(1e6).iter().all(|p| p.is_finite()));
        assert!(NominalItem::new(vec![1.0], vec![0.0]).is_err());
        assert!(item.probability(2, 0.0).is_err());
    }
}
