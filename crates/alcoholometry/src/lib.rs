//! Strength, density, dilution and alcohol load.
//!
//! All strengths are per cent by volume at 20 °C, all masses are masses (not weights in air), and
//! every mixture is worked out by mass with the international formula, so that contraction is in it.
//! This room knows no other room, opens no file and prints nothing.

mod blend;
mod bottle_yield;
mod bracketed_root;
mod cask_loss;
mod computation;
mod contraction;
mod density;
mod dilution;
mod ethanol_load;
mod evidence;
mod hydrometer;
mod mistake;
mod obscuration;
mod pour_to_volume;
mod problem;
mod proof;
mod quantities;
mod standard_drink;
mod strength;
mod strength_from_density;
mod strength_scale;
mod volume_at_temperature;

pub use blend::{Blend, SpiritPart, blend};
pub use bottle_yield::bottle_yield;
pub use cask_loss::cask_remaining;
pub use computation::{Computation, Parameter};
pub use contraction::{ContractionPerVolume, contraction_per_volume};
pub use density::{COLDEST, WARMEST, density, density_of_strength};
pub use dilution::{Dilution, dilute};
pub use ethanol_load::{grams_of_ethanol, pure_alcohol};
pub use evidence::Evidence;
pub use hydrometer::{GLASS_EXPANSION, strength_from_hydrometer};
pub use mistake::Mistake;
pub use obscuration::obscured_strength;
pub use pour_to_volume::{PourToVolume, pour_to_volume};
pub use problem::Problem;
pub use proof::{ProofScale, proof_to_strength, strength_to_proof};
pub use quantities::{
    Celsius, Density, Grams, MassFraction, Millilitres, VolumeLost, VolumePercent,
};
pub use standard_drink::{DrinkMeasure, StandardDrink, standard_drinks};
pub use strength::{mass_fraction, volume_percent};
pub use strength_from_density::strength_from_density;
pub use strength_scale::StrengthScale;
pub use volume_at_temperature::volume_at_twenty;
