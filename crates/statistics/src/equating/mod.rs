//! What would a mark on one form have been on another?

pub mod advice;
pub mod anchor_group;
pub mod braun_holland;
pub mod chained_equipercentile;
pub mod chained_linear;
pub mod circle_arc;
pub mod conversion;
pub mod curve_linking;
pub mod equipercentile;
pub mod frequency_estimation;
pub mod identity;
pub mod levine;
pub mod linear;
pub mod mean;
pub mod moment_linking;
pub mod nominal_weights;
pub mod observed_score;
pub mod presmoothing;
pub mod rasch_calibration;
pub mod score_distribution;
pub mod synthetic_population;
pub mod three_parameter_curve;
pub mod true_score;
pub mod tucker;

pub use advice::advice;
