//! Which value has a given share of the values below it?
//!
//! Source: Hyndman & Fan 1996, definition 7 (linear between the order statistics at (n−1)p + 1).
//! Ties: nothing special. Missing: not in the list. Invalid: for shares near 0 or 1 the value says
//! little at 10 to 60 candidates.

use crate::refusal::{Refusal, at_least};

/// The quantile of values in any order.
///
/// # Errors
/// `Refusal::TooFew` for no values, `Refusal::OutOfRange` for a share outside 0 to 1.
pub fn quantile(values: &[f64], share: f64) -> Result<f64, Refusal> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted_quantile(&sorted, share)
}

/// The value in the middle.
///
/// # Errors
/// `Refusal::TooFew` for no values.
pub fn median(values: &[f64]) -> Result<f64, Refusal> {
    quantile(values, 0.5)
}

/// The quantile of values that stand in rising order.
///
/// # Errors
/// As [`quantile`].
pub fn sorted_quantile(sorted: &[f64], share: f64) -> Result<f64, Refusal> {
    at_least(1, sorted.len(), "values", "a quantile needs one")?;
    if !(0.0..=1.0).contains(&share) {
        return Err(Refusal::OutOfRange {
            of: "share below the quantile",
            value: share,
            allowed: "0 to 1",
        });
    }
    let place = (sorted.len() - 1) as f64 * share;
    let below = place.floor();
    let at = |place: usize| sorted.get(place).or(sorted.last()).copied().unwrap_or(0.0);
    let (low, high) = (at(below as usize), at(below as usize + 1));
    Ok(low + (place - below) * (high - low))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn between_the_order_statistics() {
        let values = [4.0, 1.0, 3.0, 2.0];
        assert_eq!(median(&values).unwrap(), 2.5);
        assert_eq!(quantile(&values, 0.25).unwrap(), 1.75);
        assert_eq!(quantile(&values, 1.0).unwrap(), 4.0);
        assert!(quantile(&values, 1.1).is_err());
        assert!(median(&[]).is_err());
    }
}
