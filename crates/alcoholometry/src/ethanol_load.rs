//! How much ethanol is in a pour, by volume and by mass?
//!
//! Source: definition of % vol; mass with the density of ethanol at 20 °C by OIML R 22:1975
//! (789.239 kg/m³). It is what would be swallowed if nothing were spat; it says nothing about
//! anybody's fitness to drive, and nobody drives after tasting.

use crate::density::density;
use crate::problem::Problem;
use crate::quantities::{Celsius, Grams, MassFraction, Millilitres, VolumePercent};

/// Pure ethanol in a volume of spirit, at 20 °C; `.litres()` gives litres of pure alcohol.
///
/// # Errors
/// None is reachable for checked quantities.
pub fn pure_alcohol(volume: Millilitres, strength: VolumePercent) -> Result<Millilitres, Problem> {
    Millilitres::new(volume.value() * strength.share())
}

/// Mass of ethanol in a volume of spirit.
///
/// # Errors
/// None is reachable for checked quantities.
pub fn grams_of_ethanol(volume: Millilitres, strength: VolumePercent) -> Result<Grams, Problem> {
    pure_alcohol(volume, strength)?.mass(density(MassFraction::ETHANOL, Celsius::TWENTY)?)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_cask_in_litres_of_pure_alcohol() {
        let cask = Millilitres::new(200_000.0).unwrap();
        let pure = pure_alcohol(cask, VolumePercent::new(63.5).unwrap()).unwrap();
        assert!((pure.litres() - 127.0).abs() < 1e-9);
    }
}
