//! The curve of a question with discrimination, difficulty and guessing (three parameters).
//!
//! Source: Birnbaum 1968: c + (1 − c)/(1 + exp(−D a (θ − b))); with c = 0 two parameters, with equal
//! a the Rasch curve. Parameters are given; none is estimated here.

use crate::refusal::Refusal;
use crate::sums::sum;

/// The constant D before the discrimination.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CurveMetric {
    /// D = 1.
    Logistic,
    /// D = 1.7, which makes the curve close to the normal ogive.
    NormalOgive,
}

impl CurveMetric {
    pub(crate) const fn constant(self) -> f64 {
        match self {
            Self::Logistic => 1.0,
            Self::NormalOgive => 1.7,
        }
    }
}

/// A question's parameters.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct ThreeParameterCurve {
    discrimination: f64,
    difficulty: f64,
    guessing: f64,
}

impl ThreeParameterCurve {
    /// Takes the parameters.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` for a discrimination that is not above 0, a difficulty that is no
    /// finite number, or guessing outside 0 to 1 (1 left out).
    pub fn new(discrimination: f64, difficulty: f64, guessing: f64) -> Result<Self, Refusal> {
        let out = |of, value, allowed| Err(Refusal::OutOfRange { of, value, allowed });
        if !(discrimination.is_finite() && discrimination > 0.0) {
            return out("discrimination", discrimination, "above 0");
        }
        if !difficulty.is_finite() {
            return out("difficulty", difficulty, "a finite number");
        }
        if !(0.0..1.0).contains(&guessing) {
            return out("guessing", guessing, "0 up to below 1");
        }
        Ok(Self {
            discrimination,
            difficulty,
            guessing,
        })
    }

    /// Discrimination a.
    #[must_use]
    pub const fn discrimination(&self) -> f64 {
        self.discrimination
    }

    /// Difficulty b.
    #[must_use]
    pub const fn difficulty(&self) -> f64 {
        self.difficulty
    }

    /// Guessing c.
    #[must_use]
    pub const fn guessing(&self) -> f64 {
        self.guessing
    }

    /// Probability of a right answer at an ability.
    #[must_use]
    pub fn probability(&self, ability: f64, metric: CurveMetric) -> f64 {
        let odds = metric.constant() * self.discrimination * (ability - self.difficulty);
        self.guessing + (1.0 - self.guessing) / (1.0 + libm::exp(-odds))
    }
}

/// Expected total of a form at an ability.
pub(crate) fn expected_total(
    form: &[ThreeParameterCurve],
    ability: f64,
    metric: CurveMetric,
) -> f64 {
    sum(form.iter().map(|item| item.probability(ability, metric)))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn at_its_difficulty_a_question_is_half_way_above_guessing() {
        let item = ThreeParameterCurve::new(1.3, 0.4, 0.2).unwrap();
        for metric in [CurveMetric::Logistic, CurveMetric::NormalOgive] {
            assert!((item.probability(0.4, metric) - 0.6).abs() < 1e-15);
            assert!(item.probability(-60.0, metric) >= 0.2);
        }
        assert!(ThreeParameterCurve::new(-1.0, 0.0, 0.0).is_err());
        assert!(ThreeParameterCurve::new(1.0, f64::NAN, 0.0).is_err());
        assert!(ThreeParameterCurve::new(1.0, 0.0, 1.0).is_err());
    }
}
