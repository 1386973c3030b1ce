//! How far might a figure have fallen with other candidates of the same kind?
//!
//! For figures without an interval of their own. Invalid: fewer than 10 candidates (the resamples
//! repeat each other; common practice, no source); candidates who did not answer independently;
//! figures at the end of their range. Source: Efron & Tibshirani 1993, ch. 13, percentile interval.
//! Resamples in which the figure is refused are counted and left out; more than one in twenty of
//! them and the interval is refused too.

use crate::descriptive::quantile::sorted_quantile;
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::random_input::RandomInput;
use crate::refusal::{Refusal, at_least};

/// A resampled interval.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Bootstrap {
    /// The limits.
    pub interval: Interval,
    /// Number of persons.
    pub persons: usize,
    /// Resamples that gave a figure.
    pub resamples: usize,
    /// Resamples that were refused by the estimator.
    pub refused: usize,
}

/// Draws `resamples` times `persons` places with replacement and computes the figure each time.
///
/// # Errors
/// `Refusal::TooFew` persons or resamples; `Refusal::NotDefined` when too many resamples refuse.
pub fn bootstrap(
    persons: usize,
    resamples: usize,
    confidence: Confidence,
    random: &mut dyn RandomInput,
    figure: &dyn Fn(&[usize]) -> Result<f64, Refusal>,
) -> Result<Bootstrap, Refusal> {
    at_least(
        10,
        persons,
        "candidates",
        "fewer resamples differ too little",
    )?;
    at_least(200, resamples, "resamples", "Efron & Tibshirani 1993")?;
    let bound = u32::try_from(persons).map_err(|_| Refusal::OutOfRange {
        of: "number of candidates",
        value: persons as f64,
        allowed: "up to 4294967295",
    })?;
    let mut figures = Vec::with_capacity(resamples);
    let mut refused = 0;
    for _ in 0..resamples {
        let places: Vec<usize> = (0..persons).map(|_| random.below(bound) as usize).collect();
        match figure(&places) {
            Ok(value) => figures.push(value),
            Err(_) => refused += 1,
        }
    }
    if refused * 20 > resamples {
        return Err(Refusal::NotDefined {
            of: "the resampled interval",
            because: "more than one resample in twenty gives no figure",
        });
    }
    figures.sort_by(f64::total_cmp);
    Ok(Bootstrap {
        interval: Interval {
            lower: sorted_quantile(&figures, confidence.each_tail())?,
            upper: sorted_quantile(&figures, 1.0 - confidence.each_tail())?,
            confidence,
            method: IntervalMethod::BootstrapPercentile,
        },
        persons,
        resamples: figures.len(),
        refused,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::random_input::tests::Numbers;
    use crate::sums::mean;

    #[test]
    fn the_interval_of_a_mean_is_near_the_known_one() {
        let values: Vec<f64> = (0..100).map(f64::from).collect();
        let figure = |places: &[usize]| {
            let drawn: Vec<f64> = places.iter().map(|place| values[*place]).collect();
            mean(&drawn)
        };
        let made = bootstrap(100, 2000, Confidence::P95, &mut Numbers(1), &figure).unwrap();
        // Standard error 28.87 / 10, so 49.5 - 5.66 and 49.5 + 5.66.
        assert!((made.interval.lower - 43.84).abs() < 0.6, "{made:?}");
        assert!((made.interval.upper - 55.16).abs() < 0.6, "{made:?}");
    }

    #[test]
    fn refuses_a_handful_of_candidates() {
        let figure = |_: &[usize]| Ok(1.0);
        let made = bootstrap(6, 2000, Confidence::P95, &mut Numbers(1), &figure);
        assert!(matches!(made, Err(Refusal::TooFew { need: 10, .. })));
    }
}
