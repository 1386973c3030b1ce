//! How hard are questions and how able are candidates, on one scale? Item response models.

pub mod ability_prior;
pub mod andersen_test;
mod conditional_likelihood;
mod curve_family;
pub mod estimate;
pub mod generalised_partial_credit;
pub mod graded_response;
pub mod information;
pub mod item_curve;
pub mod item_fit;
mod least_persons;
pub mod local_dependence;
pub mod many_facet;
mod marginal_design;
mod marginal_likelihood;
mod maximise;
mod missing_information;
pub mod normal_ogive;
pub mod partial_credit_conditional;
pub mod partial_credit_marginal;
pub mod person_measure;
pub(crate) mod quadrature;
pub mod rasch_conditional;
pub mod rasch_joint;
pub mod rasch_marginal;
pub mod response_table;
mod score_distribution;
#[cfg(test)]
mod simulated;
pub mod summed_score_fit;
pub(crate) mod symmetric_matrix;
pub mod three_parameter;
pub mod two_parameter;
