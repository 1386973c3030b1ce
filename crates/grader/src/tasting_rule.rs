//! How each thing asked of a glass is marked, one file each.

pub mod age_band;
pub mod age_range;
pub mod confidence;
pub mod descriptor_assignment;
pub mod fault_exact;
pub mod measured_number;
pub mod ordered_scale;
pub mod producer_extra_credit;
pub mod quality_from_panel;
pub mod tree_ancestry;
pub mod words_beside;
pub mod written_age;
