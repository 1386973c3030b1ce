//! What is the mean of the abilities that a candidate may have, once the population is counted in?
//!
//! Source: Bock & Mislevy 1982, eq. 2 and 3: posterior mean (EAP) and standard deviation, here over
//! 241 points from -6 to 6 standard deviations. Always finite.
//! Invalid: for a pass mark that must not depend on who else sat. Missing: a gap takes no part.

use super::likelihood::Answers;
use super::person::PersonMeasure;
use crate::refusal::Refusal;
use crate::scaling::ability_prior::AbilityPrior;
use crate::scaling::item_curve::ItemCurve;
use crate::sums::sum;

/// Measures one candidate.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::TooFew`, `Refusal::OutOfRange` for answers that do not fit the
/// curves.
pub fn expected_posterior(
    curves: &[ItemCurve],
    answers: &[Option<u8>],
    population: AbilityPrior,
) -> Result<PersonMeasure, Refusal> {
    let answers = Answers::of(curves, answers)?;
    let points: Vec<(f64, f64)> = (0..=240_u32)
        .map(|place| {
            let z = -6.0 + 0.05 * f64::from(place);
            let ability = population.mean() + population.standard_deviation() * z;
            (ability, answers.at(ability).log - 0.5 * z * z)
        })
        .collect();
    let highest = points
        .iter()
        .fold(f64::NEG_INFINITY, |top, at| top.max(at.1));
    let weight = |log: f64| libm::exp(log - highest);
    let whole = sum(points.iter().map(|(_, log)| weight(*log)));
    let ability = sum(points.iter().map(|(ability, log)| ability * weight(*log))) / whole;
    let variance = sum(points
        .iter()
        .map(|(at, log)| (at - ability) * (at - ability) * weight(*log)))
        / whole;
    Ok(PersonMeasure {
        ability,
        standard_error: variance.sqrt(),
        answers: answers.count(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn one_right_and_one_wrong_at_the_middle_is_the_middle() {
        let curves = vec![ItemCurve::rasch(0.0); 2];
        let made =
            expected_posterior(&curves, &[Some(1), Some(0)], AbilityPrior::STANDARD).unwrap();
        assert!(made.ability.abs() < 1e-14);
        assert!(made.standard_error > 0.8 && made.standard_error < 1.0);
    }

    #[test]
    fn a_question_that_tells_nothing_leaves_the_population() {
        let flat = [ItemCurve::Logistic {
            slope: 0.0,
            intercept: 1.0,
            guessing: 0.0,
        }];
        let population = AbilityPrior::new(0.7, 1.5).unwrap();
        let made = expected_posterior(&flat, &[Some(1)], population).unwrap();
        assert!((made.ability - 0.7).abs() < 1e-12);
        assert!((made.standard_error - 1.5).abs() < 1e-5);
    }
}
