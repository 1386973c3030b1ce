//! How near did stated probabilities point to what came?
//!
//! Source: the spherical rule, p of the outcome over the length of the vector of probabilities
//! (named by Good 1971; from memory). Proper, 0 to 1; softer on small probabilities than the
//! logarithm.

use super::probabilities::stated_for;
use crate::refusal::Refusal;

/// The credit where the outcome at this place, counted from 0, came: 0 to 1.
///
/// # Errors
/// When the probabilities are none: see [`Refusal`].
pub fn spherical_credit(probabilities: &[f64], outcome: usize) -> Result<f64, Refusal> {
    let stated = stated_for(probabilities, outcome)?;
    let squares: f64 = probabilities.iter().map(|value| value * value).sum();
    // Probabilities that add up to 1 have a length of at least 1/√k.
    Ok(stated / squares.sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn certainty_earns_all_and_equal_probabilities_the_root() {
        assert_eq!(spherical_credit(&[0.0, 1.0, 0.0], 1), Ok(1.0));
        assert_eq!(spherical_credit(&[0.25; 4], 1), Ok(0.5));
        assert_eq!(spherical_credit(&[0.0, 1.0], 0), Ok(0.0));
    }
}
