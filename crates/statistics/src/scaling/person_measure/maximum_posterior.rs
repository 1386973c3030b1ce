//! Which ability is likeliest once the population is counted in?
//!
//! Source: Samejima 1969; Bock & Aitkin 1981: the mode of the posterior with a normal population (MAP);
//! error 1/√(information + 1/σ²). Pulled towards the population's mean, the more the fewer questions.
//! Invalid: for a pass mark that must not depend on who else sat. Missing: a gap takes no part.

use super::likelihood::{Answers, error_from};
use super::person::PersonMeasure;
use crate::refusal::Refusal;
use crate::scaling::ability_prior::AbilityPrior;
use crate::scaling::item_curve::ItemCurve;

/// Measures one candidate.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::TooFew`, `Refusal::OutOfRange` for answers that do not fit the
/// curves; `Refusal::NotDefined` where the mode lies beyond ±20.
pub fn maximum_posterior(
    curves: &[ItemCurve],
    answers: &[Option<u8>],
    population: AbilityPrior,
) -> Result<PersonMeasure, Refusal> {
    let answers = Answers::of(curves, answers)?;
    let variance = population.standard_deviation() * population.standard_deviation();
    let away = |ability: f64| ability - population.mean();
    let ability = answers
        .top(
            |at, ability| at.slope - away(ability) / variance,
            |at, ability| at.log - 0.5 * away(ability) * away(ability) / variance,
        )
        .ok_or(Refusal::NotDefined {
            of: "the likeliest ability",
            because: "it lies beyond the scale that is searched (-20 to 20)",
        })?;
    Ok(PersonMeasure {
        ability,
        standard_error: error_from(answers.at(ability).information + 1.0 / variance)?,
        answers: answers.count(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::maximum_likelihood::maximum_likelihood;
    use super::*;

    #[test]
    fn a_wide_population_gives_maximum_likelihood() {
        let curves = [-1.0, 0.0, 1.0].map(ItemCurve::rasch);
        let answers = [Some(1), Some(0), Some(1)];
        let wide = AbilityPrior::new(0.0, 1e4).unwrap();
        let one = maximum_posterior(&curves, &answers, wide).unwrap();
        let other = maximum_likelihood(&curves, &answers).unwrap();
        assert!((one.ability - other.ability).abs() < 1e-6);
    }

    #[test]
    fn everything_right_has_an_ability() {
        let curves = [-1.0, 0.0, 1.0].map(ItemCurve::rasch);
        let made = maximum_posterior(&curves, &[Some(1); 3], AbilityPrior::STANDARD).unwrap();
        assert!(made.ability > 0.5 && made.ability < 2.0 && made.standard_error < 1.0);
    }
}
