//! Which line carries the abilities of one scale to another, by the curves of shared questions?
//!
//! Sources: Haebara 1980 (squared differences question by question); Stocking & Lord 1983 (squared
//! difference of the sums); curves compared at equally weighted abilities −4, −3.95 … 4 of scale Y,
//! one direction. θ_Y = A θ_X + B. Found by Gauss and Newton's steps with Levenberg's damping, from
//! mean/mean. Invalid: shared questions that drifted. Smallest: two; about 20 or a fifth of the form
//! are wanted (Kolen & Brennan 2004, from memory). No interval here. Missing: none.

use crate::equating::moment_linking::{ScaleLink, mean_mean};
use crate::equating::three_parameter_curve::{CurveMetric, ThreeParameterCurve};
use crate::refusal::Refusal;

/// Steps after which the search is given up.
const STEPS: usize = 500;
/// Places at which curves are compared: 161 from −4 to 4.
const PLACES: i32 = 161;

/// What is compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CurveCriterion {
    /// Each question by itself.
    Haebara,
    /// The sums over all shared questions.
    StockingLord,
}

/// A link by curves.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct CurveLink {
    /// The line.
    pub link: ScaleLink,
    /// Mean squared difference that remains.
    pub remaining: f64,
    /// Number of shared questions.
    pub questions: usize,
}

/// Links scale X to scale Y by the shared questions, given on both scales in the same order.
///
/// # Errors
/// `Refusal::TooFew`, `Refusal::UnequalLengths`, `Refusal::NotSettled`.
pub fn curve_linking(
    x: &[ThreeParameterCurve],
    y: &[ThreeParameterCurve],
    metric: CurveMetric,
    criterion: CurveCriterion,
) -> Result<CurveLink, Refusal> {
    let mut link = mean_mean(x, y)?;
    let mut damping = 1e-3;
    let mut here = normal_equations(x, y, metric, criterion, link);
    for _ in 0..STEPS {
        let [a, b, c] = here.products;
        let (a_damped, c_damped) = (a * (1.0 + damping), c * (1.0 + damping));
        let determinant = a_damped * c_damped - b * b;
        if determinant.is_nan() || determinant <= 0.0 {
            break;
        }
        let [first, second] = here.right;
        let slope_step = (c_damped * first - b * second) / determinant;
        let intercept_step = (a_damped * second - b * first) / determinant;
        let tried = ScaleLink {
            slope: link.slope + slope_step,
            intercept: link.intercept + intercept_step,
        };
        let small = slope_step.abs() < 1e-12 && intercept_step.abs() < 1e-12;
        if tried.slope > 0.0 {
            let there = normal_equations(x, y, metric, criterion, tried);
            if there.squares <= here.squares || small {
                if small {
                    return Ok(CurveLink {
                        link: tried,
                        remaining: there.squares / f64::from(PLACES),
                        questions: x.len(),
                    });
                }
                link = tried;
                here = there;
                damping = (damping / 10.0).max(1e-12);
                continue;
            }
        }
        damping *= 10.0;
    }
    Err(Refusal::NotSettled {
        of: "the link by curves",
        steps: STEPS,
    })
}

/// The squares, and the normal equations of the next step.
struct Equations {
    squares: f64,
    products: [f64; 3],
    right: [f64; 2],
}

fn normal_equations(
    x: &[ThreeParameterCurve],
    y: &[ThreeParameterCurve],
    metric: CurveMetric,
    criterion: CurveCriterion,
    link: ScaleLink,
) -> Equations {
    let mut made = Equations {
        squares: 0.0,
        products: [0.0; 3],
        right: [0.0; 2],
    };
    for place in 0..PLACES {
        let ability = f64::from(place) / 20.0 - 4.0;
        let parts = x
            .iter()
            .zip(y)
            .map(|(from, to)| difference(from, to, ability, metric, link));
        match criterion {
            CurveCriterion::Haebara => parts.for_each(|part| made.add(part)),
            CurveCriterion::StockingLord => made.add(parts.fold([0.0; 3], |sum, part| {
                [sum[0] + part[0], sum[1] + part[1], sum[2] + part[2]]
            })),
        }
    }
    made
}

impl Equations {
    fn add(&mut self, [rest, by_slope, by_intercept]: [f64; 3]) {
        self.squares += rest * rest;
        let [a, b, c] = &mut self.products;
        *a += by_slope * by_slope;
        *b += by_slope * by_intercept;
        *c += by_intercept * by_intercept;
        let [first, second] = &mut self.right;
        *first += by_slope * rest;
        *second += by_intercept * rest;
    }
}

/// The difference of the two curves at an ability of scale Y, and how the carried curve moves with
/// slope and intercept.
fn difference(
    from: &ThreeParameterCurve,
    to: &ThreeParameterCurve,
    ability: f64,
    metric: CurveMetric,
    link: ScaleLink,
) -> [f64; 3] {
    let on_x = (ability - link.intercept) / link.slope;
    let carried = from.probability(on_x, metric);
    let above = (carried - from.guessing()) / (1.0 - from.guessing());
    let steep =
        (carried - from.guessing()) * (1.0 - above) * metric.constant() * from.discrimination();
    [
        to.probability(ability, metric) - carried,
        -steep * on_x / link.slope,
        -steep / link.slope,
    ]
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::equating::moment_linking::tests::shared;

    #[test]
    fn a_known_line_is_found_by_both() {
        let (x, y) = shared();
        for criterion in [CurveCriterion::Haebara, CurveCriterion::StockingLord] {
            for metric in [CurveMetric::Logistic, CurveMetric::NormalOgive] {
                let made = curve_linking(&x, &y, metric, criterion).unwrap();
                assert!((made.link.slope - 1.2).abs() < 1e-9, "{made:?}");
                assert!((made.link.intercept + 0.5).abs() < 1e-9, "{made:?}");
                assert!(made.remaining < 1e-15);
            }
        }
    }
}
