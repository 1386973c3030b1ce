//! How hard and how sharp are questions that can be guessed?
//!
//! Source: Birnbaum 1968, eq. 17.3.2; Mislevy 1986 for the priors: P = g + (1 - g) logistic(a θ + d),
//! θ ~ N(0, 1); the mode of the marginal posterior, because the likelihood alone leaves a, d and g
//! nearly interchangeable. log_likelihood is given without the priors.
//! Invalid: without priors (there is no such function here); as a proof that people guess: with few
//! weak candidates g is mostly prior. Smallest n: 1,000 (Hulin, Lissak & Drasgow 1982, from memory).
//! Missing: a gap takes no part.

use super::curve_family::CurveFamily;
use super::estimate::Estimate;
use super::item_curve::{ItemCurve, logistic};
use super::least_persons;
use super::marginal_design::{Slopes, estimate_at, marginal_design};
use super::marginal_likelihood::Prior;
use super::response_table::ResponseTable;
use crate::refusal::Refusal;

/// What is thought of the parameters before the data; deviations above 0.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct ThreeParameterPriors {
    /// Mean of log a.
    pub log_slope_mean: f64,
    /// Standard deviation of log a.
    pub log_slope_deviation: f64,
    /// Mean of d.
    pub intercept_mean: f64,
    /// Standard deviation of d.
    pub intercept_deviation: f64,
    /// Mean of the logit of g.
    pub guessing_logit_mean: f64,
    /// Standard deviation of the logit of g.
    pub guessing_logit_deviation: f64,
}

impl ThreeParameterPriors {
    /// For questions with so many options: g near 1 in that number; the other priors wide.
    ///
    /// # Errors
    /// `Refusal::TooFew` below two options.
    pub fn for_options(options: usize) -> Result<Self, Refusal> {
        crate::refusal::at_least(2, options, "options", "a choice needs two")?;
        Ok(Self {
            log_slope_mean: 0.0,
            log_slope_deviation: 0.5,
            intercept_mean: 0.0,
            intercept_deviation: 2.0,
            guessing_logit_mean: -libm::log(options as f64 - 1.0),
            guessing_logit_deviation: 0.5,
        })
    }

    fn check(&self) -> Result<(), Refusal> {
        let deviations = [
            self.log_slope_deviation,
            self.intercept_deviation,
            self.guessing_logit_deviation,
        ];
        let means = [
            self.log_slope_mean,
            self.intercept_mean,
            self.guessing_logit_mean,
        ];
        if let Some(value) = means.into_iter().find(|mean| !mean.is_finite()) {
            return Err(Refusal::OutOfRange {
                of: "mean of a prior",
                value,
                allowed: "a finite number",
            });
        }
        let wrong = |deviation: &f64| !(*deviation > 0.0 && deviation.is_finite());
        match deviations.into_iter().find(wrong) {
            Some(value) => Err(Refusal::OutOfRange {
                of: "standard deviation of a prior",
                value,
                allowed: "above 0",
            }),
            None => Ok(()),
        }
    }
}

/// The three-parameter logistic model.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ThreeParameter {
    /// a of each question.
    pub slopes: Vec<Estimate>,
    /// d of each question.
    pub intercepts: Vec<Estimate>,
    /// g of each question, a probability; its error by the delta method from the logit.
    pub guessing: Vec<Estimate>,
    /// Marginal log-likelihood at the mode, priors left out.
    pub log_likelihood: f64,
    /// The priors.
    pub priors: ThreeParameterPriors,
    /// Candidates with answers.
    pub persons: usize,
    /// Number of questions.
    pub items: usize,
}

impl ThreeParameter {
    /// The curves, for a population with mean 0 and variance 1.
    #[must_use]
    pub fn curves(&self) -> Vec<ItemCurve> {
        self.slopes
            .iter()
            .zip(&self.intercepts)
            .zip(&self.guessing)
            .map(|((slope, intercept), guessing)| ItemCurve::Logistic {
                slope: slope.value,
                intercept: intercept.value,
                guessing: guessing.value,
            })
            .collect()
    }
}

/// Estimates slopes, intercepts and guessing.
///
/// # Errors
/// `Refusal::NotDefined` for marks other than 0 and 1, `Refusal::OutOfRange` for priors that are none,
/// `Refusal::ConstantColumn`, `Refusal::TooFew`, `Refusal::NotSettled`.
pub fn three_parameter(
    table: &ResponseTable,
    priors: ThreeParameterPriors,
) -> Result<ThreeParameter, Refusal> {
    const NAME: &str = "the three-parameter model";
    table.right_or_wrong_only(NAME)?;
    priors.check()?;
    let mut design = marginal_design(
        table,
        CurveFamily::Guessed,
        Slopes::Own,
        least_persons::THREE_PARAMETER,
    )?;
    for item in 0..table.items() {
        design.likelihood.priors.extend([
            (
                3 * item,
                Prior::LogNormal {
                    mean: priors.log_slope_mean,
                    deviation: priors.log_slope_deviation,
                },
            ),
            (
                3 * item + 1,
                Prior::Normal {
                    mean: priors.intercept_mean,
                    deviation: priors.intercept_deviation,
                },
            ),
            (
                3 * item + 2,
                Prior::Normal {
                    mean: priors.guessing_logit_mean,
                    deviation: priors.guessing_logit_deviation,
                },
            ),
        ]);
    }
    let top = design.likelihood.fit(design.start, NAME)?;
    let log_likelihood =
        design
            .likelihood
            .log_likelihood(&top.point)
            .ok_or(Refusal::NotDefined {
                of: NAME,
                because: "the mode lies outside what the parameters may be",
            })?;
    let every = |raw: usize| (0..table.items()).map(move |item| 3 * item + raw);
    Ok(ThreeParameter {
        slopes: every(0).map(|place| estimate_at(&top, place)).collect(),
        intercepts: every(1).map(|place| estimate_at(&top, place)).collect(),
        guessing: every(2)
            .map(|place| {
                let logit = estimate_at(&top, place);
                let value = logistic(logit.value);
                Estimate {
                    value,
                    standard_error: value * (1.0 - value) * logit.standard_error,
                }
            })
            .collect(),
        log_likelihood,
        priors,
        persons: design.persons,
        items: table.items(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::simulated::simulated;
    use super::*;

    #[test]
    fn finds_guessing_near_the_truth() {
        let curves = [-1.5, -0.5, 0.0, 0.5, 1.5].map(|intercept| ItemCurve::Logistic {
            slope: 1.5,
            intercept,
            guessing: 0.25,
        });
        let priors = ThreeParameterPriors::for_options(4).unwrap();
        let made = three_parameter(&simulated(&curves, 2_000, 8), priors).unwrap();
        for guessing in made.guessing {
            assert!((guessing.value - 0.25).abs() < 0.12);
            assert!(guessing.standard_error < 0.12);
        }
    }

    #[test]
    fn priors_without_spread_are_refused() {
        let priors = ThreeParameterPriors {
            intercept_deviation: 0.0,
            ..ThreeParameterPriors::for_options(4).unwrap()
        };
        let table = simulated(&[ItemCurve::rasch(0.0)], 5, 1);
        assert!(matches!(
            three_parameter(&table, priors),
            Err(Refusal::OutOfRange { .. })
        ));
        assert!(ThreeParameterPriors::for_options(1).is_err());
    }
}
