//! Are forecasts true to their word, and do they tell one case from another?
//!
//! Source: Murphy 1973: mean squared distance = reliability - resolution + uncertainty, over groups
//! of equal forecasts, for outcomes that come or do not. Invalid: forecasts rounded into classes
//! after the fact, for which the sum does not hold. Smallest n: one forecast; what few say of
//! reliability is little, so n and the number of groups stand beside it.

use crate::refusal::{Refusal, at_least};

/// The parts of a mean squared distance.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct BrierDecomposition {
    /// Mean squared distance of forecast and outcome (0 or 1).
    pub distance: f64,
    /// How far forecasts lie from the share that came, in squares: 0 is true to its word.
    pub reliability: f64,
    /// How far the shares of the groups lie from the share of all: more tells cases apart.
    pub resolution: f64,
    /// The spread of the outcome itself, which no forecast changes.
    pub uncertainty: f64,
    /// Number of forecasts.
    pub n: usize,
    /// Number of different forecasts.
    pub groups: usize,
}

/// The parts for forecasts from 0 to 1 and whether each came.
///
/// # Errors
/// `TooFew` for none, `UnequalLengths`, `OutOfRange` for a forecast that is no probability.
pub fn brier_decomposition(
    forecasts: &[f64],
    came: &[bool],
) -> Result<BrierDecomposition, Refusal> {
    at_least(1, forecasts.len(), "forecasts", "a mean needs one")?;
    if forecasts.len() != came.len() {
        return Err(Refusal::UnequalLengths {
            of: "forecasts and outcomes",
            have: came.len(),
            expected: forecasts.len(),
        });
    }
    if let Some(value) = forecasts
        .iter()
        .find(|forecast| !(0.0..=1.0).contains(*forecast))
    {
        return Err(Refusal::OutOfRange {
            of: "forecast",
            value: *value,
            allowed: "0 to 1",
        });
    }
    let mut pairs: Vec<(f64, bool)> = forecasts
        .iter()
        .copied()
        .zip(came.iter().copied())
        .collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    #[allow(clippy::cast_precision_loss)]
    let count = |of: usize| of as f64;
    let n = count(pairs.len());
    let share_of_all = count(pairs.iter().filter(|pair| pair.1).count()) / n;
    let (mut distance, mut reliability, mut resolution, mut groups) = (0.0, 0.0, 0.0, 0);
    for group in pairs.chunk_by(|a, b| a.0 == b.0) {
        let (of, Some((forecast, _))) = (count(group.len()), group.first()) else {
            continue;
        };
        let share = count(group.iter().filter(|pair| pair.1).count()) / of;
        distance += of
            * (share * (1.0 - forecast) * (1.0 - forecast) + (1.0 - share) * forecast * forecast);
        reliability += of * (forecast - share) * (forecast - share);
        resolution += of * (share - share_of_all) * (share - share_of_all);
        groups += 1;
    }
    Ok(BrierDecomposition {
        distance: distance / n,
        reliability: reliability / n,
        resolution: resolution / n,
        uncertainty: share_of_all * (1.0 - share_of_all),
        n: pairs.len(),
        groups,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_parts_add_up(cases in prop::collection::vec((0_u8..=10, any::<bool>()), 1..60)) {
            let forecasts: Vec<f64> = cases.iter().map(|case| f64::from(case.0) / 10.0).collect();
            let came: Vec<bool> = cases.iter().map(|case| case.1).collect();
            let parts = brier_decomposition(&forecasts, &came).unwrap();
            let sum = parts.reliability - parts.resolution + parts.uncertainty;
            prop_assert!((parts.distance - sum).abs() < 1e-12);
            let plain: f64 = forecasts
                .iter()
                .zip(&came)
                .map(|(f, c)| f - f64::from(u8::from(*c)))
                .map(|off| off * off)
                .sum::<f64>() / parts.n as f64;
            prop_assert!((parts.distance - plain).abs() < 1e-12);
        }
    }

    #[test]
    fn what_is_no_forecast_is_refused() {
        assert!(brier_decomposition(&[], &[]).is_err());
        assert!(brier_decomposition(&[0.5], &[]).is_err());
        assert!(brier_decomposition(&[1.5], &[true]).is_err());
    }
}
