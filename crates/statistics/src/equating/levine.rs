//! Linear equating by an anchor, when the groups differ in ability.
//!
//! Sources: Levine 1955; Kolen & Brennan 2004, ch. 4 (observed score: γ from a classical congeneric
//! model, σ²(X)/σ(X,V) for an anchor inside the form, (σ²(X) + σ(X,V))/(σ²(V) + σ(X,V)) for one
//! outside); true score, Hanson 1991: slope γ_Y/γ_X. Invalid: form and anchor that do not measure
//! the same. Smallest: see [`super::advice`]; refused below two candidates or without variance. No
//! interval here; resample both groups. Missing: left out before.

use crate::equating::anchor_group::{AnchorGroup, same_anchor};
use crate::equating::conversion::LinearConversion;
use crate::equating::synthetic_population::{
    PopulationWeight, SyntheticEquating, synthetic_equating,
};
use crate::refusal::Refusal;

/// Whether the anchor's marks count in the total.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum AnchorPlace {
    /// The anchor is part of the form.
    Internal,
    /// The anchor stands beside the form.
    External,
}

fn gamma(group: &AnchorGroup, place: AnchorPlace) -> f64 {
    let moments = group.moments();
    match place {
        AnchorPlace::Internal => moments.total_variance / moments.covariance,
        AnchorPlace::External => {
            (moments.total_variance + moments.covariance)
                / (moments.anchor_variance + moments.covariance)
        }
    }
}

/// Levine's observed score equating.
///
/// # Errors
/// `Refusal::UnequalLengths` for different anchors; `Refusal::NotDefined` when the mixed
/// population has no spread.
pub fn levine_observed_score(
    x: &AnchorGroup,
    y: &AnchorGroup,
    place: AnchorPlace,
    weight: PopulationWeight,
) -> Result<SyntheticEquating, Refusal> {
    synthetic_equating(x, y, weight, [gamma(x, place), gamma(y, place)])
}

/// Levine's true score equating; the mixed population plays no part in it.
///
/// # Errors
/// `Refusal::UnequalLengths` for different anchors.
pub fn levine_true_score(
    x: &AnchorGroup,
    y: &AnchorGroup,
    place: AnchorPlace,
) -> Result<LinearConversion, Refusal> {
    same_anchor(x, y)?;
    let (one, two) = (x.moments(), y.moments());
    let (gamma_x, gamma_y) = (gamma(x, place), gamma(y, place));
    let slope = gamma_y / gamma_x;
    Ok(LinearConversion {
        slope,
        intercept: two.total_mean + gamma_y * (one.anchor_mean - two.anchor_mean)
            - slope * one.total_mean,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::equating::anchor_group::tests::groups;

    #[test]
    fn there_and_back_is_the_identity() {
        let (x, y) = groups();
        for place in [AnchorPlace::Internal, AnchorPlace::External] {
            let there = levine_true_score(&x, &y, place).unwrap();
            let back = levine_true_score(&y, &x, place).unwrap();
            let both = there.then(&back);
            assert!((both.slope - 1.0).abs() < 1e-13 && both.intercept.abs() < 1e-13);
            let itself = levine_observed_score(&x, &x, place, PopulationWeight::X_ALONE).unwrap();
            assert!((itself.conversion.at(3.0) - 3.0).abs() < 1e-13);
        }
    }
}
