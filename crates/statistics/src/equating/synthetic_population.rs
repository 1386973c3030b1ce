//! Mean and spread of both forms in one mixed population, and the line between them.
//!
//! Source: Kolen & Brennan 2004, eq. 4.17 to 4.20 (numbers from memory): moments of each form in a
//! population mixed of both groups, given how steeply totals rise with the anchor (γ). Tucker and
//! Levine differ in γ alone.

use crate::equating::anchor_group::{AnchorGroup, same_anchor};
use crate::equating::conversion::LinearConversion;
use crate::refusal::Refusal;

/// Which share of the mixed population the group that took X makes up.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize)]
pub struct PopulationWeight(f64);

impl PopulationWeight {
    /// The population that took X alone.
    pub const X_ALONE: Self = Self(1.0);
    /// Both in equal parts.
    pub const HALVES: Self = Self(0.5);

    /// Takes a share from 0 to 1.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` for anything else.
    pub fn new(share: f64) -> Result<Self, Refusal> {
        if (0.0..=1.0).contains(&share) {
            Ok(Self(share))
        } else {
            Err(Refusal::OutOfRange {
                of: "share of the population that took X",
                value: share,
                allowed: "0 to 1",
            })
        }
    }

    /// The share of the group that took X.
    #[must_use]
    pub const fn of_x(self) -> f64 {
        self.0
    }

    /// The share of the group that took Y.
    #[must_use]
    pub const fn of_y(self) -> f64 {
        1.0 - self.0
    }
}

/// A line between two forms by way of a mixed population.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct SyntheticEquating {
    /// The line.
    pub conversion: LinearConversion,
    /// Mean of X in the mixed population.
    pub x_mean: f64,
    /// Standard deviation of X there.
    pub x_deviation: f64,
    /// Mean of Y there.
    pub y_mean: f64,
    /// Standard deviation of Y there.
    pub y_deviation: f64,
    /// Candidates who took X, and Y.
    pub n: [usize; 2],
}

impl SyntheticEquating {
    /// Only the means matched: a constant is added.
    #[must_use]
    pub fn mean_conversion(&self) -> LinearConversion {
        LinearConversion {
            slope: 1.0,
            intercept: self.y_mean - self.x_mean,
        }
    }
}

/// Mixes the groups, with the two slopes γ of totals on the anchor.
pub(crate) fn synthetic_equating(
    x: &AnchorGroup,
    y: &AnchorGroup,
    weight: PopulationWeight,
    [gamma_x, gamma_y]: [f64; 2],
) -> Result<SyntheticEquating, Refusal> {
    same_anchor(x, y)?;
    let (one, two) = (x.moments(), y.moments());
    let (w1, w2) = (weight.of_x(), weight.of_y());
    let apart = one.anchor_mean - two.anchor_mean;
    let wider = one.anchor_variance - two.anchor_variance;
    let x_mean = one.total_mean - w2 * gamma_x * apart;
    let y_mean = two.total_mean + w1 * gamma_y * apart;
    let x_variance = one.total_variance - w2 * gamma_x * gamma_x * wider
        + w1 * w2 * gamma_x * gamma_x * apart * apart;
    let y_variance = two.total_variance
        + w1 * gamma_y * gamma_y * wider
        + w1 * w2 * gamma_y * gamma_y * apart * apart;
    if x_variance <= 0.0 || y_variance <= 0.0 {
        return Err(Refusal::NotDefined {
            of: "the spread in the mixed population",
            because: "the groups differ too much on the anchor",
        });
    }
    let (x_deviation, y_deviation) = (x_variance.sqrt(), y_variance.sqrt());
    let slope = y_deviation / x_deviation;
    Ok(SyntheticEquating {
        conversion: LinearConversion {
            slope,
            intercept: y_mean - slope * x_mean,
        },
        x_mean,
        x_deviation,
        y_mean,
        y_deviation,
        n: [one.n, two.n],
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_beyond_the_whole_are_refused() {
        assert!(PopulationWeight::new(1.1).is_err());
        assert!(PopulationWeight::new(f64::NAN).is_err());
        assert!(PopulationWeight::new(0.25).is_ok_and(|share| share.of_y() == 0.75));
    }
}
