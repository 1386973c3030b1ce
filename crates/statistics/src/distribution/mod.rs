//! Distributions: both tails computed as tails, and quantiles from either tail.

pub mod beta;
pub mod binomial;
pub mod chi_square;
pub mod f;
mod incomplete_beta;
mod incomplete_gamma;
pub mod normal;
mod saddle_point;
mod search;
pub mod student_t;
