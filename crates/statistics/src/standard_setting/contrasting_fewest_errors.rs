//! Which whole scores, used as a cut, contradict the fewest judgements?
//!
//! Source: Livingston & Zieky 1982: cuts c that minimise (not competent and ≥ c) + (competent and
//! < c), both errors weighing the same. All such cuts are given; they need not be neighbours.
//! Invalid: few candidates (the minimum wanders; resample). Missing: left out before.

use crate::refusal::{Refusal, at_least};

/// The cuts with the fewest errors.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct FewestErrors {
    /// Number of contradicted judgements.
    pub errors: usize,
    /// The whole scores that reach it, rising.
    pub cuts: Vec<i64>,
    /// Number of candidates.
    pub n: usize,
}

/// The cuts with the fewest errors, tried from the lowest score to one above the highest.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::TooFew` for nobody, `Refusal::OutOfRange` for scores beyond
/// a million.
pub fn contrasting_fewest_errors(
    scores: &[f64],
    competent: &[bool],
) -> Result<FewestErrors, Refusal> {
    if scores.len() != competent.len() {
        return Err(Refusal::UnequalLengths {
            of: "judgements beside scores",
            have: competent.len(),
            expected: scores.len(),
        });
    }
    at_least(1, scores.len(), "candidates", "an error needs one")?;
    if let Some(score) = scores.iter().find(|score| !(-1e6..=1e6).contains(*score)) {
        return Err(Refusal::OutOfRange {
            of: "score",
            value: *score,
            allowed: "up to a million",
        });
    }
    let lowest = scores.iter().copied().fold(f64::INFINITY, f64::min).floor() as i64;
    let highest = scores
        .iter()
        .copied()
        .fold(f64::NEG_INFINITY, f64::max)
        .ceil() as i64;
    let errors_at = |cut: i64| {
        let passes = |score: f64| score >= cut as f64;
        scores
            .iter()
            .zip(competent)
            .filter(|(score, competent)| passes(**score) != **competent)
            .count()
    };
    let mut best = FewestErrors {
        errors: usize::MAX,
        cuts: Vec::new(),
        n: scores.len(),
    };
    for cut in lowest..=highest + 1 {
        let errors = errors_at(cut);
        if errors < best.errors {
            best.errors = errors;
            best.cuts.clear();
        }
        if errors == best.errors {
            best.cuts.push(cut);
        }
    }
    Ok(best)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_gap_offers_every_cut_inside_it() {
        let made = contrasting_fewest_errors(&[3.0, 7.0], &[false, true]).unwrap();
        assert_eq!((made.errors, made.cuts), (0, vec![4, 5, 6, 7]));
        let none = contrasting_fewest_errors(&[3.0, 4.0], &[false, false]).unwrap();
        assert_eq!(none.cuts, [5]);
    }
}
