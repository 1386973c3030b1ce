//! At which score do the curves of the competent and the not competent cross?
//!
//! Source: Berk 1976: two normal curves with each group's mean and standard deviation (divisor n−1),
//! both of the same height of area; the crossing between the two means. Invalid: groups far from
//! normal; means in the wrong order or no crossing between them (refused). No interval; resample.

use crate::refusal::{Refusal, at_least};
use crate::sums::{Divisor, mean, variance};

/// The crossing of two normal curves.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct ContrastingNormal {
    /// The cut.
    pub cut: f64,
    /// Candidates judged not competent.
    pub not_competent: usize,
    /// Candidates judged competent.
    pub competent: usize,
}

/// The crossing between the means of the two groups.
///
/// # Errors
/// `Refusal::TooFew` below two in a group, `Refusal::NoVariance`, `Refusal::NotDefined`.
pub fn contrasting_normal(
    not_competent: &[f64],
    competent: &[f64],
) -> Result<ContrastingNormal, Refusal> {
    at_least(
        2,
        not_competent.len(),
        "candidates judged not competent",
        "a spread needs two",
    )?;
    at_least(
        2,
        competent.len(),
        "candidates judged competent",
        "a spread needs two",
    )?;
    let (low, high) = (mean(not_competent)?, mean(competent)?);
    let low_spread = variance(not_competent, Divisor::CountLessOne)?;
    let high_spread = variance(competent, Divisor::CountLessOne)?;
    if low_spread <= 0.0 || high_spread <= 0.0 {
        return Err(Refusal::NoVariance {
            of: "scores of one group",
        });
    }
    if low >= high {
        return Err(Refusal::NotDefined {
            of: "the crossing",
            because: "those judged competent do not score higher",
        });
    }
    // Log height of the lower curve less that of the higher one: above 0 at the left.
    let difference = |x: f64| {
        (x - high) * (x - high) / (2.0 * high_spread) - (x - low) * (x - low) / (2.0 * low_spread)
            + 0.5 * libm::log(high_spread / low_spread)
    };
    if difference(low) <= 0.0 || difference(high) >= 0.0 {
        return Err(Refusal::NotDefined {
            of: "the crossing",
            because: "the curves do not cross between the two means",
        });
    }
    let (mut left, mut right) = (low, high);
    for _ in 0..200 {
        let middle = f64::midpoint(left, right);
        if difference(middle) > 0.0 {
            left = middle;
        } else {
            right = middle;
        }
    }
    Ok(ContrastingNormal {
        cut: f64::midpoint(left, right),
        not_competent: not_competent.len(),
        competent: competent.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn equal_spreads_cross_half_way() {
        let made = contrasting_normal(&[1.0, 2.0, 3.0], &[5.0, 6.0, 7.0]).unwrap();
        assert!((made.cut - 4.0).abs() < 1e-12);
        assert!(contrasting_normal(&[5.0, 6.0], &[1.0, 2.0]).is_err());
        assert!(contrasting_normal(&[5.0, 5.0], &[7.0, 8.0]).is_err());
    }
}
