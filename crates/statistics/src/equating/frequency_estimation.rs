//! What would each form's marks be in one mixed population, judged by the anchor?
//!
//! Source: Kolen & Brennan 2004, ch. 5; Braun & Holland 1982: at each anchor mark the distribution of
//! totals is the same in both groups. Invalid: groups that differ much in ability; an anchor mark
//! that one group reached and the other did not leaves its totals unknown: its candidates are left
//! out of the mixture, counted, and refused beyond 5 in 100 (common practice, no source). Smallest:
//! see [`super::advice`]. No interval here; resample both groups. Missing: left out before.

use crate::equating::anchor_group::{AnchorGroup, same_anchor};
use crate::equating::equipercentile::Ranks;
use crate::equating::synthetic_population::PopulationWeight;
use crate::refusal::Refusal;
use crate::sums::sum;

/// Both forms in a mixed population.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct FrequencyEstimation {
    /// Share of the population at each mark of X.
    pub x_shares: Vec<f64>,
    /// Share of the population at each mark of Y.
    pub y_shares: Vec<f64>,
    /// Share of the mixture that had to be left out.
    pub left_out: f64,
    /// Candidates who took X, and Y.
    pub n: [usize; 2],
}

/// Mixes the groups.
///
/// # Errors
/// `Refusal::UnequalLengths` for different anchors; `Refusal::NotDefined` when the anchor marks of
/// the groups hardly overlap.
pub fn frequency_estimation(
    x: &AnchorGroup,
    y: &AnchorGroup,
    weight: PopulationWeight,
) -> Result<FrequencyEstimation, Refusal> {
    same_anchor(x, y)?;
    let (in_x, in_y) = (x.counts_by_anchor(), y.counts_by_anchor());
    let (x_shares, x_lost) = mixed(&in_x, &in_y, weight.of_x(), x.highest_total());
    let (y_shares, y_lost) = mixed(&in_y, &in_x, weight.of_y(), y.highest_total());
    let left_out = x_lost.max(y_lost);
    if left_out > 0.05 {
        return Err(Refusal::NotDefined {
            of: "frequency estimation",
            because: "more than 5 in 100 have anchor marks that the other group did not reach",
        });
    }
    Ok(FrequencyEstimation {
        x_shares,
        y_shares,
        left_out,
        n: [x.moments().n, y.moments().n],
    })
}

/// The totals of one group, mixed in the share `own` with those it would have had with the anchor
/// marks of the other group; and the share that is unknown.
fn mixed(
    counts: &[Vec<f64>],
    others: &[Vec<f64>],
    own: f64,
    highest_total: usize,
) -> (Vec<f64>, f64) {
    let size = |table: &[Vec<f64>]| sum(table.iter().flatten().copied());
    let (n, other_n) = (size(counts), size(others));
    let mut shares = vec![0.0; highest_total + 1];
    let mut lost = 0.0;
    for (row, other) in counts.iter().zip(others) {
        let here = sum(row.iter().copied());
        let there = sum(other.iter().copied());
        let other_share = (1.0 - own) * there / other_n;
        if here == 0.0 {
            lost += other_share;
            continue;
        }
        // Share of the mixture at this anchor mark, spread over the totals seen there.
        let together = own * here / n + other_share;
        for (share, count) in shares.iter_mut().zip(row) {
            *share += together * count / here;
        }
    }
    let known = 1.0 - lost;
    if known > 0.0 {
        for share in &mut shares {
            *share /= known;
        }
    }
    (shares, lost)
}

impl FrequencyEstimation {
    /// Equipercentile equivalents of the marks 0 to the highest of form X.
    #[must_use]
    pub fn equipercentile(&self) -> Vec<f64> {
        let (from, to) = (Ranks::new(&self.x_shares), Ranks::new(&self.y_shares));
        (0..self.x_shares.len())
            .map(|mark| to.mark(from.rank(mark as f64)))
            .collect()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::equating::anchor_group::tests::groups;

    #[test]
    fn the_mixture_is_whole_and_one_group_with_itself_stays_as_it_is() {
        let (x, y) = groups();
        let made = frequency_estimation(&x, &y, PopulationWeight::HALVES).unwrap();
        assert!((made.x_shares.iter().sum::<f64>() - 1.0).abs() < 1e-14);
        assert_eq!(made.left_out, 0.0);
        let itself = frequency_estimation(&x, &x, PopulationWeight::X_ALONE).unwrap();
        for (mark, equivalent) in itself.equipercentile().iter().enumerate().skip(1) {
            assert!((equivalent - mark as f64).abs() < 1e-9);
        }
    }

    #[test]
    fn groups_that_do_not_meet_on_the_anchor_are_refused() {
        let low = AnchorGroup::new(&[1, 2, 3], &[0, 1, 1], 4, 3).unwrap();
        let high = AnchorGroup::new(&[2, 3, 4], &[2, 3, 3], 4, 3).unwrap();
        assert!(matches!(
            frequency_estimation(&low, &high, PopulationWeight::HALVES),
            Err(Refusal::NotDefined { .. })
        ));
    }
}
