//! What volume at 20 °C is a volume that was measured at another temperature?
//!
//! Source: the mass does not change: V₂₀ = V ρ(p, t) / ρ(p, 20), densities by OIML R 22:1975. The
//! measuring glass itself is taken as right at t (its own expansion, about 0.03 % over 10 °C, is
//! left out). Invalid: outside −20 to 40 °C.

use crate::density::density_of_strength;
use crate::problem::Problem;
use crate::quantities::{Celsius, Millilitres, VolumePercent};

/// The volume at 20 °C of a spirit that takes `measured` at `temperature`.
///
/// # Errors
/// `Problem::OutsideFormulaRange` outside −20 to 40 °C.
pub fn volume_at_twenty(
    measured: Millilitres,
    strength: VolumePercent,
    temperature: Celsius,
) -> Result<Millilitres, Problem> {
    let there = density_of_strength(strength, temperature)?;
    let at_twenty = density_of_strength(strength, Celsius::TWENTY)?;
    measured.mass(there)?.volume(at_twenty)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_warm_litre_is_less_than_a_litre() {
        let litre = Millilitres::new(1000.0).unwrap();
        let strength = VolumePercent::new(60.0).unwrap();
        let warm = volume_at_twenty(litre, strength, Celsius::new(30.0).unwrap()).unwrap();
        assert!(warm < litre);
        let same = volume_at_twenty(litre, strength, Celsius::TWENTY).unwrap();
        assert!((same.value() - 1000.0).abs() < 1e-9);
    }
}
