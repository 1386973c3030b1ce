//! Where should the cut score lie?

pub mod angoff;
pub mod angoff_consistency;
pub mod bookmark;
pub mod borderline_group;
pub mod borderline_regression;
pub mod cohen_cut;
pub mod contrasting_fewest_errors;
pub mod contrasting_logistic;
pub mod contrasting_normal;
pub mod ebel;
pub mod hofstee;
pub mod item_descriptor_matching;
mod logistic_fit;
mod rasch_curve;
