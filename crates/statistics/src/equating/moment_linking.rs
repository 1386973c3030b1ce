//! Which line carries the abilities of one scale to another, by the moments of shared questions?
//!
//! Sources: mean/mean, Loyd & Hoover 1980: A = mean a_X / mean a_Y; mean/sigma, Marco 1977:
//! A = s(b_Y)/s(b_X) with divisor n − 1; B = mean b_Y − A mean b_X; θ_Y = A θ_X + B. With equal
//! discriminations (Rasch) mean/mean is the shift of Wright & Stone 1979. Invalid: shared questions
//! whose parameters drifted (look at them one by one); parameters with errors of very different
//! size. Smallest: two shared questions; about 20 or a fifth of the form are wanted (Kolen & Brennan
//! 2004, from memory). No interval here. Missing: none.

use crate::equating::three_parameter_curve::ThreeParameterCurve;
use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, mean, variance};

/// θ_Y = slope θ_X + intercept.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct ScaleLink {
    /// A.
    pub slope: f64,
    /// B.
    pub intercept: f64,
}

impl ScaleLink {
    /// A question of scale X in terms of scale Y; its curve over persons stays what it was.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` when the slope is not above 0.
    pub fn carry(&self, item: &ThreeParameterCurve) -> Result<ThreeParameterCurve, Refusal> {
        ThreeParameterCurve::new(
            item.discrimination() / self.slope,
            self.slope * item.difficulty() + self.intercept,
            item.guessing(),
        )
    }
}

fn difficulties(items: &[ThreeParameterCurve]) -> Vec<f64> {
    items.iter().map(ThreeParameterCurve::difficulty).collect()
}

/// Refuses lists of shared questions that do not belong together.
pub(crate) fn shared_questions(
    x: &[ThreeParameterCurve],
    y: &[ThreeParameterCurve],
) -> Result<(), Refusal> {
    at_least(2, x.len(), "shared questions", "a line needs two points")?;
    if x.len() == y.len() {
        Ok(())
    } else {
        Err(Refusal::UnequalLengths {
            of: "shared questions",
            have: y.len(),
            expected: x.len(),
        })
    }
}

/// The link by mean discrimination and mean difficulty.
///
/// # Errors
/// `Refusal::TooFew`, `Refusal::UnequalLengths`.
pub fn mean_mean(
    x: &[ThreeParameterCurve],
    y: &[ThreeParameterCurve],
) -> Result<ScaleLink, Refusal> {
    shared_questions(x, y)?;
    let steepness = |items: &[ThreeParameterCurve]| -> Result<f64, Refusal> {
        mean(
            &items
                .iter()
                .map(ThreeParameterCurve::discrimination)
                .collect::<Vec<f64>>(),
        )
    };
    link(steepness(x)? / steepness(y)?, x, y)
}

/// The link by mean and spread of difficulty.
///
/// # Errors
/// `Refusal::TooFew`, `Refusal::UnequalLengths`, `Refusal::NoVariance` of difficulties.
pub fn mean_sigma(
    x: &[ThreeParameterCurve],
    y: &[ThreeParameterCurve],
) -> Result<ScaleLink, Refusal> {
    shared_questions(x, y)?;
    let spread =
        |items: &[ThreeParameterCurve]| variance(&difficulties(items), Divisor::CountLessOne);
    let (from, to) = (spread(x)?, spread(y)?);
    if from <= 0.0 || to <= 0.0 {
        return Err(Refusal::NoVariance { of: "difficulties" });
    }
    link((to / from).sqrt(), x, y)
}

fn link(
    slope: f64,
    x: &[ThreeParameterCurve],
    y: &[ThreeParameterCurve],
) -> Result<ScaleLink, Refusal> {
    Ok(ScaleLink {
        slope,
        intercept: mean(&difficulties(y))? - slope * mean(&difficulties(x))?,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
pub(crate) mod tests {
    use super::*;

    /// Five questions of scale X, and the same on a scale Y with A = 1.2 and B = −0.5.
    pub(crate) fn shared() -> (Vec<ThreeParameterCurve>, Vec<ThreeParameterCurve>) {
        let known = ScaleLink {
            slope: 1.2,
            intercept: -0.5,
        };
        let x: Vec<ThreeParameterCurve> = [
            (0.8, -1.0, 0.1),
            (1.1, -0.2, 0.2),
            (1.4, 0.3, 0.15),
            (0.9, 0.9, 0.25),
            (1.2, 1.6, 0.1),
        ]
        .map(|(a, b, c)| ThreeParameterCurve::new(a, b, c).unwrap())
        .to_vec();
        let y = x.iter().map(|item| known.carry(item).unwrap()).collect();
        (x, y)
    }

    #[test]
    fn a_known_line_is_found_both_ways() {
        let (x, y) = shared();
        for made in [mean_mean(&x, &y).unwrap(), mean_sigma(&x, &y).unwrap()] {
            assert!((made.slope - 1.2).abs() < 1e-14, "{made:?}");
            assert!((made.intercept + 0.5).abs() < 1e-14, "{made:?}");
        }
        assert!(mean_mean(&x, &y[1..]).is_err());
        assert!(mean_sigma(&[x[0], x[0]], &[y[0], y[0]]).is_err());
    }
}
