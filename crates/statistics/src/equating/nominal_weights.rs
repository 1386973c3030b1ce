//! A constant from an anchor, when groups are too small to estimate a slope.
//!
//! Source: Babcock, Albano & Raymond 2012: mean equating in a mixed population with γ replaced by the
//! ratio of the lengths of form and anchor. Invalid: an anchor that is not a small copy of the forms;
//! forms that differ by more than a constant. Smallest: 26 on each form, see [`super::advice`]. No
//! interval here; resample both groups. Missing: left out before.

use crate::equating::anchor_group::{AnchorGroup, same_anchor};
use crate::equating::conversion::LinearConversion;
use crate::equating::synthetic_population::PopulationWeight;
use crate::refusal::Refusal;

/// The constant, as a line of slope 1.
///
/// # Errors
/// `Refusal::UnequalLengths` for different anchors.
pub fn nominal_weights(
    x: &AnchorGroup,
    y: &AnchorGroup,
    weight: PopulationWeight,
) -> Result<LinearConversion, Refusal> {
    same_anchor(x, y)?;
    // Whole marks and a spread are checked with the groups, so no anchor has 0 as its highest.
    let ratio = |group: &AnchorGroup| group.highest_total() as f64 / group.highest_anchor() as f64;
    let (one, two) = (x.moments(), y.moments());
    let apart = one.anchor_mean - two.anchor_mean;
    let x_mean = one.total_mean - weight.of_y() * ratio(x) * apart;
    let y_mean = two.total_mean + weight.of_x() * ratio(y) * apart;
    Ok(LinearConversion {
        slope: 1.0,
        intercept: y_mean - x_mean,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::equating::anchor_group::tests::groups;

    #[test]
    fn equal_lengths_make_the_weight_of_the_population_immaterial() {
        let (x, y) = groups();
        let one = nominal_weights(&x, &y, PopulationWeight::X_ALONE).unwrap();
        let other = nominal_weights(&x, &y, PopulationWeight::HALVES).unwrap();
        assert!((one.intercept - other.intercept).abs() < 1e-14);
        let itself = nominal_weights(&x, &x, PopulationWeight::HALVES).unwrap();
        assert_eq!(itself.intercept, 0.0);
    }
}
