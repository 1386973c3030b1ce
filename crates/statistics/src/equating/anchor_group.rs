//! Candidates who took one form and an anchor: each with a total and an anchor mark.

use crate::equating::score_distribution::ScoreDistribution;
use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, covariance, is_constant, mean, variance};

/// Totals and anchor marks of one group, whole marks from 0 on.
#[derive(Debug, Clone, PartialEq)]
pub struct AnchorGroup {
    totals: Vec<usize>,
    anchors: Vec<usize>,
    highest_total: usize,
    highest_anchor: usize,
    moments: AnchorMoments,
}

/// Moments of a group; variances with divisor n − 1.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct AnchorMoments {
    /// Mean of the totals.
    pub total_mean: f64,
    /// Variance of the totals.
    pub total_variance: f64,
    /// Mean of the anchor marks.
    pub anchor_mean: f64,
    /// Variance of the anchor marks.
    pub anchor_variance: f64,
    /// Covariance of both.
    pub covariance: f64,
    /// Number of candidates.
    pub n: usize,
}

impl AnchorGroup {
    /// Takes the totals and the anchor marks of the same candidates.
    ///
    /// # Errors
    /// `Refusal::UnequalLengths`; `Refusal::TooFew` below two candidates; `Refusal::OutOfRange` for
    /// a mark above the highest; `Refusal::NoVariance` of totals or anchor marks;
    /// `Refusal::NotDefined` when totals do not rise with the anchor.
    pub fn new(
        totals: &[usize],
        anchors: &[usize],
        highest_total: usize,
        highest_anchor: usize,
    ) -> Result<Self, Refusal> {
        if totals.len() != anchors.len() {
            return Err(Refusal::UnequalLengths {
                of: "anchor marks beside totals",
                have: anchors.len(),
                expected: totals.len(),
            });
        }
        at_least(
            2,
            totals.len(),
            "candidates of one group",
            "a spread needs two",
        )?;
        for (marks, highest) in [(totals, highest_total), (anchors, highest_anchor)] {
            if let Some(mark) = marks.iter().find(|mark| **mark > highest) {
                return Err(Refusal::OutOfRange {
                    of: "a mark",
                    value: *mark as f64,
                    allowed: "up to the highest of the form or of the anchor",
                });
            }
        }
        let as_numbers =
            |marks: &[usize]| -> Vec<f64> { marks.iter().map(|mark| *mark as f64).collect() };
        let (total, anchor) = (as_numbers(totals), as_numbers(anchors));
        if is_constant(&total) {
            return Err(Refusal::NoVariance { of: "totals" });
        }
        if is_constant(&anchor) {
            return Err(Refusal::NoVariance { of: "anchor marks" });
        }
        let together = covariance(&total, &anchor, Divisor::CountLessOne)?;
        if together <= 0.0 {
            return Err(Refusal::NotDefined {
                of: "equating by an anchor",
                because: "totals do not rise with the anchor marks",
            });
        }
        Ok(Self {
            totals: totals.to_vec(),
            anchors: anchors.to_vec(),
            highest_total,
            highest_anchor,
            moments: AnchorMoments {
                total_mean: mean(&total)?,
                total_variance: variance(&total, Divisor::CountLessOne)?,
                anchor_mean: mean(&anchor)?,
                anchor_variance: variance(&anchor, Divisor::CountLessOne)?,
                covariance: together,
                n: totals.len(),
            },
        })
    }

    /// The moments.
    #[must_use]
    pub const fn moments(&self) -> AnchorMoments {
        self.moments
    }

    /// Highest possible total.
    #[must_use]
    pub const fn highest_total(&self) -> usize {
        self.highest_total
    }

    /// Highest possible anchor mark.
    #[must_use]
    pub const fn highest_anchor(&self) -> usize {
        self.highest_anchor
    }

    /// The distribution of the totals.
    ///
    /// # Errors
    /// As [`ScoreDistribution::from_marks`].
    pub fn totals(&self) -> Result<ScoreDistribution, Refusal> {
        ScoreDistribution::from_marks(&self.totals, self.highest_total)
    }

    /// The distribution of the anchor marks.
    ///
    /// # Errors
    /// As [`ScoreDistribution::from_marks`].
    pub fn anchors(&self) -> Result<ScoreDistribution, Refusal> {
        ScoreDistribution::from_marks(&self.anchors, self.highest_anchor)
    }

    /// How many candidates have each anchor mark and, among these, each total.
    pub(crate) fn counts_by_anchor(&self) -> Vec<Vec<f64>> {
        let mut counts = vec![vec![0.0; self.highest_total + 1]; self.highest_anchor + 1];
        for (total, anchor) in self.totals.iter().zip(&self.anchors) {
            if let Some(count) = counts.get_mut(*anchor).and_then(|row| row.get_mut(*total)) {
                *count += 1.0;
            }
        }
        counts
    }
}

/// Refuses two groups whose anchors are not one.
pub(crate) fn same_anchor(x: &AnchorGroup, y: &AnchorGroup) -> Result<(), Refusal> {
    if x.highest_anchor == y.highest_anchor {
        Ok(())
    } else {
        Err(Refusal::UnequalLengths {
            of: "marks of the anchor in the two groups",
            have: y.highest_anchor + 1,
            expected: x.highest_anchor + 1,
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
pub(crate) mod tests {
    use super::*;

    /// Two small groups on two forms of 8 marks with an anchor of 3, for the neighbours' tests.
    pub(crate) fn groups() -> (AnchorGroup, AnchorGroup) {
        let x = AnchorGroup::new(
            &[2, 4, 5, 3, 7, 8, 6, 1, 5, 4],
            &[1, 1, 2, 1, 3, 3, 2, 0, 1, 2],
            8,
            3,
        );
        let y = AnchorGroup::new(
            &[3, 5, 5, 2, 6, 8, 7, 2, 4, 6],
            &[1, 2, 1, 0, 2, 3, 3, 1, 1, 2],
            8,
            3,
        );
        (x.unwrap(), y.unwrap())
    }

    #[test]
    fn an_anchor_that_says_nothing_is_refused() {
        assert!(matches!(
            AnchorGroup::new(&[1, 2, 3], &[1, 1, 1], 3, 3),
            Err(Refusal::NoVariance { .. })
        ));
        assert!(matches!(
            AnchorGroup::new(&[3, 2, 1], &[1, 2, 3], 3, 3),
            Err(Refusal::NotDefined { .. })
        ));
        assert!(AnchorGroup::new(&[1, 4], &[0, 1], 3, 3).is_err());
    }
}
