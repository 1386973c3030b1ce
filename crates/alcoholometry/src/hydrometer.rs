//! What is the true strength when a glass alcoholometer was read at another temperature than 20 °C?
//!
//! Source: OIML R 22:1975, the route of table VIII b for instruments of soda-lime glass: the stem
//! shows the strength that belongs, at 20 °C, to the density around it; at t the glass has swollen
//! by 25e-6 per °C, so the liquid's density is ρ(reading, 20) / (1 + 25e-6 (t − 20)); the strength
//! follows from that density at t. Invalid: other glass, other reference temperature, sugar.

use crate::density::{density_of_strength, within_formula};
use crate::problem::Problem;
use crate::quantities::{Celsius, Density, VolumePercent};
use crate::strength_from_density::strength_from_density;

/// Cubic expansion of the glass per °C.
pub const GLASS_EXPANSION: f64 = 25e-6;

/// The strength at 20 °C of a spirit in which an alcoholometer made for 20 °C shows `reading`
/// while the spirit has `temperature`.
///
/// # Errors
/// `Problem::OutsideFormulaRange`, or `Problem::NoMixtureOfThisDensity` when the reading cannot
/// occur at that temperature.
pub fn strength_from_hydrometer(
    reading: VolumePercent,
    temperature: Celsius,
) -> Result<VolumePercent, Problem> {
    let celsius = within_formula(temperature)?;
    let shown = density_of_strength(reading, Celsius::TWENTY)?;
    let swollen = 1.0 + GLASS_EXPANSION * (celsius - Celsius::TWENTY.value());
    strength_from_density(Density::new(shown.value() / swollen)?, temperature)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn at_twenty_degrees_the_reading_is_the_strength() {
        let reading = VolumePercent::new(43.0).unwrap();
        let strength = strength_from_hydrometer(reading, Celsius::TWENTY).unwrap();
        assert!((strength.value() - 43.0).abs() < 1e-9);
    }

    #[test]
    fn a_cold_spirit_reads_too_weak() {
        let reading = VolumePercent::new(40.0).unwrap();
        let cold = strength_from_hydrometer(reading, Celsius::new(10.0).unwrap()).unwrap();
        assert!(cold > reading);
    }
}
