//! How able is one candidate, given the curves of the questions?

pub mod expected_posterior;
mod likelihood;
pub mod maximum_likelihood;
pub mod maximum_posterior;
mod person;
pub mod weighted_likelihood;

pub use person::PersonMeasure;
