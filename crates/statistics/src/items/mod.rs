//! How did each question work?

pub mod biserial_correlation;
pub mod difficulty;
pub mod formula_score;
pub mod item_rest_correlation;
pub mod item_total_correlation;
pub mod option_table;
pub mod shrunken_difficulty;
pub mod speededness;
pub mod upper_lower_groups;
