//! What proof is a strength, and back?
//!
//! Sources: United States: 27 CFR 5.1 (40 % vol is 80 proof; twice the per cent by volume at 60 °F,
//! 15.56 °C; read). The strength there belongs to 60 °F; the difference to 20 °C, below 0.1 % vol,
//! is left out and the figure is for labels, not for duty. United Kingdom, historic: 100 proof is
//! 57.15 % vol (from memory), about 7/4 of the per cent by volume.

use crate::evidence::Evidence;
use crate::problem::Problem;
use crate::quantities::VolumePercent;

/// A scale of proof.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "kebab-case")]
pub enum ProofScale {
    /// Twice the per cent by volume.
    UnitedStates,
    /// Degrees proof of the United Kingdom before 1980: 100 is 57.15 % vol.
    UnitedKingdomHistoric,
}

impl ProofScale {
    /// Every scale.
    pub const ALL: [Self; 2] = [Self::UnitedStates, Self::UnitedKingdomHistoric];

    /// Strength that is 100 proof on this scale, % vol.
    #[must_use]
    pub const fn hundred_proof(self) -> f64 {
        match self {
            Self::UnitedStates => 50.0,
            Self::UnitedKingdomHistoric => 57.15,
        }
    }

    /// How well the scale is vouched for.
    #[must_use]
    pub const fn evidence(self) -> Evidence {
        match self {
            Self::UnitedStates => Evidence::SourceRead,
            Self::UnitedKingdomHistoric => Evidence::FromMemory,
        }
    }
}

/// The proof of a strength.
#[must_use]
pub fn strength_to_proof(strength: VolumePercent, scale: ProofScale) -> f64 {
    100.0 * strength.value() / scale.hundred_proof()
}

/// The strength of a proof.
///
/// # Errors
/// `Problem::NoProof` below 0 or above the proof of pure ethanol.
pub fn proof_to_strength(proof: f64, scale: ProofScale) -> Result<VolumePercent, Problem> {
    VolumePercent::new(proof * scale.hundred_proof() / 100.0).map_err(|_| Problem::NoProof {
        proof,
        highest: strength_to_proof(VolumePercent::ETHANOL, scale),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn forty_percent_is_eighty_proof() {
        let strength = VolumePercent::new(40.0).unwrap();
        assert_eq!(strength_to_proof(strength, ProofScale::UnitedStates), 80.0);
        // 70 degrees proof was the usual bottling strength of 40 % vol.
        let historic = strength_to_proof(strength, ProofScale::UnitedKingdomHistoric);
        assert!((historic - 70.0).abs() < 0.05, "{historic}");
    }

    #[test]
    fn there_and_back_and_no_further() {
        for scale in ProofScale::ALL {
            let strength = VolumePercent::new(46.0).unwrap();
            let back = proof_to_strength(strength_to_proof(strength, scale), scale).unwrap();
            assert!((back.value() - 46.0).abs() < 1e-12);
            assert!(proof_to_strength(-1.0, scale).is_err());
            assert!(proof_to_strength(f64::NAN, scale).is_err());
        }
        assert!(proof_to_strength(201.0, ProofScale::UnitedStates).is_err());
    }
}
