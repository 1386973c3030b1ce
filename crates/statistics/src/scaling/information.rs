//! How precisely does a test measure at each ability?
//!
//! Source: Birnbaum 1968, eq. 17.7.2 (Σ P'²/PQ, for the two-parameter curve Σ a²PQ); Samejima 1969 for
//! several categories. The standard error is 1/√information, without what the uncertainty of the
//! curves adds. Invalid: outside the abilities that the curves were fitted on.

use super::item_curve::ItemCurve;
use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// Information of a test at one ability.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct TestInformation {
    /// The ability, in logits.
    pub ability: f64,
    /// Information of each question.
    pub items: Vec<f64>,
    /// Information of the test.
    pub test: f64,
    /// 1/√information; none where the test tells nothing.
    pub standard_error: Option<f64>,
    /// Expected total at the ability, in marks.
    pub expected_score: f64,
}

/// Works out information at each ability asked for.
///
/// # Errors
/// `Refusal::TooFew` without questions, `Refusal::OutOfRange` for curves or abilities that are none.
pub fn test_information(
    curves: &[ItemCurve],
    abilities: &[f64],
) -> Result<Vec<TestInformation>, Refusal> {
    at_least(1, curves.len(), "questions", "a test needs one")?;
    for curve in curves {
        curve.check()?;
    }
    if let Some(value) = abilities.iter().find(|ability| !ability.is_finite()) {
        return Err(Refusal::OutOfRange {
            of: "ability",
            value: *value,
            allowed: "a finite number",
        });
    }
    Ok(abilities
        .iter()
        .map(|ability| {
            let items: Vec<f64> = curves
                .iter()
                .map(|curve| curve.information(*ability))
                .collect();
            let test = sum(items.iter().copied());
            TestInformation {
                ability: *ability,
                items,
                test,
                standard_error: (test > 1e-12).then(|| 1.0 / test.sqrt()),
                expected_score: sum(curves.iter().map(|curve| curve.expected_score(*ability))),
            }
        })
        .collect())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn four_rasch_questions_at_their_difficulty() {
        let curves = vec![ItemCurve::rasch(1.0); 4];
        let made = test_information(&curves, &[1.0, 60.0]).unwrap();
        assert_eq!((made[0].test, made[0].standard_error), (1.0, Some(1.0)));
        assert_eq!(made[0].expected_score, 2.0);
        assert_eq!(made[1].standard_error, None);
        assert!(test_information(&[], &[0.0]).is_err());
    }
}
