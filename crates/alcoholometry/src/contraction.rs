//! What went into one volume of a spirit: how much ethanol, how much water, how much was lost?
//!
//! Source: definition, with densities by OIML R 22:1975 at 20 °C. Largest near 54 % vol.

use crate::density::{density, formula};
use crate::problem::Problem;
use crate::quantities::{Celsius, VolumePercent};
use crate::strength::mass_fraction;

/// Volumes that give one volume of mixture, at 20 °C, as shares of that volume.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct ContractionPerVolume {
    /// Pure ethanol that went in.
    pub ethanol: f64,
    /// Water that went in.
    pub water: f64,
    /// What both took together beyond the one volume that they make.
    pub contraction: f64,
}

/// Takes one volume of a spirit apart.
///
/// # Errors
/// None is reachable for a checked strength; the signature is that of the densities it uses.
pub fn contraction_per_volume(strength: VolumePercent) -> Result<ContractionPerVolume, Problem> {
    let mixture = mass_fraction(strength);
    let whole = density(mixture, Celsius::TWENTY)?.value();
    let ethanol = strength.share();
    let water = whole * (1.0 - mixture.value()) / formula(0.0, Celsius::TWENTY.value());
    Ok(ContractionPerVolume {
        ethanol,
        water,
        contraction: ethanol + water - 1.0,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_lost_at_the_ends_and_most_near_54_percent() {
        let lost = |percent: f64| {
            contraction_per_volume(VolumePercent::new(percent).unwrap())
                .unwrap()
                .contraction
        };
        assert!(lost(0.0).abs() < 1e-12 && lost(100.0).abs() < 1e-12);
        let (most, strength) = (0..=1000)
            .map(|tenth| f64::from(tenth) / 10.0)
            .map(|percent| (lost(percent), percent))
            .fold(
                (0.0, 0.0),
                |best, here| if here.0 > best.0 { here } else { best },
            );
        assert!((53.0..56.0).contains(&strength), "largest at {strength}");
        assert!(
            (most - 0.0368).abs() < 0.00005,
            "{most}: 3.68 % is the known maximum"
        );
    }
}
