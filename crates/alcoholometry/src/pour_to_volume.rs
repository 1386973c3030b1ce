//! How much spirit and how much water give a wanted volume at a wanted strength?
//!
//! Source: as for the dilution (masses, densities by OIML R 22:1975 at 20 °C), solved for the
//! spirit: V₁ = V₂ s₂ / s₁, water = V₂ ρ₂ − V₁ ρ₁.

use crate::density::density_of_strength;
use crate::dilution::reachable;
use crate::problem::Problem;
use crate::quantities::{Celsius, Grams, Millilitres, VolumePercent};

/// What goes into one glass (or one batch), volumes at 20 °C.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct PourToVolume {
    /// Spirit to measure out.
    pub spirit: Millilitres,
    /// Water to add, by volume.
    pub water: Millilitres,
    /// Water to add, by mass.
    pub water_mass: Grams,
    /// The volume that results, as asked for.
    pub result: Millilitres,
    /// The strength that results, as asked for.
    pub target: VolumePercent,
}

/// Works out spirit and water for `result` at strength `target` from a spirit of strength `source`.
///
/// # Errors
/// `Problem::TargetAboveSource` or `Problem::TargetIsWater`.
pub fn pour_to_volume(
    result: Millilitres,
    source: VolumePercent,
    target: VolumePercent,
) -> Result<PourToVolume, Problem> {
    reachable(source, target)?;
    let spirit = Millilitres::new(result.value() * target.value() / source.value())?;
    let spirit_mass = spirit.mass(density_of_strength(source, Celsius::TWENTY)?)?;
    let result_mass = result.mass(density_of_strength(target, Celsius::TWENTY)?)?;
    let water_mass = Grams::new((result_mass.value() - spirit_mass.value()).max(0.0))?;
    let water = water_mass.volume(density_of_strength(VolumePercent::WATER, Celsius::TWENTY)?)?;
    Ok(PourToVolume {
        spirit,
        water,
        water_mass,
        result,
        target,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::dilution::dilute;

    #[test]
    fn agrees_with_the_dilution_of_the_same_spirit() {
        let source = VolumePercent::new(58.4).unwrap();
        let target = VolumePercent::new(23.0).unwrap();
        let pour = pour_to_volume(Millilitres::new(20.0).unwrap(), source, target).unwrap();
        let dilution = dilute(pour.spirit, source, target).unwrap();
        assert!((dilution.water.value() - pour.water.value()).abs() < 1e-9);
        assert!((dilution.result.value() - 20.0).abs() < 1e-9);
    }
}
