//! How strong is a spirit on the scales that labels and old books use, and what is that in % vol?
//!
//! Every scale says what it rests on and how well that is vouched for. Proof of the United States
//! and of the United Kingdom follow [`crate::proof`]. Gay-Lussac and Tralles are per cent by volume
//! at another temperature than 20 °C (15 °C, and 60 °F = 15.56 °C): 100 p ρ(p, t) / ρ(1, t), with
//! densities by OIML R 22:1975. Tralles took his absolute alcohol for a little weaker than it is
//! (specific gravity .7939 at 60 °F), so his figures are up to .1 lower than those given here.
//! Cartier is a hydrometer's scale, even in the reciprocal of the specific gravity at 60 °F; the
//! writers who were read disagree about its fixed points (water stands at 0, 10 or 11 degrees), so
//! the line is laid through the two points that Nicholson prints, and the figure is good to about
//! half a degree.

use crate::bracketed_root::falling_root;
use crate::density::{density, formula};
use crate::evidence::Evidence;
use crate::problem::Problem;
use crate::proof::{ProofScale, proof_to_strength, strength_to_proof};
use crate::quantities::{Celsius, MassFraction, VolumePercent};
use crate::strength::{mass_fraction, volume_percent};

/// Sixty degrees Fahrenheit, °C.
const SIXTY_FAHRENHEIT: f64 = (60.0 - 32.0) / 1.8;
/// The two points of Cartier's scale in Nicholson's table: specific gravity, degrees.
const CARTIER_POINTS: [(f64, f64); 2] = [(0.920, 21.6), (0.848, 34.0)];

/// A scale of strength.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "kebab-case")]
pub enum StrengthScale {
    /// Per cent by volume at 20 °C: the scale of all others.
    VolumePercent,
    /// Per cent by mass.
    MassPercent,
    /// Proof of the United States.
    ProofUnitedStates,
    /// Degrees proof of the United Kingdom before 1980.
    ProofUnitedKingdom,
    /// Degrees of Gay-Lussac: per cent by volume at 15 °C.
    GayLussac,
    /// Degrees of Tralles: per cent by volume at 60 °F.
    Tralles,
    /// Degrees of Cartier's hydrometer.
    Cartier,
}

impl StrengthScale {
    /// Every scale, in the order in which they are printed.
    pub const ALL: [Self; 7] = [
        Self::VolumePercent,
        Self::MassPercent,
        Self::ProofUnitedStates,
        Self::ProofUnitedKingdom,
        Self::GayLussac,
        Self::Tralles,
        Self::Cartier,
    ];

