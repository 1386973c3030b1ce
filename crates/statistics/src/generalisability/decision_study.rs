//! How dependable would a score be with so many questions, samples, tasks or markers?
//!
//! Sources: Brennan 2001, ch. 2 to 4: Eρ² = σ²(p)/(σ²(p) + σ²(δ)), Φ = σ²(p)/(σ²(p) + σ²(Δ)), δ the
//! error of an order of persons, Δ the error of a score itself; Φ(λ), Brennan & Kane 1977, with the
//! squared distance from the cut corrected for the error of the mean. Invalid: components of
//! another kind of candidates or another kind of question. A negative component counts as 0 here,
//! as is common practice (Brennan 2001 discusses it), and the result says how many there were. No
//! interval: components from few persons or few questions are uncertain, and so is this.
//! Missing: none, the components are given.

use crate::refusal::Refusal;

/// What a design with a given number of conditions would yield.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct DecisionStudy {
    /// Eρ²: for decisions that compare persons.
    pub generalisability: f64,
    /// Φ: for decisions against a fixed mark.
    pub dependability: f64,
    /// Standard error of a score for comparing persons.
    pub relative_error: f64,
    /// Standard error of a score against a fixed mark.
    pub absolute_error: f64,
    /// Estimated variance of persons.
    pub person_variance: f64,
    /// How many components were negative and counted as 0.
    pub raised_to_zero: usize,
}

/// One component of error and by how many conditions it is divided.
#[derive(Debug, Clone, Copy)]
pub struct ErrorPart {
    /// The component.
    pub variance: f64,
    /// How many conditions of it are averaged.
    pub conditions: f64,
    /// Whether it disturbs the order of persons, and not only their level.
    pub with_persons: bool,
}

/// Puts the parts together.
///
/// # Errors
/// `Refusal::NotDefined` when persons show no variance; `Refusal::OutOfRange` below one condition.
pub fn decision_study(person_variance: f64, parts: &[ErrorPart]) -> Result<DecisionStudy, Refusal> {
    if person_variance <= 0.0 {
        return Err(Refusal::NotDefined {
            of: "the decision study",
            because: "the estimated variance of persons is not above 0",
        });
    }
    let (mut relative, mut absolute, mut raised_to_zero) = (0.0, 0.0, 0);
    for part in parts {
        if part.conditions < 1.0 {
            return Err(Refusal::OutOfRange {
                of: "number of conditions",
                value: part.conditions,
                allowed: "1 or more",
            });
        }
        if part.variance < 0.0 {
            raised_to_zero += 1;
            continue;
        }
        let share = part.variance / part.conditions;
        absolute += share;
        if part.with_persons {
            relative += share;
        }
    }
    Ok(DecisionStudy {
        generalisability: person_variance / (person_variance + relative),
        dependability: person_variance / (person_variance + absolute),
        relative_error: relative.sqrt(),
        absolute_error: absolute.sqrt(),
        person_variance,
        raised_to_zero,
    })
}

impl DecisionStudy {
    /// Φ(λ): how dependably persons are told apart from a cut, given the mean of the scores (on the
    /// scale of the components) and the variance of that mean.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` when cut or mean is not a finite number.
    pub fn dependability_at_cut(
        &self,
        cut: f64,
        mean: f64,
        variance_of_mean: f64,
    ) -> Result<f64, Refusal> {
        if !(cut.is_finite() && mean.is_finite() && variance_of_mean.is_finite()) {
            return Err(Refusal::OutOfRange {
                of: "the cut or the mean",
                value: cut,
                allowed: "a finite number",
            });
        }
        // Near the mean the corrected square may fall below 0; a square cannot.
        let square = ((mean - cut) * (mean - cut) - variance_of_mean).max(-self.person_variance);
        let signal = self.person_variance + square;
        let noise = self.absolute_error * self.absolute_error;
        if signal + noise <= 0.0 {
            return Err(Refusal::NotDefined {
                of: "phi at the cut",
                because: "neither persons nor error show any variance",
            });
        }
        Ok(signal / (signal + noise))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_negative_part_counts_as_nothing_and_is_told() {
        let part = |variance, with_persons| ErrorPart {
            variance,
            conditions: 2.0,
            with_persons,
        };
        let made = decision_study(1.0, &[part(2.0, true), part(-0.5, false)]).unwrap();
        assert_eq!(made.raised_to_zero, 1);
        assert!((made.generalisability - 0.5).abs() < 1e-15);
        assert!((made.dependability - 0.5).abs() < 1e-15);
        assert!(decision_study(0.0, &[]).is_err());
    }

    #[test]
    fn far_from_the_cut_every_decision_is_dependable() {
        let part = ErrorPart {
            variance: 1.0,
            conditions: 1.0,
            with_persons: true,
        };
        let made = decision_study(1.0, &[part]).unwrap();
        assert!(made.dependability_at_cut(100.0, 0.0, 0.1).unwrap() > 0.999);
        // At the mean itself Φ(λ) falls to Φ or just below.
        assert!(made.dependability_at_cut(0.0, 0.0, 0.1).unwrap() < 0.5);
        assert!(made.dependability_at_cut(f64::NAN, 0.0, 0.1).is_err());
    }
}
