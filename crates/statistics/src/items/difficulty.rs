//! How many of the marks of a question were earned?
//!
//! Source: Crocker & Algina 1986, ch. 14: mean score over the marks to be had; for a question marked
//! 0 or 1 the share who were right. Interval: Wilson for right and wrong, Student's t otherwise, which
//! ends at no marks and at all of them, since no share lies beyond.
//! Invalid: compared between sittings of unlike candidates. Missing: an unanswered question counts
//! as 0 marks and is put in as such.

use crate::descriptive::proportion::proportion;
use crate::descriptive::summary::mean_interval;
use crate::interval::{Confidence, Interval};
use crate::refusal::{Refusal, at_least};
use crate::sums::mean;

/// How easy a question was.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Difficulty {
    /// Share of the marks that were earned, 0 to 1; a high one is an easy question.
    pub share: f64,
    /// Interval; a refusal for a single candidate with part marks.
    pub interval: Result<Interval, Refusal>,
    /// Number of candidates.
    pub n: usize,
}

/// The difficulty of one question from everybody's score on it.
///
/// # Errors
/// `Refusal::TooFew` for nobody, `Refusal::OutOfRange` for a maximum that is not above 0 or a score
/// above it.
pub fn difficulty(
    scores: &[f64],
    maximum: f64,
    confidence: Confidence,
) -> Result<Difficulty, Refusal> {
    at_least(1, scores.len(), "candidates", "a mean needs one")?;
    if !(maximum > 0.0 && maximum.is_finite()) {
        return Err(Refusal::OutOfRange {
            of: "marks to be had",
            value: maximum,
            allowed: "above 0",
        });
    }
    if let Some(score) = scores
        .iter()
        .find(|score| score.is_nan() || **score > maximum)
    {
        return Err(Refusal::OutOfRange {
            of: "score",
            value: *score,
            allowed: "up to the marks to be had",
        });
    }
    let shares: Vec<f64> = scores.iter().map(|score| score / maximum).collect();
    let interval = if shares.iter().all(|share| *share == 0.0 || *share == 1.0) {
        let right = shares.iter().filter(|share| **share == 1.0).count();
        proportion(right, shares.len(), confidence).map(|made| made.interval)
    } else {
        let lowest = shares
            .iter()
            .fold(0.0_f64, |least, share| least.min(*share));
        mean_interval(&shares, confidence).map(|made| Interval {
            lower: made.lower.max(lowest),
            upper: made.upper.min(1.0),
            ..made
        })
    };
    Ok(Difficulty {
        share: mean(&shares)?,
        interval,
        n: shares.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::interval::IntervalMethod;

    #[test]
    fn part_marks_and_right_or_wrong() {
        let part = difficulty(&[1.0, 2.0, 3.0], 4.0, Confidence::P95).unwrap();
        assert_eq!(part.share, 0.5);
        assert_eq!(part.interval.unwrap().method, IntervalMethod::StudentT);
        let whole = difficulty(&[2.0, 0.0, 2.0, 2.0], 2.0, Confidence::P95).unwrap();
        assert_eq!(whole.share, 0.75);
        assert_eq!(whole.interval.unwrap().method, IntervalMethod::Wilson);
        assert!(difficulty(&[5.0], 4.0, Confidence::P95).is_err());
    }
}
