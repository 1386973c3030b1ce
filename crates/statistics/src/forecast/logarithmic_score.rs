//! How surprised was who stated these probabilities, in nats?
//!
//! Source: Good 1952, -ln of the probability stated for what came. Proper, and the only such score
//! that looks at nothing but that probability. Invalid as a mark without a floor: a stated 0 that
//! comes true costs without end, so marks hold the probability at a floor.

use super::probabilities::stated_for;
use crate::refusal::Refusal;

/// The loss where the outcome at this place, counted from 0, came: 0 for certainty, infinite for
/// what was held to be impossible. With a floor above 0 no probability counts as less than it.
///
/// # Errors
/// When the probabilities are none, or the floor lies outside 0 to 1: see [`Refusal`].
pub fn logarithmic_loss(probabilities: &[f64], outcome: usize, floor: f64) -> Result<f64, Refusal> {
    if !(0.0..1.0).contains(&floor) {
        return Err(Refusal::OutOfRange {
            of: "floor",
            value: floor,
            allowed: "0 to below 1",
        });
    }
    let stated = stated_for(probabilities, outcome)?.max(floor);
    if stated == 0.0 {
        return Ok(f64::INFINITY);
    }
    // Certainty costs nothing, and no negative nothing either.
    Ok((-libm::log(stated)).max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_costs_the_logarithm_of_two_and_the_impossible_everything() {
        let half = logarithmic_loss(&[0.5, 0.5], 0, 0.0);
        assert!(half.is_ok_and(|loss| (loss - std::f64::consts::LN_2).abs() < 1e-15));
        assert_eq!(logarithmic_loss(&[1.0, 0.0], 1, 0.0), Ok(f64::INFINITY));
        assert_eq!(logarithmic_loss(&[1.0, 0.0], 0, 0.0), Ok(0.0));
        let held = logarithmic_loss(&[1.0, 0.0], 1, 0.5);
        assert!(held.is_ok_and(|loss| (loss - std::f64::consts::LN_2).abs() < 1e-15));
        assert!(logarithmic_loss(&[1.0, 0.0], 1, 1.0).is_err());
    }
}
