//! Which mark on the other form has the same expected share of candidates below it?
//!
//! Source: Lord & Wingersky 1984 (distribution of marks at an ability by recursion); Kolen & Brennan
//! 2004, ch. 6 (mixed over a distribution of ability, then equipercentile). Invalid: as
//! [`super::true_score`]; a distribution of ability that is not that of the candidates. No interval:
//! the errors of the parameters are not known here. Missing: none, parameters are given.

use crate::equating::equipercentile::Ranks;
use crate::equating::three_parameter_curve::{CurveMetric, ThreeParameterCurve};
use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// A share of the population at an ability.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct AbilityPoint {
    /// Ability, on the scale of the parameters.
    pub ability: f64,
    /// Its weight; weights need not sum to 1.
    pub weight: f64,
}

/// Expected share of a population at each mark of a form.
///
/// # Errors
/// `Refusal::TooFew` without questions or points; `Refusal::OutOfRange` for a weight below 0 or a
/// point that is no number; `Refusal::NotDefined` when all weights are 0.
pub fn expected_shares(
    form: &[ThreeParameterCurve],
    population: &[AbilityPoint],
    metric: CurveMetric,
) -> Result<Vec<f64>, Refusal> {
    at_least(1, form.len(), "questions", "a form needs one")?;
    at_least(
        1,
        population.len(),
        "points of ability",
        "a population needs one",
    )?;
    for point in population {
        if !(point.weight.is_finite() && point.weight >= 0.0 && point.ability.is_finite()) {
            return Err(Refusal::OutOfRange {
                of: "weight of an ability",
                value: point.weight,
                allowed: "0 or more, at a finite ability",
            });
        }
    }
    let whole = sum(population.iter().map(|point| point.weight));
    if whole <= 0.0 {
        return Err(Refusal::NotDefined {
            of: "the distribution of marks",
            because: "all weights of ability are 0",
        });
    }
    let mut shares = vec![0.0; form.len() + 1];
    for point in population {
        let at_point = marks_at(form, point.ability, metric);
        for (share, part) in shares.iter_mut().zip(at_point) {
            *share += part * point.weight / whole;
        }
    }
    Ok(shares)
}

/// Distribution of marks at one ability: questions are added one by one.
fn marks_at(form: &[ThreeParameterCurve], ability: f64, metric: CurveMetric) -> Vec<f64> {
    let mut shares = vec![1.0];
    for item in form {
        let right = item.probability(ability, metric);
        let mut next = vec![0.0; shares.len() + 1];
        for (mark, share) in shares.iter().enumerate() {
            if let Some(stay) = next.get_mut(mark) {
                *stay += share * (1.0 - right);
            }
            if let Some(rise) = next.get_mut(mark + 1) {
                *rise += share * right;
            }
        }
        shares = next;
    }
    shares
}

/// Equivalents of the marks 0 to the number of questions of form X in the population.
///
/// # Errors
/// As [`expected_shares`].
pub fn observed_score_equating(
    x: &[ThreeParameterCurve],
    y: &[ThreeParameterCurve],
    population: &[AbilityPoint],
    metric: CurveMetric,
) -> Result<Vec<f64>, Refusal> {
    let from = Ranks::new(&expected_shares(x, population, metric)?);
    let to = Ranks::new(&expected_shares(y, population, metric)?);
    Ok((0..=x.len())
        .map(|mark| to.mark(from.rank(mark as f64)))
        .collect())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::equating::moment_linking::tests::shared;
    use crate::equating::three_parameter_curve::expected_total;

    const POPULATION: [AbilityPoint; 3] = [
        AbilityPoint {
            ability: -1.0,
            weight: 1.0,
        },
        AbilityPoint {
            ability: 0.2,
            weight: 2.0,
        },
        AbilityPoint {
            ability: 1.5,
            weight: 1.0,
        },
    ];

    #[test]
    fn shares_sum_to_one_and_have_the_expected_mean() {
        let (x, _) = shared();
        let shares = expected_shares(&x, &POPULATION, CurveMetric::Logistic).unwrap();
        assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-14);
        let mean: f64 = shares.iter().enumerate().map(|(m, s)| m as f64 * s).sum();
        let expected: f64 = POPULATION
            .iter()
            .map(|point| {
                point.weight / 4.0 * expected_total(&x, point.ability, CurveMetric::Logistic)
            })
            .sum();
        assert!((mean - expected).abs() < 1e-14);
    }

    #[test]
    fn a_form_equated_to_itself_is_the_identity() {
        let (x, _) = shared();
        let made = observed_score_equating(&x, &x, &POPULATION, CurveMetric::Logistic).unwrap();
        for (mark, equivalent) in made.iter().enumerate() {
            assert!((equivalent - mark as f64).abs() < 1e-7, "{made:?}");
        }
        let nothing = [AbilityPoint {
            ability: 0.0,
            weight: 0.0,
        }];
        assert!(expected_shares(&x, &nothing, CurveMetric::Logistic).is_err());
    }
}
