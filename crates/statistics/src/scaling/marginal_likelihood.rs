//! The marginal likelihood of item response models: abilities are integrated over a normal population.
//!
//! Source: Bock & Aitkin 1981, eq. 4 to 8 (marginal probability of a pattern, its gradient through the
//! expected counts at each point); Mislevy 1986 for priors on parameters. Every answer names a curve;
//! a gap names none and so takes no part (Missing: at random given the answers that are there).
//! Candidates are summed in chunks of fixed size and order: the same digits for any number of threads.

use rayon::prelude::*;

use super::curve_family::CurveFamily;
use super::maximise::{Maximum, Objective, maximise};
use super::missing_information::observed_information;
use super::quadrature::{POINTS, points, weights};
use crate::refusal::Refusal;
use crate::sums::sum;

/// Candidates that are summed before they are added to the others.
pub(crate) const CHUNK: usize = 512;

/// A raw parameter as a sum: constant + coefficients times parameters.
#[derive(Debug, Clone, Default)]
pub(crate) struct Linear {
    pub(crate) constant: f64,
    pub(crate) terms: Vec<(usize, f64)>,
}

impl Linear {
    /// Just one parameter.
    pub(crate) fn parameter(place: usize) -> Self {
        Self {
            constant: 0.0,
            terms: vec![(place, 1.0)],
        }
    }

    pub(crate) fn at(&self, parameters: &[f64]) -> f64 {
        self.terms
            .iter()
            .fold(self.constant, |total, (place, coefficient)| {
                total + coefficient * parameters[*place]
            })
    }
}

/// A curve and how its raw parameters come from the parameters that are estimated.
#[derive(Debug, Clone)]
pub(crate) struct CurveDesign {
    pub(crate) family: CurveFamily,
    pub(crate) categories: usize,
    pub(crate) raw: Vec<Linear>,
}

impl CurveDesign {
    pub(crate) fn raw_at(&self, parameters: &[f64]) -> Vec<f64> {
        self.raw.iter().map(|raw| raw.at(parameters)).collect()
    }

    /// Slopes of the expected log-likelihood by each raw parameter, the expected counts held.
    pub(crate) fn slopes(&self, at: &[f64], counts: &[[f64; POINTS]]) -> Option<Vec<f64>> {
        let raw = self.raw_at(at);
        if !self.family.allows(&raw) {
            return None;
        }
        let mut slopes = vec![0.0; raw.len()];
        for (point, z) in points().into_iter().enumerate() {
            let here = self.family.log_probabilities(&raw, z);
            for (counts, (_, derivative)) in counts.iter().zip(here) {
                for (slope, value) in slopes.iter_mut().zip(derivative) {
                    *slope += counts[point] * value;
                }
            }
        }
        Some(slopes)
    }
}

/// Candidates who gave the same answers.
#[derive(Debug, Clone)]
pub(crate) struct Pattern {
    pub(crate) count: f64,
    /// Curve and category of each answer.
    pub(crate) answers: Vec<(usize, usize)>,
}

/// What is thought of a parameter before the data.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Prior {
    Normal { mean: f64, deviation: f64 },
    LogNormal { mean: f64, deviation: f64 },
}

impl Prior {
    /// Log density without its constant, its derivative, and a curvature that is positive.
    pub(crate) fn at(self, value: f64) -> Option<(f64, f64, f64)> {
        match self {
            Self::Normal { mean, deviation } => {
                let z = (value - mean) / deviation;
                Some((-0.5 * z * z, -z / deviation, 1.0 / (deviation * deviation)))
            }
            Self::LogNormal { mean, deviation } => {
                if value <= 0.0 {
                    return None;
                }
                let log = libm::log(value);
                let z = (log - mean) / deviation;
                let scale = deviation * value;
                Some((
                    -0.5 * z * z - log,
                    -z / scale - 1.0 / value,
                    1.0 / (scale * scale),
                ))
            }
        }
    }
}

/// Logarithms of the weights of the points.
pub(crate) fn log_weights() -> [f64; POINTS] {
    weights().map(libm::log)
}

/// Everything the likelihood needs.
pub(crate) struct MarginalLikelihood {
    pub(crate) designs: Vec<CurveDesign>,
    pub(crate) patterns: Vec<Pattern>,
    pub(crate) priors: Vec<(usize, Prior)>,
    pub(crate) parameters: usize,
}

/// The tables at one set of parameters.
pub(crate) struct Tables {
    /// By curve, category and point: log probability.
    pub(crate) logs: Vec<Vec<[f64; POINTS]>>,
    /// By curve, category and raw parameter, point: derivative of the log probability.
    pub(crate) derivatives: Vec<Vec<Vec<[f64; POINTS]>>>,
}

