//! A number with a unit and a tolerance.

/// A checked numeric question.
#[derive(Debug, Clone, PartialEq)]
pub struct Numeric {
    /// What is asked.
    pub stem: String,
    /// The right number, in the unit.
    pub answer: f64,
    /// The right number as the author wrote it.
    pub answer_as_written: String,
    /// The unit printed beside the box.
    pub unit: String,
    /// Full marks within this distance, in the unit.
    pub tolerance: f64,
    /// Half marks within this distance, in the unit; larger than the tolerance.
    pub half_within: Option<f64>,
    /// Why the number is right.
    pub why: String,
}