    /// The word by which it is asked for.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::VolumePercent => "vol",
            Self::MassPercent => "mass",
            Self::ProofUnitedStates => "us-proof",
            Self::ProofUnitedKingdom => "uk-proof",
            Self::GayLussac => "gay-lussac",
            Self::Tralles => "tralles",
            Self::Cartier => "cartier",
        }
    }

    /// The name as it is printed.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::VolumePercent => "% vol at 20 °C",
            Self::MassPercent => "% mass",
            Self::ProofUnitedStates => "US proof",
            Self::ProofUnitedKingdom => "UK degrees proof (before 1980)",
            Self::GayLussac => "degrees Gay-Lussac",
            Self::Tralles => "degrees Tralles",
            Self::Cartier => "degrees Cartier (about)",
        }
    }

    /// What the scale rests on, in words.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            Self::VolumePercent => "OIML R 22:1975",
            Self::MassPercent => "OIML R 22:1975, by mass",
            Self::ProofUnitedStates => {
                "27 CFR 5.1: twice the per cent by volume; read. It counts at 60 °F, which is left \
                 out here (below .1 % vol)"
            }
            Self::ProofUnitedKingdom => {
                "100 is 57.15 % vol; from memory. A page of the trade that was read says 57.1 % \
                 vol, a spirit of 12/13 of the weight of water at 51 °F"
            }
            Self::GayLussac => "per cent by volume at 15 °C; secondary pages read",
            Self::Tralles => {
                "per cent by volume at 60 °F; his table as A. Ure's Dictionary of Arts prints it \
                 was read"
            }
            Self::Cartier => {
                "two points of E. Nicholson's Men and Measures (21.6 at .920, 34 at .848); read. \
                 Writers disagree; good to half a degree"
            }
        }
    }

    /// How well it is vouched for.
    #[must_use]
    pub const fn evidence(self) -> Evidence {
        match self {
            Self::VolumePercent | Self::MassPercent | Self::ProofUnitedStates => {
                Evidence::SourceRead
            }
            Self::ProofUnitedKingdom => ProofScale::UnitedKingdomHistoric.evidence(),
            Self::GayLussac | Self::Tralles | Self::Cartier => Evidence::SecondaryPageRead,
        }
    }

    /// A strength on this scale; none where the scale does not reach it (Cartier below water).
    #[must_use]
    pub fn of(self, strength: VolumePercent) -> Option<f64> {
        let mixture = mass_fraction(strength);
        match self {
            Self::VolumePercent => Some(strength.value()),
            Self::MassPercent => Some(mixture.percent()),
            Self::ProofUnitedStates => Some(strength_to_proof(strength, ProofScale::UnitedStates)),
            Self::ProofUnitedKingdom => Some(strength_to_proof(
                strength,
                ProofScale::UnitedKingdomHistoric,
            )),
            Self::GayLussac => Some(100.0 * share_at(mixture.value(), 15.0)),
            Self::Tralles => Some(100.0 * share_at(mixture.value(), SIXTY_FAHRENHEIT)),
            Self::Cartier => specific_gravity(mixture).map(cartier).ok(),
        }
    }

    /// The strength of a figure on this scale.
    ///
    /// # Errors
    /// `Problem::NoProof` outside the scale, with the figure of pure ethanol on it.
    pub fn strength(self, figure: f64) -> Result<VolumePercent, Problem> {
        let outside = || Problem::NoProof {
            proof: figure,
            highest: self.of(VolumePercent::ETHANOL).unwrap_or(f64::NAN),
        };
        let lowest = self.of(VolumePercent::WATER).unwrap_or(0.0);
        let highest = self.of(VolumePercent::ETHANOL).unwrap_or(0.0);
        // The ends are rounded ones: what lies a hair beyond them is at them.
        let within = (lowest - 1e-9..=highest + 1e-9).contains(&figure);
        let by_search = |rises: &dyn Fn(f64) -> f64| {
            MassFraction::new(falling_root(|p| -rises(p), -figure)).map(volume_percent)
        };
        if !within {
            return Err(outside());
        }
        match self {
            Self::VolumePercent => VolumePercent::new(figure),
            Self::MassPercent => {
                MassFraction::new((figure / 100.0).clamp(0.0, 1.0)).map(volume_percent)
            }
            Self::ProofUnitedStates => proof_to_strength(figure, ProofScale::UnitedStates),
            Self::ProofUnitedKingdom => {
                proof_to_strength(figure, ProofScale::UnitedKingdomHistoric)
            }
            Self::GayLussac => by_search(&|p| 100.0 * share_at(p, 15.0)),
            Self::Tralles => by_search(&|p| 100.0 * share_at(p, SIXTY_FAHRENHEIT)),
            Self::Cartier => by_search(&|p| cartier(relative(p))),
        }
        .map_err(|_| outside())
    }
}

/// Volume share of ethanol in a mixture of mass fraction `p`, both at `celsius`.
fn share_at(p: f64, celsius: f64) -> f64 {
    p * formula(p, celsius) / formula(1.0, celsius)
}

/// Specific gravity at 60 °F, water of 60 °F as 1.
fn specific_gravity(mixture: MassFraction) -> Result<f64, Problem> {
    let there = Celsius::new(SIXTY_FAHRENHEIT)?;
    Ok(density(mixture, there)?.value() / density(MassFraction::WATER, there)?.value())
}

