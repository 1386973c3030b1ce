//! What does a tasting panel say, and do its members say the same?

pub mod assessor_anova;
pub mod assessor_standing;
pub mod cochran_q;
pub mod descriptor_weight;
pub mod friedman;
pub mod key_distance;
pub mod key_stability;
pub mod key_weights;
pub mod page_trend;
pub mod rank_sum_difference;
