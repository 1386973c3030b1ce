//! What a set of numbers looks like.

pub mod correlation_interval;
pub mod proportion;
pub mod quantile;
pub mod summary;
