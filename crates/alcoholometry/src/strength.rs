//! What mass fraction has a strength by volume, and back?
//!
//! Source: OIML R 22:1975: % vol = 100 p ρ(p, 20) / ρ(1, 20). One way it is a product; the other
//! way the root is bracketed between water and ethanol (tolerance 1e-14 of the mass fraction).

use crate::bracketed_root::falling_root;
use crate::density::formula;
use crate::quantities::{MassFraction, VolumePercent};

/// Volume share of ethanol at 20 °C in a mixture of mass fraction `p`.
fn volume_share(p: f64) -> f64 {
    p * formula(p, 20.0) / formula(1.0, 20.0)
}

/// The strength at 20 °C of a mixture.
#[must_use]
pub fn volume_percent(mixture: MassFraction) -> VolumePercent {
    let percent = 100.0 * volume_share(mixture.value());
    VolumePercent::new(percent.clamp(0.0, 100.0)).unwrap_or(VolumePercent::WATER)
}

/// The mass fraction of a spirit of known strength.
#[must_use]
pub fn mass_fraction(strength: VolumePercent) -> MassFraction {
    let root = falling_root(|p| -volume_share(p), -strength.share());
    MassFraction::new(root).unwrap_or(MassFraction::WATER)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back_again() {
        for tenth in 0..=1000 {
            let strength = VolumePercent::new(f64::from(tenth) / 10.0).unwrap();
            let back = volume_percent(mass_fraction(strength));
            assert!(
                (back.value() - strength.value()).abs() < 1e-10,
                "{strength:?} came back as {back:?}"
            );
        }
    }

    #[test]
    fn the_ends_are_exact() {
        assert_eq!(mass_fraction(VolumePercent::WATER), MassFraction::WATER);
        assert_eq!(mass_fraction(VolumePercent::ETHANOL), MassFraction::ETHANOL);
        assert_eq!(
            volume_percent(MassFraction::ETHANOL),
            VolumePercent::ETHANOL
        );
    }
}
