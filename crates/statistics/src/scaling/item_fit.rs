//! Do the answers to a question scatter as its curve says, given the candidates' abilities?
//!
//! Source: Wright & Masters 1982, ch. 5: outfit = mean of z², infit = Σ(x - E)²/ΣV; their variances
//! from the fourth moment of an answer; t by the cube root of Wilson and Hilferty,
//! t = (∛ms - 1)(3/q) + q/3.
//! Invalid: as a test with an exact level (abilities are estimated from the same answers); candidates
//! without finite ability stay out. Smallest n: 30 candidates (common practice). Missing: a gap takes
//! no part.

use super::item_curve::ItemCurve;
use super::least_persons;
use super::response_table::ResponseTable;
use crate::refusal::{Refusal, at_least};

/// Fit of one question.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct ItemFit {
    /// Information-weighted mean square; 1 is expected.
    pub infit: f64,
    /// Unweighted mean square; a few odd answers far from a question's difficulty raise it.
    pub outfit: f64,
    /// Infit as a standard normal deviate.
    pub infit_t: f64,
    /// Outfit as a standard normal deviate.
    pub outfit_t: f64,
    /// Answers counted.
    pub answers: usize,
}

/// Fit of each question. An ability of none leaves the candidate out.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::OutOfRange` for curves or categories that do not fit,
/// `Refusal::TooFew` below 30 candidates for a question, `Refusal::NotDefined` where a curve leaves no
/// scatter.
pub fn item_fit(
    table: &ResponseTable,
    curves: &[ItemCurve],
    abilities: &[Option<f64>],
) -> Result<Vec<ItemFit>, Refusal> {
    if curves.len() != table.items() {
        return Err(Refusal::UnequalLengths {
            of: "curves beside questions",
            have: curves.len(),
            expected: table.items(),
        });
    }
    if abilities.len() != table.persons() {
        return Err(Refusal::UnequalLengths {
            of: "abilities beside candidates",
            have: abilities.len(),
            expected: table.persons(),
        });
    }
    if let Some(value) = abilities
        .iter()
        .flatten()
        .find(|ability| !ability.is_finite())
    {
        return Err(Refusal::OutOfRange {
            of: "ability",
            value: *value,
            allowed: "a finite number, or none",
        });
    }
    curves
        .iter()
        .enumerate()
        .map(|(item, curve)| {
            curve.check()?;
            let mut residuals = Vec::with_capacity(table.persons());
            for (row, ability) in table.rows().zip(abilities) {
                if let (Some(answer), Some(ability)) = (row[item], ability) {
                    if usize::from(answer) >= curve.categories() {
                        return Err(Refusal::OutOfRange {
                            of: "category",
                            value: f64::from(answer),
                            allowed: "a category that the question has",
                        });
                    }
                    residuals.push(Residual::of(curve, *ability, f64::from(answer)));
                }
            }
            let (least, reason) = least_persons::GROUP;
            at_least(least, residuals.len(), "candidates with an ability", reason)?;
            fit(&residuals)
        })
        .collect()
}

/// How far an answer lies from what was expected.
struct Residual {
    squared: f64,
    variance: f64,
    fourth: f64,
}

impl Residual {
    fn of(curve: &ItemCurve, ability: f64, answer: f64) -> Self {
        let probabilities = curve.probabilities(ability);
        let moment = |about: f64, power: usize| -> f64 {
            probabilities
                .iter()
                .enumerate()
                .map(|(score, p)| {
                    (0..power).fold(*p, |product, _| product * (score as f64 - about))
                })
                .sum()
        };
        let expected = moment(0.0, 1);
        Self {
            squared: (answer - expected) * (answer - expected),
            variance: moment(expected, 2),
            fourth: moment(expected, 4),
        }
    }
}

fn fit(residuals: &[Residual]) -> Result<ItemFit, Refusal> {
    let n = residuals.len() as f64;
    let total = |of: &dyn Fn(&Residual) -> f64| crate::sums::sum(residuals.iter().map(of));
    let information = total(&|r| r.variance);
    let outfit = total(&|r| r.squared / r.variance) / n;
    let infit = total(&|r| r.squared) / information;
    let outfit_q = (total(&|r| r.fourth / (r.variance * r.variance)) / (n * n) - 1.0 / n).sqrt();
    let infit_q = total(&|r| r.fourth - r.variance * r.variance).sqrt() / information;
    let t = |mean_square: f64, q: f64| (libm::cbrt(mean_square) - 1.0) * 3.0 / q + q / 3.0;
    let made = ItemFit {
        infit,
        outfit,
        infit_t: t(infit, infit_q),
        outfit_t: t(outfit, outfit_q),
        answers: residuals.len(),
    };
    let figures = [made.infit, made.outfit, made.infit_t, made.outfit_t];
    if figures.iter().all(|figure| figure.is_finite()) {
        Ok(made)
    } else {
        // Also reached where all chances are exactly one half: then z² is 1 and scatters not at all.
        Err(Refusal::NotDefined {
            of: "the fit of a question",
            because: "its curve leaves the answers no scatter at these abilities",
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::simulated::Uniform;
    use super::*;

    #[test]
    fn answers_drawn_from_the_curve_fit_and_noise_does_not() {
        let mut uniform = Uniform::new(77);
        let curve = ItemCurve::PartialCredit {
            slope: 1.0,
            intercepts: vec![0.5, -0.5],
        };
        let steep = ItemCurve::rasch(0.3);
        let abilities: Vec<Option<f64>> = (0..800).map(|_| Some(2.0 * uniform.normal())).collect();
        let rows: Vec<Vec<Option<u8>>> = abilities
            .iter()
            .map(|ability| {
                let coin = u8::from(uniform.draw() < 0.5);
                vec![Some(uniform.category(&curve, ability.unwrap())), Some(coin)]
            })
            .collect();
        let table = ResponseTable::new(&rows).unwrap();
        let made = item_fit(&table, &[curve, steep], &abilities).unwrap();
        assert!(made[0].infit_t.abs() < 3.0 && made[0].outfit_t.abs() < 3.0);
        assert!(made[1].infit > 1.2 && made[1].infit_t > 4.0);
    }

    #[test]
    fn what_does_not_belong_together_is_refused() {
        let table = ResponseTable::new(&[[Some(1)], [Some(0)]]).unwrap();
        let curves = [ItemCurve::rasch(0.0)];
        assert!(item_fit(&table, &[], &[None, None]).is_err());
        assert!(item_fit(&table, &curves, &[None]).is_err());
        assert!(matches!(
            item_fit(&table, &curves, &[Some(0.0), Some(1.0)]),
            Err(Refusal::TooFew { need: 30, .. })
        ));
    }
}