impl MarginalLikelihood {
    /// Finds the top.
    ///
    /// # Errors
    /// As [`maximise`].
    pub(crate) fn fit(&self, start: Vec<f64>, of: &'static str) -> Result<Maximum, Refusal> {
        maximise(self, start, of)
    }

    pub(crate) fn tables(&self, parameters: &[f64]) -> Option<Tables> {
        let mut logs = Vec::with_capacity(self.designs.len());
        let mut derivatives = Vec::with_capacity(self.designs.len());
        for design in &self.designs {
            let raw = design.raw_at(parameters);
            if !design.family.allows(&raw) {
                return None;
            }
            let mut log = vec![[0.0; POINTS]; design.categories];
            let mut by = vec![vec![[0.0; POINTS]; raw.len()]; design.categories];
            for (point, z) in points().into_iter().enumerate() {
                let here = design.family.log_probabilities(&raw, z);
                for (category, (value, derivative)) in here.into_iter().enumerate() {
                    log[category][point] = value;
                    for (place, value) in derivative.into_iter().enumerate() {
                        by[category][place][point] = value;
                    }
                }
            }
            logs.push(log);
            derivatives.push(by);
        }
        Some(Tables { logs, derivatives })
    }

    /// Log-likelihood, and the expected number of answers by curve, category and point.
    pub(crate) fn expected(&self, logs: &[Vec<[f64; POINTS]>]) -> (f64, Vec<Vec<[f64; POINTS]>>) {
        let chunks: Vec<_> = self
            .patterns
            .par_chunks(CHUNK)
            .map(|patterns| self.expected_of(patterns, logs))
            .collect();
        let mut terms = Vec::with_capacity(self.patterns.len());
        let mut whole: Option<Vec<Vec<[f64; POINTS]>>> = None;
        for (more, counts) in chunks {
            terms.extend(more);
            match &mut whole {
                None => whole = Some(counts),
                Some(whole) => {
                    let both = whole.iter_mut().flatten().zip(counts.iter().flatten());
                    for (one, more) in both.flat_map(|(one, more)| one.iter_mut().zip(more)) {
                        *one += more;
                    }
                }
            }
        }
        (sum(terms), whole.unwrap_or_else(|| self.no_counts()))
    }

    fn no_counts(&self) -> Vec<Vec<[f64; POINTS]>> {
        self.designs
            .iter()
            .map(|design| vec![[0.0; POINTS]; design.categories])
            .collect()
    }

    /// The highest log of a pattern's joint probability over the points, the sum of all relative to
    /// it, and each relative to it.
    pub(crate) fn posterior(
        &self,
        pattern: &Pattern,
        logs: &[Vec<[f64; POINTS]>],
        log_weights: &[f64; POINTS],
    ) -> (f64, f64, [f64; POINTS]) {
        let mut posterior = *log_weights;
        for (curve, category) in &pattern.answers {
            for (one, log) in posterior.iter_mut().zip(&logs[*curve][*category]) {
                *one += log;
            }
        }
        let highest = posterior
            .iter()
            .fold(f64::NEG_INFINITY, |top, one| top.max(*one));
        let mut whole = 0.0;
        for one in &mut posterior {
            *one = libm::exp(*one - highest);
            whole += *one;
        }
        (highest, whole, posterior)
    }

    fn expected_of(
        &self,
        patterns: &[Pattern],
        logs: &[Vec<[f64; POINTS]>],
    ) -> (Vec<f64>, Vec<Vec<[f64; POINTS]>>) {
        let log_weights = log_weights();
        let mut counts = self.no_counts();
        let mut terms = Vec::with_capacity(patterns.len());
        for pattern in patterns {
            let (highest, whole, mut posterior) = self.posterior(pattern, logs, &log_weights);
            terms.push(pattern.count * (highest + libm::log(whole)));
            let share = pattern.count / whole;
            for one in &mut posterior {
                *one *= share;
            }
            for (curve, category) in &pattern.answers {
                for (count, one) in counts[*curve][*category].iter_mut().zip(&posterior) {
                    *count += one;
                }
            }
        }
        (terms, counts)
    }

    /// The log-likelihood alone, without priors.
    pub(crate) fn log_likelihood(&self, parameters: &[f64]) -> Option<f64> {
        let tables = self.tables(parameters)?;
        Some(self.expected(&tables.logs).0)
    }
}

