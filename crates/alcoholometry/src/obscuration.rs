//! How strong is a spirit whose hydrometer reading is lowered by what is dissolved in it?
//!
//! Source: 27 CFR 30.32(b): 0.1 g of solids in 100 ml obscures the true proof of a spirit of 80 to
//! 100 proof by 0.4 degrees, for 400 to 600 mg of solids in 100 ml; a degree of proof of that scale
//! is half a % vol. So each g/l of extract hides 0.2 % vol. Invalid: outside these limits (refused);
//! the rule is stated at 60 °F and taken for 20 °C here, which moves the small correction by less
//! than its own rounding.

use crate::problem::Problem;
use crate::quantities::VolumePercent;

/// Strength hidden by one gram of extract in a litre, % vol.
const HIDDEN_BY_A_GRAM: f64 = 0.2;

/// The true strength from the apparent one (temperature-corrected hydrometer reading, % vol) and
/// the extract in g/l.
///
/// # Errors
/// `Problem::OutsideObscurationRule` outside 40 to 50 % vol or 4 to 6 g/l.
pub fn obscured_strength(apparent: VolumePercent, extract: f64) -> Result<VolumePercent, Problem> {
    if !(40.0..=50.0).contains(&apparent.value()) || !(4.0..=6.0).contains(&extract) {
        return Err(Problem::OutsideObscurationRule {
            apparent: apparent.value(),
            extract,
        });
    }
    VolumePercent::new(apparent.value() + HIDDEN_BY_A_GRAM * extract)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_example_of_the_regulation() {
        // 27 CFR 30.32(b): 0.50 g in 100 ml hide two degrees of proof, that is 1 % vol.
        let apparent = VolumePercent::new(43.0).unwrap();
        let truth = obscured_strength(apparent, 5.0).unwrap();
        assert!((truth.value() - 44.0).abs() < 1e-12);
        assert!(obscured_strength(apparent, 20.0).is_err());
    }
}
