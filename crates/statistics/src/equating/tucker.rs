//! Linear equating by an anchor, when the groups differ a little.
//!
//! Source: Kolen & Brennan 2004, eq. 4.21 to 4.26 (Gulliksen 1950): the regression of totals on the
//! anchor is the same in both groups, γ = σ(X,V)/σ²(V). Invalid: groups that differ much in ability
//! (see [`super::levine`]); an anchor unlike the forms. Smallest: see [`super::advice`]; refused
//! below two candidates or without variance. No interval here; resample both groups. Missing: out.

use crate::equating::anchor_group::AnchorGroup;
use crate::equating::synthetic_population::{
    PopulationWeight, SyntheticEquating, synthetic_equating,
};
use crate::refusal::Refusal;

/// Tucker's equating of the form X, taken by one group, to form Y, taken by the other.
///
/// # Errors
/// `Refusal::UnequalLengths` for different anchors; `Refusal::NotDefined` when the mixed
/// population has no spread.
pub fn tucker(
    x: &AnchorGroup,
    y: &AnchorGroup,
    weight: PopulationWeight,
) -> Result<SyntheticEquating, Refusal> {
    let slope = |group: &AnchorGroup| {
        let moments = group.moments();
        moments.covariance / moments.anchor_variance
    };
    synthetic_equating(x, y, weight, [slope(x), slope(y)])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::equating::anchor_group::tests::groups;

    #[test]
    fn one_group_equated_to_itself_is_the_identity() {
        let (x, _) = groups();
        let made = tucker(&x, &x, PopulationWeight::HALVES).unwrap();
        assert!((made.conversion.slope - 1.0).abs() < 1e-15);
        assert!(made.conversion.intercept.abs() < 1e-14);
        assert_eq!(made.mean_conversion().intercept, 0.0);
    }

    #[test]
    fn there_and_back_is_the_identity_with_the_weights_exchanged() {
        let (x, y) = groups();
        let there = tucker(&x, &y, PopulationWeight::new(0.3).unwrap()).unwrap();
        let back = tucker(&y, &x, PopulationWeight::new(0.7).unwrap()).unwrap();
        let both = there.conversion.then(&back.conversion);
        assert!((both.slope - 1.0).abs() < 1e-13 && both.intercept.abs() < 1e-13);
    }
}
