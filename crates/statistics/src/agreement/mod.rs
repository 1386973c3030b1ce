//! Do markers, or assessors, say the same?

pub mod bland_altman;
pub mod category_table;
pub mod cohen_kappa;
pub mod conger_kappa;
pub mod fleiss_kappa;
pub mod gwet_coefficient;
pub mod intraclass_correlation;
pub mod kendall_w;
pub mod krippendorff_alpha;
pub mod light_kappa;
pub mod rating_table;
