//! What a candidate's measure is: an ability with its standard error.

use crate::distribution::normal;
use crate::interval::{Confidence, Interval, IntervalMethod};

/// An ability on the scale of the questions.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct PersonMeasure {
    /// The ability, in logits of the scale.
    pub ability: f64,
    /// Its standard error (of an EAP: the posterior standard deviation).
    pub standard_error: f64,
    /// Questions answered.
    pub answers: usize,
}

impl PersonMeasure {
    /// Limits by the normal distribution.
    #[must_use]
    pub fn interval(&self, confidence: Confidence) -> Interval {
        let width = normal::quantile_of_upper_tail(confidence.each_tail()) * self.standard_error;
        Interval {
            lower: self.ability - width,
            upper: self.ability + width,
            confidence,
            method: IntervalMethod::Normal,
        }
    }
}
