//! Are two candidates' choices more alike than their ability explains?
//!
//! Evidence for a person to look at, with the seats beside it, and never a verdict: neighbours who
//! learned together, a common wrong belief or a misprinted key make answers alike as well.

pub mod answer_sheets;
pub mod generalised_binomial;
pub mod k_index;
mod log_linear_mean;
pub mod many_pairs;
pub mod nominal_fit;
pub mod nominal_response;
pub mod regressed_k_index;
pub mod shared_wrong_poisson;
pub mod wollack_omega;
