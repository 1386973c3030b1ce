//! Does the score of a part tell more about the part than the total does?
//!
//! Source: Haberman 2008, J. Educ. Behav. Statist. 33, 204-229: the proportional reduction in mean
//! squared error of the true part score is the part's reliability ρ when guessed from the part, and
//! (s_sx − s²_s(1 − ρ))²/(ρ s²_s s²_x) when guessed from the total x, which holds the part. A part score
//! is worth telling where the first is the larger. Invalid: errors of the part that go together with
//! those of the rest. Smallest: 30 candidates (common practice, no source: the difference of the two
//! has an error of about .1 there). No interval is in use; resample candidates. Missing: refused.

use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, covariance, variance};

/// With fewer candidates the comparison is refused (common practice, no source).
pub const FEWEST_CANDIDATES: usize = 30;

/// What a part score is worth beside the total.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct SubscoreValue {
    /// The comparison.
    pub worth: PartWorth,
    /// Number of candidates.
    pub n: usize,
}

/// Compares a part score, of known reliability, with the total that it is in.
///
/// # Errors
/// `Refusal::TooFew`, `Refusal::UnequalLengths`, `Refusal::NoVariance`, `Refusal::OutOfRange` for a
/// reliability not above 0 and at most 1.
pub fn subscore_value(
    part: &[f64],
    total: &[f64],
    reliability: f64,
) -> Result<SubscoreValue, Refusal> {
    at_least(
        FEWEST_CANDIDATES,
        part.len(),
        "candidates",
        "common practice, no source",
    )?;
    if part.len() != total.len() {
        return Err(Refusal::UnequalLengths {
            of: "totals beside part scores",
            have: total.len(),
            expected: part.len(),
        });
    }
    let figures = PartFigures {
        part_variance: variance(part, Divisor::Count)?,
        total_variance: variance(total, Divisor::Count)?,
        covariance: covariance(part, total, Divisor::Count)?,
        reliability,
    };
    Ok(SubscoreValue {
        worth: part_worth(figures)?,
        n: part.len(),
    })
}

/// What is known of a part and of the total that it is in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PartFigures {
    /// Variance of the part's score.
    pub part_variance: f64,
    /// Variance of the total.
    pub total_variance: f64,
    /// Covariance of the two.
    pub covariance: f64,
    /// Reliability of the part's score, above 0 and at most 1.
    pub reliability: f64,
}

/// What a part score is worth, from figures that stand in a report.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct PartWorth {
    /// Reduction of error by the part score itself.
    pub from_part: f64,
    /// By the total.
    pub from_total: f64,
}

impl PartWorth {
    /// Whether the part score tells more than the total.
    #[must_use]
    pub fn adds(&self) -> bool {
        self.from_part > self.from_total
    }
}

/// Compares a part score with the total from their figures. How many candidates these rest on is for
/// the caller to look at.
///
/// # Errors
/// `Refusal::NoVariance`, `Refusal::OutOfRange` for a reliability not above 0 and at most 1.
pub fn part_worth(figures: PartFigures) -> Result<PartWorth, Refusal> {
    let PartFigures {
        part_variance: own,
        total_variance: whole,
        covariance,
        reliability,
    } = figures;
    if !(reliability > 0.0 && reliability <= 1.0) {
        return Err(Refusal::OutOfRange {
            of: "the reliability of a part",
            value: reliability,
            allowed: "above 0, at most 1: a part without reliability tells nothing",
        });
    }
    if !(own > 0.0 && whole > 0.0) {
        return Err(Refusal::NoVariance { of: "scores" });
    }
    let of_truth = covariance - own * (1.0 - reliability);
    let from_total = of_truth * of_truth / (reliability * own * whole);
    Ok(PartWorth {
        from_part: reliability,
        from_total,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn scores(of: impl Fn(u32) -> u32) -> Vec<f64> {
        (0..40).map(|person| f64::from(of(person) % 11)).collect()
    }

    #[test]
    fn the_part_that_is_the_whole_is_worth_as_much_either_way() {
        let all = scores(|person| person * 7919 + 3);
        let made = subscore_value(&all, &all, 0.7).unwrap();
        assert!((made.worth.from_total - 0.7).abs() < 1e-12 && !made.worth.adds());
    }

    #[test]
    fn a_part_of_its_own_kind_adds_and_a_weak_one_beside_its_like_does_not() {
        let part = scores(|person| person * 5);
        let other = scores(|person| person * 7919 / 3);
        let total: Vec<f64> = part.iter().zip(&other).map(|(a, b)| a + 3.0 * b).collect();
        assert!(subscore_value(&part, &total, 0.9).unwrap().worth.adds());
        // A second part with the same truth: the total holds it better than a part of .4 does.
        let like: Vec<f64> = part.iter().zip(&other).map(|(a, b)| a + 0.3 * b).collect();
        let both: Vec<f64> = part.iter().zip(&like).map(|(a, b)| a + b).collect();
        assert!(!subscore_value(&part, &both, 0.4).unwrap().worth.adds());
    }

    #[test]
    fn few_candidates_and_no_reliability_are_refused() {
        let part = scores(|person| person);
        assert!(subscore_value(&part[..29], &part[..29], 0.5).is_err());
        assert!(subscore_value(&part, &part, 0.0).is_err());
        assert!(subscore_value(&part, &part, f64::NAN).is_err());
    }
}