impl Objective for MarginalLikelihood {
    fn value_and_gradient(&self, at: &[f64]) -> Option<(f64, Vec<f64>)> {
        let tables = self.tables(at)?;
        let (mut value, counts) = self.expected(&tables.logs);
        let mut gradient = vec![0.0; self.parameters];
        for ((design, counts), derivatives) in
            self.designs.iter().zip(&counts).zip(&tables.derivatives)
        {
            for (place, raw) in design.raw.iter().enumerate() {
                let mut slope = 0.0;
                for (counts, derivatives) in counts.iter().zip(derivatives) {
                    for (count, derivative) in counts.iter().zip(&derivatives[place]) {
                        slope += count * derivative;
                    }
                }
                for (parameter, coefficient) in &raw.terms {
                    gradient[*parameter] += coefficient * slope;
                }
            }
        }
        for (place, prior) in &self.priors {
            let (log, slope, _) = prior.at(at[*place])?;
            value += log;
            gradient[*place] += slope;
        }
        value.is_finite().then_some((value, gradient))
    }

    fn observed_information(&self, at: &[f64]) -> Option<Vec<f64>> {
        observed_information(self, at)
    }

    /// The information that known abilities would give: an upper bound, which makes careful steps.
    fn rough_information(&self, at: &[f64]) -> Option<Vec<f64>> {
        let tables = self.tables(at)?;
        let (_, counts) = self.expected(&tables.logs);
        let size = self.parameters;
        let mut information = vec![0.0; size * size];
        for (curve, design) in self.designs.iter().enumerate() {
            let (logs, derivatives) = (&tables.logs[curve], &tables.derivatives[curve]);
            for (one, raw) in design.raw.iter().enumerate() {
                for (other, beside) in design.raw.iter().enumerate() {
                    let mut shared = 0.0;
                    for point in 0..POINTS {
                        let there: f64 = counts[curve].iter().map(|count| count[point]).sum();
                        for (log, by) in logs.iter().zip(derivatives) {
                            shared +=
                                there * libm::exp(log[point]) * by[one][point] * by[other][point];
                        }
                    }
                    for (row, first) in &raw.terms {
                        for (column, second) in &beside.terms {
                            information[row * size + column] += first * second * shared;
                        }
                    }
                }
            }
        }
        for (place, prior) in &self.priors {
            let (_, _, curvature) = prior.at(at[*place])?;
            information[place * size + place] += curvature;
        }
        Some(information)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn small() -> MarginalLikelihood {
        let design = |slope: usize, family, raw: usize| CurveDesign {
            family,
            categories: 2,
            raw: (slope..slope + raw).map(Linear::parameter).collect(),
        };
        MarginalLikelihood {
            designs: vec![
                design(0, CurveFamily::Adjacent, 2),
                design(2, CurveFamily::Guessed, 3),
            ],
            patterns: vec![
                Pattern {
                    count: 3.0,
                    answers: vec![(0, 1), (1, 0)],
                },
                Pattern {
                    count: 2.0,
                    answers: vec![(0, 0), (1, 1)],
                },
                Pattern {
                    count: 4.0,
                    answers: vec![(1, 1)],
                },
            ],
            priors: vec![
                (
                    0,
                    Prior::LogNormal {
                        mean: 0.0,
                        deviation: 0.5,
                    },
                ),
                (
                    4,
                    Prior::Normal {
                        mean: -1.4,
                        deviation: 0.5,
                    },
                ),
            ],
            parameters: 5,
        }
    }

    #[test]
    fn the_gradient_is_that_of_the_value() {
        let made = small();
        let at = [0.8, 0.3, 1.2, -0.4, -1.0];
        let (_, gradient) = made.value_and_gradient(&at).unwrap();
        for place in 0..5 {
            let moved = |width: f64| {
                let mut near = at;
                near[place] += width;
                made.value_and_gradient(&near).unwrap().0
            };
            let seen = (moved(1e-5) - moved(-1e-5)) / 2e-5;
            assert!((seen - gradient[place]).abs() < 1e-8, "{place}");
        }
    }

    #[test]
    fn the_curvature_is_that_of_the_gradient() {
        let made = small();
        let at = [0.8, 0.3, 1.2, -0.4, -1.0];
        let exact = made.observed_information(&at).unwrap();
        let seen = crate::scaling::maximise::by_differences(&made, &at).unwrap();
        for (one, other) in exact.iter().zip(&seen) {
            assert!((one - other).abs() < 1e-6, "{exact:?} {seen:?}");
        }
    }

    #[test]
    fn all_patterns_together_have_probability_one() {
        let mut made = small();
        let mut whole = 0.0;
        for (first, second) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
            made.patterns = vec![Pattern {
                count: 1.0,
                answers: vec![(0, first), (1, second)],
            }];
            whole += libm::exp(made.log_likelihood(&[0.8, 0.3, 1.2, -0.4, -1.0]).unwrap());
        }
        assert!((whole - 1.0).abs() < 1e-13);
    }

    #[test]
    fn a_negative_slope_is_outside_a_lognormal_prior() {
        assert!(
            small()
                .value_and_gradient(&[-0.1, 0.0, 1.0, 0.0, 0.0])
                .is_none()
        );
    }
}
