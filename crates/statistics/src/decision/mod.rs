//! Would the same candidates pass again, and do those pass who should?

pub mod bivariate_normal;
pub mod decision_figures;
pub mod four_parameter_beta;
pub mod hanson_brennan;
pub mod huynh;
pub mod livingston_lewis;
pub mod subkoviak;
