//! What volume and strength do two spirits (or a spirit and water) give together?
//!
//! Source: masses of ethanol and of the whole add up; densities by OIML R 22:1975 at 20 °C.

use crate::density::{density, density_of_strength};
use crate::problem::Problem;
use crate::quantities::{Celsius, Grams, MassFraction, Millilitres, VolumeLost, VolumePercent};
use crate::strength::{mass_fraction, volume_percent};

/// One part of a blend, volume at 20 °C. Water is a part of strength 0.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct SpiritPart {
    /// How much.
    pub volume: Millilitres,
    /// How strong.
    pub strength: VolumePercent,
}

/// Two parts mixed, volumes at 20 °C.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Blend {
    /// Volume of the blend.
    pub volume: Millilitres,
    /// Strength of the blend.
    pub strength: VolumePercent,
    /// Mass of the blend.
    pub mass: Grams,
    /// Volume lost on mixing; negative when the blend swells.
    pub contraction: VolumeLost,
}

/// Mixes two parts.
///
/// # Errors
/// `Problem::NothingToBlend` when both volumes are 0.
pub fn blend(first: SpiritPart, second: SpiritPart) -> Result<Blend, Problem> {
    let first_mass = mass_of(first)?;
    let second_mass = mass_of(second)?;
    let mass = Grams::new(first_mass.value() + second_mass.value())?;
    if mass.value() == 0.0 {
        return Err(Problem::NothingToBlend);
    }
    let ethanol = first_mass.value() * mass_fraction(first.strength).value()
        + second_mass.value() * mass_fraction(second.strength).value();
    let mixture = MassFraction::new((ethanol / mass.value()).min(1.0))?;
    let volume = mass.volume(density(mixture, Celsius::TWENTY)?)?;
    Ok(Blend {
        volume,
        strength: volume_percent(mixture),
        mass,
        contraction: VolumeLost::between(first.volume.value() + second.volume.value(), volume),
    })
}

/// The mass of one part.
fn mass_of(part: SpiritPart) -> Result<Grams, Problem> {
    part.volume
        .mass(density_of_strength(part.strength, Celsius::TWENTY)?)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn part(volume: f64, strength: f64) -> SpiritPart {
        SpiritPart {
            volume: Millilitres::new(volume).unwrap(),
            strength: VolumePercent::new(strength).unwrap(),
        }
    }

    #[test]
    fn order_does_not_matter_and_ethanol_is_kept() {
        let one = blend(part(300.0, 63.0), part(700.0, 41.0)).unwrap();
        let other = blend(part(700.0, 41.0), part(300.0, 63.0)).unwrap();
        assert!((one.strength.value() - other.strength.value()).abs() < 1e-12);
        let ethanol = one.volume.value() * one.strength.value();
        assert!((ethanol - (300.0 * 63.0 + 700.0 * 41.0)).abs() < 1e-6 * ethanol);
    }

    #[test]
    fn a_spirit_with_itself_is_itself() {
        let made = blend(part(10.0, 100.0), part(20.0, 100.0)).unwrap();
        assert!((made.volume.value() - 30.0).abs() < 1e-9);
        assert_eq!(made.strength, VolumePercent::ETHANOL);
    }

    #[test]
    fn nothing_has_no_strength() {
        assert_eq!(
            blend(part(0.0, 40.0), part(0.0, 0.0)),
            Err(Problem::NothingToBlend)
        );
    }
}
