//! How far would the same candidates be told apart again?

pub mod alpha_if_deleted;
pub mod composite_reliability;
pub mod cronbach_alpha;
pub mod feldt_interval;
pub mod guttman_lambdas;
pub mod keats_error;
pub mod kr20;
pub mod kr21;
pub mod lord_error;
pub mod omega;
pub mod spearman_brown;
pub mod split_half;
pub mod standard_error;
pub mod standardised_alpha;
pub mod subscore_value;
