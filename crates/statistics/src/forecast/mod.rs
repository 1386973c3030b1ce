//! How good were probabilities that were stated before the outcome was known?

pub mod brier_decomposition;
pub mod brier_score;
pub mod logarithmic_score;
mod probabilities;
pub mod spherical_score;
