//! By how many marks is one form harder than the other?
//!
//! Source: Kolen & Brennan 2004, eq. 2.4: x − μ(X) + μ(Y), for two random groups of one population;
//! standard error √(σ²(X)/n + σ²(Y)/m) (two independent means). Invalid: groups that differ in
//! ability (see [`super::nominal_weights`] and its neighbours); forms that differ by more than a
//! constant. Smallest: 26 on each form, see [`super::advice`]; refused below two. Missing: left out.

use crate::distribution::normal;
use crate::equating::conversion::LinearConversion;
use crate::equating::score_distribution::ScoreDistribution;
use crate::interval::{Confidence, Interval, IntervalMethod};

/// A mean equating.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct MeanEquating {
    /// The line, of slope 1.
    pub conversion: LinearConversion,
    /// Standard error of a converted mark, the same for all.
    pub standard_error: f64,
    /// Limits of the constant.
    pub interval: Interval,
    /// Candidates on the form that is converted, and on the other.
    pub n: [f64; 2],
}

/// Equates form X to form Y by their means.
#[must_use]
pub fn mean_equating(
    x: &ScoreDistribution,
    y: &ScoreDistribution,
    confidence: Confidence,
) -> MeanEquating {
    let intercept = y.mean() - x.mean();
    let standard_error = (x.variance() / x.n() + y.variance() / y.n()).sqrt();
    let reach = normal::quantile_of_upper_tail(confidence.each_tail()) * standard_error;
    MeanEquating {
        conversion: LinearConversion {
            slope: 1.0,
            intercept,
        },
        standard_error,
        interval: Interval {
            lower: intercept - reach,
            upper: intercept + reach,
            confidence,
            method: IntervalMethod::Normal,
        },
        n: [x.n(), y.n()],
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_form_equated_to_itself_is_the_identity() {
        let form = ScoreDistribution::new(vec![1.0, 4.0, 6.0, 2.0]).unwrap();
        let made = mean_equating(&form, &form, Confidence::P95);
        assert_eq!(made.conversion, super::super::identity::identity());
        assert!(made.interval.contains(0.0) && made.standard_error > 0.0);
    }
}
