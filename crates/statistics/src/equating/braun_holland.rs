//! Linear equating with the means and spreads of a mixed population, judged by the anchor.
//!
//! Source: Braun & Holland 1982; Kolen & Brennan 2004, ch. 5: moments of the distributions of
//! [`super::frequency_estimation`], so that totals need not rise with the anchor in a straight line;
//! where they do, it is Tucker's line but for the divisor of the variances (here n). Invalid,
//! smallest, missing: as frequency estimation.

use crate::equating::conversion::LinearConversion;
use crate::equating::frequency_estimation::FrequencyEstimation;
use crate::refusal::Refusal;
use crate::sums::sum;

/// The line.
///
/// # Errors
/// `Refusal::NoVariance` when a form has no spread in the mixture.
pub fn braun_holland(mixture: &FrequencyEstimation) -> Result<LinearConversion, Refusal> {
    let (x_mean, x_deviation) = moments(&mixture.x_shares);
    let (y_mean, y_deviation) = moments(&mixture.y_shares);
    if x_deviation <= 0.0 || y_deviation <= 0.0 {
        return Err(Refusal::NoVariance { of: "marks" });
    }
    let slope = y_deviation / x_deviation;
    Ok(LinearConversion {
        slope,
        intercept: y_mean - slope * x_mean,
    })
}

fn moments(shares: &[f64]) -> (f64, f64) {
    let marks = || shares.iter().enumerate().map(|(mark, s)| (mark as f64, s));
    let mean = sum(marks().map(|(mark, share)| mark * share));
    let variance = sum(marks().map(|(mark, share)| (mark - mean) * (mark - mean) * share));
    (mean, variance.sqrt())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::equating::anchor_group::AnchorGroup;
    use crate::equating::frequency_estimation::frequency_estimation;
    use crate::equating::synthetic_population::PopulationWeight;
    use crate::equating::tucker::tucker;

    #[test]
    fn with_straight_and_even_regressions_it_is_tucker_s_line() {
        // Totals are 2 V plus -1, 0 or 1, each as often: the same line and spread at each V.
        let group = |times: [usize; 3], constant: usize| {
            let (mut totals, mut anchors) = (Vec::new(), Vec::new());
            for (anchor, times) in times.into_iter().enumerate() {
                for _ in 0..times * 40 {
                    for total in 0..3 {
                        totals.push(2 * anchor + total + constant);
                        anchors.push(anchor);
                    }
                }
            }
            AnchorGroup::new(&totals, &anchors, 8, 2).unwrap()
        };
        let (x, y) = (group([3, 4, 2], 0), group([2, 4, 4], 1));
        let weight = PopulationWeight::HALVES;
        let made = braun_holland(&frequency_estimation(&x, &y, weight).unwrap()).unwrap();
        let line = tucker(&x, &y, weight).unwrap().conversion;
        assert!((made.slope - line.slope).abs() < 1e-3);
        assert!((made.at(4.0) - line.at(4.0)).abs() < 1e-3);
    }
}
