//! Equipercentile equating from form to anchor in one group, and on to the form of the other.
//!
//! Source: Livingston, Dorans & Wright 1990; Kolen & Brennan 2004, ch. 5. Invalid: a short anchor,
//! whose few marks make the chain coarse; ragged counts: smooth first. Smallest: see
//! [`super::advice`]. No interval here; resample both groups. Ties: a mark is an interval half a
//! mark to each side, in the anchor too. Missing: left out before.

use crate::equating::anchor_group::{AnchorGroup, same_anchor};
use crate::equating::equipercentile::Ranks;
use crate::refusal::Refusal;

/// Equivalents of the marks 0 to the highest of form X.
///
/// # Errors
/// `Refusal::UnequalLengths` for different anchors; otherwise as the distributions.
pub fn chained_equipercentile(x: &AnchorGroup, y: &AnchorGroup) -> Result<Vec<f64>, Refusal> {
    same_anchor(x, y)?;
    let ranks_of_x = Ranks::new(&x.totals()?.shares());
    let anchor_in_x = Ranks::new(&x.anchors()?.shares());
    let anchor_in_y = Ranks::new(&y.anchors()?.shares());
    let ranks_of_y = Ranks::new(&y.totals()?.shares());
    Ok((0..=x.highest_total())
        .map(|mark| {
            let anchor = anchor_in_x.mark(ranks_of_x.rank(mark as f64));
            ranks_of_y.mark(anchor_in_y.rank(anchor))
        })
        .collect())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::equating::anchor_group::tests::groups;

    #[test]
    fn one_group_chained_to_itself_keeps_every_mark_that_was_reached() {
        let (x, _) = groups();
        let made = chained_equipercentile(&x, &x).unwrap();
        for (mark, equivalent) in made.iter().enumerate().skip(1) {
            assert!((equivalent - mark as f64).abs() < 1e-8, "{made:?}");
        }
    }
}
