//! Does a question treat two groups of equal ability alike?

pub mod item_screen;
pub mod logistic_dif;
mod logistic_model;
pub mod mantel_haenszel;
pub mod standardisation;
pub mod strata;
