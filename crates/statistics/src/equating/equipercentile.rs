//! Which mark on the other form has the same share of candidates below it?
//!
//! Sources: Kolen & Brennan 2004, eq. 2.17 and 2.18 (percentile ranks of a mark spread evenly over
//! half a mark to each side; where the other form has marks that nobody reached, the mean of the
//! upper and the lower inverse); standard error, Lord 1982 as in Kolen & Brennan 2004, ch. 7.
//! Invalid: groups that differ in ability (see [`super::chained_equipercentile`],
//! [`super::frequency_estimation`]); ragged counts: smooth first ([`super::presmoothing`]). Smallest:
//! about 1,500 a form, see [`super::advice`]. Ties: a mark is an interval. Missing: left out before.

use crate::equating::score_distribution::ScoreDistribution;

/// An equipercentile equating.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct EquipercentileEquating {
    /// Equivalent of each mark 0 to the highest of form X; between −½ and the highest of Y + ½.
    pub equivalents: Vec<f64>,
    /// Standard error of each, for unsmoothed counts of two random groups; 0 at the very ends.
    pub standard_errors: Vec<f64>,
    /// Candidates on the form that is converted, and on the other.
    pub n: [f64; 2],
}

/// Equates form X to form Y by percentile ranks.
#[must_use]
pub fn equipercentile_equating(
    x: &ScoreDistribution,
    y: &ScoreDistribution,
) -> EquipercentileEquating {
    let (from, to) = (Ranks::new(&x.shares()), Ranks::new(&y.shares()));
    let ranks: Vec<f64> = (0..=x.highest())
        .map(|mark| from.rank(mark as f64))
        .collect();
    EquipercentileEquating {
        equivalents: ranks.iter().map(|rank| to.mark(*rank)).collect(),
        standard_errors: ranks
            .iter()
            .map(|rank| to.standard_error(*rank, x.n(), y.n()))
            .collect(),
        n: [x.n(), y.n()],
    }
}

/// Shares are compared after rounding to ten decimals, so that the last digit of a sum does not
/// decide between two marks.
fn rounded(share: f64) -> f64 {
    (share * 1e10).round() / 1e10
}

/// Cumulative shares of a form, with the way from mark to percentile rank and back.
pub(crate) struct Ranks {
    shares: Vec<f64>,
    cumulative: Vec<f64>,
}

impl Ranks {
    pub(crate) fn new(shares: &[f64]) -> Self {
        let cumulative = (0..shares.len())
            .map(|place| crate::sums::sum(shares.iter().take(place + 1).copied()).min(1.0))
            .collect();
        Self {
            shares: shares.to_vec(),
            cumulative,
        }
    }

    /// Share at or below a mark; 0 below the first, 1 from the last on.
    fn up_to(&self, mark: isize) -> f64 {
        if mark < 0 {
            return 0.0;
        }
        self.cumulative
            .get(mark.unsigned_abs())
            .copied()
            .unwrap_or(1.0)
    }

    /// Percentile rank, 0 to 1, of any place on the scale.
    pub(crate) fn rank(&self, mark: f64) -> f64 {
        let highest = self.shares.len() as f64 - 1.0;
        if mark <= -0.5 {
            return 0.0;
        }
        if mark >= highest + 0.5 {
            return 1.0;
        }
        let whole = (mark + 0.5).floor();
        let share = self.shares.get(whole as usize).copied().unwrap_or(0.0);
        rounded(self.up_to(whole as isize - 1) + (mark - whole + 0.5) * share)
    }

    /// First mark with more than `rank` at or below it.
    fn upper_mark(&self, rank: f64) -> Option<usize> {
        self.cumulative
            .iter()
            .position(|share| rounded(*share) > rounded(rank))
    }

    /// The mark of a percentile rank: mean of upper and lower inverse.
    pub(crate) fn mark(&self, rank: f64) -> f64 {
        let highest = self.shares.len() as f64 - 1.0;
        if rounded(rank) <= 0.0 {
            return -0.5;
        }
        let Some(above) = self.upper_mark(rank) else {
            return highest + 0.5;
        };
        let inside = |above: isize| {
            let below = self.up_to(above - 1);
            (rank - below) / (self.up_to(above) - below) + above as f64 - 0.5
        };
        let upper = inside(above as isize);
        // One past the last mark with less than `rank` at or below it.
        let past = self
            .cumulative
            .iter()
            .rposition(|share| rounded(*share) < rounded(rank))
            .map_or(0, |last| last + 1);
        let lower = inside(past as isize);
        f64::midpoint(upper, lower)
    }

    fn standard_error(&self, rank: f64, n: f64, m: f64) -> f64 {
        let Some(above) = self.upper_mark(rank) else {
            return 0.0;
        };
        let (over, under) = (self.up_to(above as isize), self.up_to(above as isize - 1));
        let share = over - under;
        let spread = rank * (1.0 - rank) * (n + m) / (n * m);
        let within = (over - rank) * (rank - under) / (m * share);
        (spread - within).max(0.0).sqrt() / share
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_form_equated_to_itself_is_the_identity() {
        let form = ScoreDistribution::new(vec![1.0, 4.0, 6.0, 2.0]).unwrap();
        let made = equipercentile_equating(&form, &form).equivalents;
        for (mark, equivalent) in made.iter().enumerate() {
            assert!((equivalent - mark as f64).abs() < 1e-9, "{made:?}");
        }
    }

    #[test]
    fn a_shifted_form_is_found_and_empty_marks_do_no_harm() {
        let x = ScoreDistribution::new(vec![2.0, 3.0, 4.0, 0.0, 0.0]).unwrap();
        let y = ScoreDistribution::new(vec![0.0, 0.0, 2.0, 3.0, 4.0]).unwrap();
        let made = equipercentile_equating(&x, &y);
        for (mark, equivalent) in made.equivalents.iter().take(3).enumerate() {
            assert!((equivalent - mark as f64 - 2.0).abs() < 1e-9, "{made:?}");
        }
        assert!(made.equivalents.iter().all(|mark| mark.is_finite()));
        assert!(made.standard_errors.iter().all(|error| error.is_finite()));
    }
}
