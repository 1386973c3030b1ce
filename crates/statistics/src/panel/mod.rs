//! What does a tasting panel say, and do its members say the same?

pub mod assessor_anova;
pub mod descriptor_weight;