fn relative(p: f64) -> f64 {
    formula(p, SIXTY_FAHRENHEIT) / formula(0.0, SIXTY_FAHRENHEIT)
}

/// Cartier's degrees of a specific gravity: a straight line in its reciprocal.
fn cartier(gravity: f64) -> f64 {
    let [(heavy, low), (light, high)] = CARTIER_POINTS;
    let slope = (high - low) / (1.0 / light - 1.0 / heavy);
    low + slope * (1.0 / gravity - 1.0 / heavy)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back_on_every_scale() {
        for scale in StrengthScale::ALL {
            for percent in [0.0, 5.0, 40.0, 63.5, 96.0, 100.0] {
                let strength = VolumePercent::new(percent).unwrap();
                let back = scale.strength(scale.of(strength).unwrap()).unwrap();
                assert!((back.value() - percent).abs() < 1e-7, "{scale:?} {percent}");
            }
            assert!(scale.strength(-20.0).is_err(), "{scale:?}");
            assert!(scale.strength(f64::NAN).is_err(), "{scale:?}");
            assert!(scale.strength(1000.0).is_err(), "{scale:?}");
        }
    }

    #[test]
    fn the_table_of_tralles() {
        // A. Ure, A Dictionary of Arts, Manufactures, and Mines: specific gravity at 60 °F, water of
        // greatest density as 1, by per cent. Four digits printed; his alcohol was a little weak.
        for (percent, gravity) in [
            (0.0, 0.9991),
            (10.0, 0.9857),
            (20.0, 0.9751),
            (30.0, 0.9646),
            (40.0, 0.9510),
            (50.0, 0.9335),
            (60.0, 0.9126),
            (70.0, 0.8892),
            (80.0, 0.8631),
            (90.0, 0.8332),
        ] {
            let strength = StrengthScale::Tralles.strength(percent).unwrap();
            let there = Celsius::new(SIXTY_FAHRENHEIT).unwrap();
            let made = density(mass_fraction(strength), there).unwrap().value() / 999.97;
            assert!((made - gravity).abs() < 0.0006, "{percent}: {made}");
        }
    }

    #[test]
    fn the_comparison_of_the_old_scales() {
        // E. Nicholson, Men and Measures: specific gravity .920 is 57.05 % vol, proof; Cartier 21.6;
        // .848 is 85.2 % vol, Cartier 34. Absolute alcohol on Cartier's scale is about 44 (Cartier's
        // scale ends there in three accounts), water about 10.
        let proof = StrengthScale::ProofUnitedKingdom.strength(100.0).unwrap();
        assert!((StrengthScale::Cartier.of(proof).unwrap() - 21.6).abs() < 0.15);
        let rectified = VolumePercent::new(85.2).unwrap();
        assert!((StrengthScale::Cartier.of(rectified).unwrap() - 34.0).abs() < 0.4);
        assert!((StrengthScale::Cartier.of(VolumePercent::ETHANOL).unwrap() - 44.0).abs() < 1.0);
        assert!((StrengthScale::Cartier.of(VolumePercent::WATER).unwrap() - 10.0).abs() < 0.5);
    }

    #[test]
    fn proof_spirit_weighs_twelve_thirteenths_of_water() {
        // The definition of 1816 and 1818, as a page of the trade quotes it: at 51 °F.
        let there = Celsius::new((51.0 - 32.0) / 1.8).unwrap();
        let proof = StrengthScale::ProofUnitedKingdom.strength(100.0).unwrap();
        let ratio = density(mass_fraction(proof), there).unwrap().value()
            / density(MassFraction::WATER, there).unwrap().value();
        assert!((ratio - 12.0 / 13.0).abs() < 0.0005, "{ratio}");
    }

    #[test]
    fn gay_lussac_is_a_hair_from_percent_at_twenty() {
        let strength = VolumePercent::new(50.0).unwrap();
        let at_fifteen = StrengthScale::GayLussac.of(strength).unwrap();
        assert!((at_fifteen - 50.0).abs() < 0.15, "{at_fifteen}");
    }
}
