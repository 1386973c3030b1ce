//! Candidates of two groups sorted by ability: right and wrong answers at each matching score.
//!
//! Smallest groups: below 50 in either group every comparison here is refused (common practice, no
//! source); below 200 it is given and says that its power is low: with 100 a group, more than half
//! of the questions that differ were missed (Mazor, Clauser & Hambleton 1992, from memory).

use crate::refusal::{Refusal, at_least};

/// Below this a comparison is refused.
pub const SMALLEST_GROUP: usize = 50;
/// Below this a comparison says that its power is low.
const WANTED_GROUP: usize = 200;

/// Counts of one matching score, or of any other stratum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize)]
pub struct Stratum {
    /// Reference group, right.
    pub reference_right: usize,
    /// Reference group, wrong.
    pub reference_wrong: usize,
    /// Focal group, right.
    pub focal_right: usize,
    /// Focal group, wrong.
    pub focal_wrong: usize,
}

impl Stratum {
    pub(crate) fn reference(&self) -> usize {
        self.reference_right + self.reference_wrong
    }

    pub(crate) fn focal(&self) -> usize {
        self.focal_right + self.focal_wrong
    }

    /// Whether both groups are in it; where one is missing nothing can be compared.
    pub(crate) fn compares(&self) -> bool {
        self.reference() > 0 && self.focal() > 0
    }
}

/// Whether so many candidates would show a difference that is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Power {
    /// 200 or more in the smaller group.
    Usual,
    /// Fewer: a question without a finding is not thereby fair.
    Low,
}

/// How many candidates of each group could be compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub struct Groups {
    /// In the reference group.
    pub reference: usize,
    /// In the focal group.
    pub focal: usize,
    /// What that carries.
    pub power: Power,
}

/// Counts the groups, strata without one of them left out.
pub(crate) fn groups(strata: &[Stratum]) -> Result<Groups, Refusal> {
    let count = |of: fn(&Stratum) -> usize| {
        strata
            .iter()
            .filter(|stratum| stratum.compares())
            .map(of)
            .sum()
    };
    let (reference, focal) = (count(Stratum::reference), count(Stratum::focal));
    let reason = "common practice, no source; 200 are wanted";
    at_least(
        SMALLEST_GROUP,
        reference,
        "comparable candidates of the reference group",
        reason,
    )?;
    at_least(
        SMALLEST_GROUP,
        focal,
        "comparable candidates of the focal group",
        reason,
    )?;
    Ok(Groups {
        reference,
        focal,
        power: if reference.min(focal) < WANTED_GROUP {
            Power::Low
        } else {
            Power::Usual
        },
    })
}

/// One stratum for each value of the matching score, in rising order.
///
/// # Errors
/// `Refusal::UnequalLengths` when the three lists differ; `Refusal::NotANumber`.
pub fn strata_by_score(
    right: &[bool],
    focal: &[bool],
    matching: &[f64],
) -> Result<Vec<Stratum>, Refusal> {
    same_length(right, focal, matching)?;
    let mut order: Vec<(f64, bool, bool)> = matching
        .iter()
        .zip(right)
        .zip(focal)
        .map(|((score, right), focal)| (*score, *right, *focal))
        .collect();
    order.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut strata: Vec<Stratum> = Vec::new();
    let mut last: Option<f64> = None;
    for (score, right, focal) in order {
        if last != Some(score) {
            strata.push(Stratum::default());
            last = Some(score);
        }
        if let Some(stratum) = strata.last_mut() {
            match (focal, right) {
                (false, true) => stratum.reference_right += 1,
                (false, false) => stratum.reference_wrong += 1,
                (true, true) => stratum.focal_right += 1,
                (true, false) => stratum.focal_wrong += 1,
            }
        }
    }
    Ok(strata)
}

/// Refuses lists that do not belong together and scores that are no numbers.
pub(crate) fn same_length(right: &[bool], focal: &[bool], matching: &[f64]) -> Result<(), Refusal> {
    for (of, have) in [
        ("group beside answers", focal.len()),
        ("matching scores beside answers", matching.len()),
    ] {
        if have != right.len() {
            return Err(Refusal::UnequalLengths {
                of,
                have,
                expected: right.len(),
            });
        }
    }
    match matching.iter().position(|score| !score.is_finite()) {
        Some(row) => Err(Refusal::NotANumber { row, column: 0 }),
        None => Ok(()),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn equal_scores_share_a_stratum() {
        let strata = strata_by_score(
            &[true, false, true, true],
            &[false, false, true, true],
            &[2.0, 1.0, 2.0, 3.0],
        )
        .unwrap();
        assert_eq!(strata.len(), 3);
        let middle = strata.get(1).unwrap();
        assert_eq!((middle.reference_right, middle.focal_right), (1, 1));
        assert!(!strata.first().unwrap().compares());
    }

    #[test]
    fn small_groups_are_refused_by_name() {
        let strata = [Stratum {
            reference_right: 400,
            reference_wrong: 100,
            focal_right: 30,
            focal_wrong: 19,
        }];
        assert!(matches!(
            groups(&strata),
            Err(Refusal::TooFew {
                have: 49,
                need: 50,
                ..
            })
        ));
        assert!(strata_by_score(&[true], &[], &[1.0]).is_err());
        assert!(strata_by_score(&[true], &[true], &[f64::NAN]).is_err());
    }
}
