//! How much water brings a spirit to a target strength, and how much is there then?
//!
//! Source: conservation of the mass of ethanol and of the whole, with densities by OIML R 22:1975
//! at 20 °C: m₂ = m₁ p₁ / p₂, water = m₂ − m₁. The rule of three, V (s₁/s₂ − 1), forgets that
//! ethanol and water together take less room than apart; its figure stands beside for comparison.
//! Invalid: at other temperatures volumes are to be brought to 20 °C first (masses need nothing).

use crate::density::density_of_strength;
use crate::problem::Problem;
use crate::quantities::{Celsius, Grams, Millilitres, VolumeLost, VolumePercent};
use crate::strength::mass_fraction;

/// A reduction with water, all volumes at 20 °C.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Dilution {
    /// Spirit at hand.
    pub spirit: Millilitres,
    /// Its strength.
    pub source: VolumePercent,
    /// Strength asked for.
    pub target: VolumePercent,
    /// Mass of the spirit.
    pub spirit_mass: Grams,
    /// Water to add, by mass: the figure to work with on a balance.
    pub water_mass: Grams,
    /// Water to add, by volume at 20 °C.
    pub water: Millilitres,
    /// What there is in the end.
    pub result: Millilitres,
    /// Volume lost on mixing; negative when the mixture swells.
    pub contraction: VolumeLost,
    /// Water by the rule of three, for comparison only.
    pub rule_of_three_water: Millilitres,
}

/// Refuses a target that water cannot reach; gives the two mass fractions.
pub(crate) fn reachable(
    source: VolumePercent,
    target: VolumePercent,
) -> Result<(f64, f64), Problem> {
    if target > source {
        return Err(Problem::TargetAboveSource {
            source_strength: source.value(),
            target: target.value(),
        });
    }
    if target == VolumePercent::WATER {
        return Err(Problem::TargetIsWater {
            source_strength: source.value(),
        });
    }
    Ok((mass_fraction(source).value(), mass_fraction(target).value()))
}

/// Works out the water for `spirit` of strength `source` to reach `target`.
///
/// # Errors
/// `Problem::TargetAboveSource` or `Problem::TargetIsWater`.
pub fn dilute(
    spirit: Millilitres,
    source: VolumePercent,
    target: VolumePercent,
) -> Result<Dilution, Problem> {
    let (rich, poor) = reachable(source, target)?;
    let spirit_mass = spirit.mass(density_of_strength(source, Celsius::TWENTY)?)?;
    let result_mass = Grams::new(spirit_mass.value() * rich / poor)?;
    // The same strength twice gives a difference of rounding, perhaps below nothing.
    let water_mass = Grams::new((result_mass.value() - spirit_mass.value()).max(0.0))?;
    let water = water_mass.volume(density_of_strength(VolumePercent::WATER, Celsius::TWENTY)?)?;
    let result = result_mass.volume(density_of_strength(target, Celsius::TWENTY)?)?;
    Ok(Dilution {
        spirit,
        source,
        target,
        spirit_mass,
        water_mass,
        water,
        result,
        contraction: VolumeLost::between(spirit.value() + water.value(), result),
        rule_of_three_water: Millilitres::new(
            spirit.value() * (source.value() / target.value() - 1.0),
        )?,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn case(spirit: f64, source: f64, target: f64) -> Result<Dilution, Problem> {
        dilute(
            Millilitres::new(spirit).unwrap(),
            VolumePercent::new(source).unwrap(),
            VolumePercent::new(target).unwrap(),
        )
    }

    #[test]
    fn ethanol_is_neither_made_nor_lost() {
        for (source, target) in [(95.0, 40.0), (63.2, 46.0), (40.0, 20.0), (20.0, 10.0)] {
            let made = case(700.0, source, target).unwrap();
            let before = 700.0 * source;
            let after = made.result.value() * target;
            assert!(
                (before - after).abs() < 1e-7 * before,
                "{source} to {target}"
            );
        }
    }

    #[test]
    fn strong_spirits_shrink_and_weak_ones_swell() {
        assert!(case(100.0, 95.0, 40.0).unwrap().contraction.value() > 6.0);
        assert!(case(100.0, 20.0, 10.0).unwrap().contraction.value() < 0.0);
    }

    #[test]
    fn the_same_strength_needs_no_water() {
        let made = case(700.0, 46.0, 46.0).unwrap();
        assert_eq!(made.water_mass.value(), 0.0);
        assert!((made.result.value() - 700.0).abs() < 1e-9);
    }

    #[test]
    fn water_makes_nothing_stronger() {
        assert_eq!(
            case(700.0, 40.0, 46.0),
            Err(Problem::TargetAboveSource {
                source_strength: 40.0,
                target: 46.0
            })
        );
        assert_eq!(
            case(700.0, 40.0, 0.0),
            Err(Problem::TargetIsWater {
                source_strength: 40.0
            })
        );
    }
}
