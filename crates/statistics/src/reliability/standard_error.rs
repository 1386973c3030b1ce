//! By how many marks would one candidate's total differ from sitting to sitting?
//!
//! Source: definition of classical test theory: s √(1 − reliability), s with divisor n − 1.
//! Invalid: near the ends of the scale (see [`super::lord_error`], [`super::keats_error`]); with a
//! reliability outside 0 to 1 (refused: a negative alpha is no reliability). Missing: none.

use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, variance};

/// The standard error of measurement.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct StandardErrorOfMeasurement {
    /// In marks.
    pub marks: f64,
    /// Spread of the totals, divisor n − 1.
    pub standard_deviation: f64,
    /// The reliability that was given.
    pub reliability: f64,
    /// Number of candidates.
    pub persons: usize,
}

/// The standard error of measurement of these totals at a known reliability.
///
/// # Errors
/// `Refusal::TooFew` below two candidates, `Refusal::OutOfRange` for a reliability outside 0 to 1.
pub fn standard_error_of_measurement(
    totals: &[f64],
    reliability: f64,
) -> Result<StandardErrorOfMeasurement, Refusal> {
    at_least(2, totals.len(), "candidates", "a variance needs two")?;
    if !(0.0..=1.0).contains(&reliability) {
        return Err(Refusal::OutOfRange {
            of: "reliability",
            value: reliability,
            allowed: "0 to 1",
        });
    }
    let standard_deviation = variance(totals, Divisor::CountLessOne)?.sqrt();
    Ok(StandardErrorOfMeasurement {
        marks: standard_deviation * (1.0 - reliability).sqrt(),
        standard_deviation,
        reliability,
        persons: totals.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn all_or_none_of_the_spread() {
        let totals = [1.0, 2.0, 3.0];
        assert_eq!(
            standard_error_of_measurement(&totals, 1.0).unwrap().marks,
            0.0
        );
        assert_eq!(
            standard_error_of_measurement(&totals, 0.0).unwrap().marks,
            1.0
        );
        assert!(standard_error_of_measurement(&totals, -0.2).is_err());
    }
}
