//! Which mark is expected on the other form of a candidate of whom this mark is expected?
//!
//! Source: Kolen & Brennan 2004, ch. 6 (item response true score equating): the ability at which a
//! mark of X is expected, and the mark of Y expected there. Marks up to the sum of the guessing
//! parameters belong to no ability: they are joined to 0 by a straight line (Kolen 1981); full marks
//! go to full marks. Invalid: parameters of the forms on different scales (carry them first); a
//! model that does not fit. No interval: the errors of the parameters are not known here.

use crate::equating::three_parameter_curve::{CurveMetric, ThreeParameterCurve, expected_total};
use crate::halving::last_place;
use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// Equivalents of the marks 0 to the number of questions of form X.
///
/// # Errors
/// `Refusal::TooFew` for a form without questions.
pub fn true_score_equating(
    x: &[ThreeParameterCurve],
    y: &[ThreeParameterCurve],
    metric: CurveMetric,
) -> Result<Vec<f64>, Refusal> {
    at_least(1, x.len(), "questions of form X", "a form needs one")?;
    at_least(1, y.len(), "questions of form Y", "a form needs one")?;
    let by_guessing =
        |form: &[ThreeParameterCurve]| sum(form.iter().map(ThreeParameterCurve::guessing));
    let (low_x, low_y) = (by_guessing(x), by_guessing(y));
    Ok((0..=x.len())
        .map(|mark| {
            if mark == x.len() {
                return y.len() as f64;
            }
            let mark = mark as f64;
            if mark <= low_x {
                // Without guessing only mark 0 comes here.
                return if low_x > 0.0 {
                    mark * low_y / low_x
                } else {
                    0.0
                };
            }
            expected_total(y, ability_of(x, mark, metric), metric)
        })
        .collect())
}

/// The ability at which a mark is expected, by halving until it cannot be halved.
fn ability_of(form: &[ThreeParameterCurve], mark: f64, metric: CurveMetric) -> f64 {
    let (mut low, mut high) = (-1.0, 1.0);
    // The curve runs from the sum of guessing to full marks, both left out, so both ends are found;
    // the bound only guards marks that rounding puts at an end.
    while expected_total(form, low, metric) > mark && low > -1e6 {
        low *= 2.0;
    }
    while expected_total(form, high, metric) < mark && high < 1e6 {
        high *= 2.0;
    }
    last_place(
        |ability| expected_total(form, ability, metric) < mark,
        low,
        high,
    )
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::equating::moment_linking::tests::shared;

    #[test]
    fn a_form_equated_to_itself_is_the_identity() {
        let (x, y) = shared();
        let made = true_score_equating(&x, &x, CurveMetric::Logistic).unwrap();
        for (mark, equivalent) in made.iter().enumerate() {
            assert!((equivalent - mark as f64).abs() < 1e-12, "{made:?}");
        }
        let other = true_score_equating(&x, &y, CurveMetric::Logistic).unwrap();
        assert!(other.windows(2).all(|pair| pair[0] < pair[1]));
        assert!(true_score_equating(&[], &y, CurveMetric::Logistic).is_err());
    }
}
