//! At equal scores, by how many per cent does the focal group answer right more often?
//!
//! Source: Dorans & Kulick 1986: Σ w (P_focal − P_reference)/Σ w over the scores at which both groups
//! are present, w the number of focal candidates there; bounds .05 and .10 from the same. Invalid:
//! as [`super::mantel_haenszel`]. No interval: at scores with few candidates the plain formula is
//! too narrow; resample. Smallest groups: see [`super::strata`]. Missing: left out before.

use crate::fairness::strata::{Groups, Stratum, groups};
use crate::refusal::Refusal;
use crate::sums::sum;

/// How large a standardised difference is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DifferenceSize {
    /// Between −.05 and .05.
    Negligible,
    /// Up to .10 on either side: look at the question.
    Inspect,
    /// Beyond .10: unusual, look with care.
    Unusual,
}

/// A standardised difference of proportions.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct StandardisedDifference {
    /// Focal less reference: negative when the question is harder for the focal group.
    pub difference: f64,
    /// Its size.
    pub size: DifferenceSize,
    /// Candidates that were compared.
    pub groups: Groups,
}

/// The standardised difference over strata.
///
/// # Errors
/// `Refusal::TooFew` for small groups.
pub fn standardised_difference(strata: &[Stratum]) -> Result<StandardisedDifference, Refusal> {
    let groups = groups(strata)?;
    let share = |right: usize, of: usize| right as f64 / of as f64;
    let weighted = sum(strata
        .iter()
        .filter(|stratum| stratum.compares())
        .map(|stratum| {
            let focal = share(stratum.focal_right, stratum.focal());
            let reference = share(stratum.reference_right, stratum.reference());
            stratum.focal() as f64 * (focal - reference)
        }));
    let difference = weighted / groups.focal as f64;
    Ok(StandardisedDifference {
        difference,
        size: if difference.abs() < 0.05 {
            DifferenceSize::Negligible
        } else if difference.abs() <= 0.10 {
            DifferenceSize::Inspect
        } else {
            DifferenceSize::Unusual
        },
        groups,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn equal_shares_at_every_score_are_no_difference() {
        let strata = [
            Stratum {
                reference_right: 10,
                reference_wrong: 90,
                focal_right: 6,
                focal_wrong: 54,
            },
            Stratum {
                reference_right: 90,
                reference_wrong: 10,
                focal_right: 18,
                focal_wrong: 2,
            },
        ];
        let made = standardised_difference(&strata).unwrap();
        assert!(made.difference.abs() < 1e-15);
        assert_eq!(made.size, DifferenceSize::Negligible);
    }
}
