//! How would a question go with the rest, were it not cut into right and wrong?
//!
//! Source: Pearson 1909; Lord & Novick 1968, section 15.5 (number from memory): r_bis = r_pb √(pq)/φ(z),
//! z the normal deviate that cuts off the share p of right answers; its large-sample error
//! (√(pq)/φ(z) − r²_bis)/√n is that of Soper 1914. Invalid: what lies behind the question, or the other
//! score, is far from normal: the figure can then pass 1, and is given as it is. Smallest: 15 right and
//! 15 wrong (common practice, no source). Missing: none in the lists.

use crate::distribution::normal;
use crate::refusal::{Refusal, at_least};
use crate::sums::correlation;

/// A biserial correlation.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Biserial {
    /// The correlation; above 1 where what lies behind is not normal.
    pub r: f64,
    /// The point-biserial it comes from.
    pub point_biserial: f64,
    /// Its error in large samples.
    pub standard_error: f64,
    /// Number of candidates.
    pub n: usize,
}

/// Correlates right answers with another score.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::TooFew` right or wrong answers, `Refusal::NoVariance`.
pub fn biserial_correlation(right: &[bool], score: &[f64]) -> Result<Biserial, Refusal> {
    if right.len() != score.len() {
        return Err(Refusal::UnequalLengths {
            of: "scores beside answers",
            have: score.len(),
            expected: right.len(),
        });
    }
    let n = right.len() as f64;
    let yes = right.iter().filter(|right| **right).count();
    let reason = "common practice, no source";
    at_least(15, yes, "right answers", reason)?;
    at_least(15, right.len() - yes, "wrong answers", reason)?;
    let marks: Vec<f64> = right
        .iter()
        .map(|right| f64::from(u8::from(*right)))
        .collect();
    let point_biserial = correlation(&marks, score)?;
    let p = yes as f64 / n;
    let stretch = (p * (1.0 - p)).sqrt() / normal::density(normal::quantile_of_lower_tail(p));
    let r = point_biserial * stretch;
    Ok(Biserial {
        r,
        point_biserial,
        standard_error: (stretch - r * r).max(0.0) / n.sqrt(),
        n: right.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    /// A normal score cut where it stands: what lies behind is the score itself.
    #[test]
    fn a_score_cut_in_two_goes_wholly_with_itself() {
        let score: Vec<f64> = (1..2_000)
            .map(|place| normal::quantile_of_lower_tail(f64::from(place) / 2_000.0))
            .collect();
        for at in [-0.7, 0.0, 1.1] {
            let right: Vec<bool> = score.iter().map(|value| *value > at).collect();
            let made = biserial_correlation(&right, &score).unwrap();
            assert!((made.r - 1.0).abs() < 0.005, "{made:?}");
            assert!(made.point_biserial < made.r);
        }
    }

    #[test]
    fn nearly_all_right_and_equal_scores_are_refused() {
        let right: Vec<bool> = (0..100).map(|place| place >= 14).collect();
        let score: Vec<f64> = (0..100).map(f64::from).collect();
        assert!(matches!(
            biserial_correlation(&right, &score),
            Err(Refusal::TooFew {
                have: 14,
                need: 15,
                ..
            })
        ));
        let half: Vec<bool> = (0..100).map(|place| place >= 50).collect();
        assert!(biserial_correlation(&half, &[1.0; 100]).is_err());
    }
}
