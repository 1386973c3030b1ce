//! How many whole bottles does a spirit fill when it was brought to bottling strength?
//!
//! Source: ethanol is kept, so that the volume after reduction is V s₁ / s₂ at 20 °C (definition of
//! % vol); whole bottles are what fits into it, rounded down. Nothing is taken off for what stays
//! in tank, filter and hoses.

use crate::dilution::dilute;
use crate::problem::Problem;
use crate::quantities::{Millilitres, VolumePercent};

/// A share of a bottle below which nobody can say whether the last one is full.
const EDGE: f64 = 1e-3;

/// Whole bottles of `bottle` each from `spirit` of strength `source` reduced to `target`.
///
/// # Errors
/// As [`dilute`]; `Problem::NoBottle` for a bottle that holds nothing, `Problem::LastBottle` where
/// the volume comes so near to a whole number of bottles that rounding decides.
pub fn bottle_yield(
    spirit: Millilitres,
    source: VolumePercent,
    target: VolumePercent,
    bottle: Millilitres,
) -> Result<f64, Problem> {
    whole_bottles(dilute(spirit, source, target)?.result, bottle)
}

/// Whole bottles in a volume.
pub(crate) fn whole_bottles(volume: Millilitres, bottle: Millilitres) -> Result<f64, Problem> {
    if bottle.value() <= 0.0 {
        return Err(Problem::NoBottle(bottle.value()));
    }
    let bottles = volume.value() / bottle.value();
    let rounded = (bottles + 0.5).floor();
    if (bottles - rounded).abs() < EDGE {
        return Err(Problem::LastBottle(bottles));
    }
    Ok(bottles.floor())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn bottles(litres: f64, source: f64, target: f64, bottle: f64) -> Result<f64, Problem> {
        bottle_yield(
            Millilitres::new(litres * 1000.0).unwrap(),
            VolumePercent::new(source).unwrap(),
            VolumePercent::new(target).unwrap(),
            Millilitres::new(bottle).unwrap(),
        )
    }

    #[test]
    fn only_whole_bottles_count() {
        // By hand: 200 × 62 / 43 = 288.372 l, in bottles of 0.7 l 411.96.
        assert_eq!(bottles(200.0, 62.0, 43.0, 700.0), Ok(411.0));
        // 100 × 60 / 40 = 150 l, in bottles of 0.75 l exactly 200: rounding would decide.
        assert!(matches!(
            bottles(100.0, 60.0, 40.0, 750.0),
            Err(Problem::LastBottle(_))
        ));
        assert!(bottles(100.0, 60.0, 40.0, 0.0).is_err());
    }
}
