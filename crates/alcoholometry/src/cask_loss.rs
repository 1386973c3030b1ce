//! How much is left in a cask after years of loss through the wood?
//!
//! Formula: V (1 − r/100)ⁿ, the loss of each year being taken from what was there at its beginning
//! (compound decrease, elementary; the rate itself differs by warehouse and climate and is given).
//! Invalid: where the rate changes from year to year, or where strength is asked and not volume.

use crate::problem::Problem;
use crate::quantities::Millilitres;

/// What is left of `filled` after `years` at a loss of `percent_a_year`.
///
/// # Errors
/// `Problem::NoYearlyLoss` for a rate outside 0 to 100 %, `Problem::NoYears` for a negative time.
pub fn cask_remaining(
    filled: Millilitres,
    years: f64,
    percent_a_year: f64,
) -> Result<Millilitres, Problem> {
    if !(0.0..=100.0).contains(&percent_a_year) {
        return Err(Problem::NoYearlyLoss(percent_a_year));
    }
    if !years.is_finite() || years < 0.0 {
        return Err(Problem::NoYears(years));
    }
    Millilitres::new(filled.value() * libm::pow(1.0 - percent_a_year / 100.0, years))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_loss_of_a_year_is_taken_from_what_is_there() {
        let cask = Millilitres::new(200_000.0).unwrap();
        // By hand: 200 × 0.98 × 0.98 = 192.08.
        let left = cask_remaining(cask, 2.0, 2.0).unwrap();
        assert!((left.litres() - 192.08).abs() < 1e-9);
        assert_eq!(cask_remaining(cask, 0.0, 5.0), Ok(cask));
        assert_eq!(
            cask_remaining(cask, 1.0, 101.0),
            Err(Problem::NoYearlyLoss(101.0))
        );
        assert_eq!(cask_remaining(cask, -1.0, 2.0), Err(Problem::NoYears(-1.0)));
    }
}
