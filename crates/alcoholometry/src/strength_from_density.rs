//! How strong is a spirit whose density was measured at a temperature?
//!
//! Source: OIML R 22:1975 formula, solved for the mass fraction (bracketed between water and
//! ethanol, tolerance 1e-14). Invalid: for a spirit with sugar or extract, whose density is raised
//! by something that is not water (obscuration); outside −20 to 40 °C.

use crate::bracketed_root::falling_root;
use crate::density::{formula, within_formula};
use crate::problem::Problem;
use crate::quantities::{Celsius, Density, MassFraction, VolumePercent};
use crate::strength::volume_percent;

/// The strength at 20 °C of a mixture that has `measured` density at `temperature`. The density is
/// the true one, as a density meter gives it; a glass hydrometer's reading goes through
/// [`crate::strength_from_hydrometer`].
///
/// # Errors
/// `Problem::OutsideFormulaRange`, or `Problem::NoMixtureOfThisDensity` when the density is above
/// that of water or below that of ethanol at that temperature.
pub fn strength_from_density(
    measured: Density,
    temperature: Celsius,
) -> Result<VolumePercent, Problem> {
    let celsius = within_formula(temperature)?;
    let (highest, lowest) = (formula(0.0, celsius), formula(1.0, celsius));
    let density = measured.value();
    if !(lowest..=highest).contains(&density) {
        return Err(Problem::NoMixtureOfThisDensity {
            density,
            celsius,
            lowest,
            highest,
        });
    }
    let root = falling_root(|p| formula(p, celsius), density);
    Ok(volume_percent(MassFraction::new(root)?))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::density::density_of_strength;

    #[test]
    fn undoes_the_density_of_a_strength() {
        for celsius in [0.0, 5.0, 15.0, 20.0, 31.0, 40.0] {
            for percent in [0.5, 20.0, 40.0, 63.5, 96.0, 99.9] {
                let temperature = Celsius::new(celsius).unwrap();
                let strength = VolumePercent::new(percent).unwrap();
                let density = density_of_strength(strength, temperature).unwrap();
                let back = strength_from_density(density, temperature).unwrap();
                assert!(
                    (back.value() - percent).abs() < 1e-8,
                    "{percent} at {celsius}: {back:?}"
                );
            }
        }
    }

    #[test]
    fn refuses_a_density_that_no_mixture_has() {
        let syrup = Density::new(1050.0).unwrap();
        assert!(matches!(
            strength_from_density(syrup, Celsius::TWENTY),
            Err(Problem::NoMixtureOfThisDensity { .. })
        ));
    }
}
