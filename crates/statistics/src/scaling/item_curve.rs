//! What a question's categories are worth at an ability: the curves of all item response models here.
//!
//! Sources: Rasch 1960; Birnbaum 1968, eq. 17.3.1 (logistic, with guessing 17.3.2); Lord 1952 (normal
//! ogive); Masters 1982, eq. 3 and Muraki 1992, eq. 4 (partial credit); Samejima 1969 (graded). No
//! factor 1.7 anywhere.

use crate::distribution::normal;
use crate::refusal::Refusal;

/// One question's curve; abilities and intercepts in logits (normal ogive: probits).
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ItemCurve {
    /// P(1) = g + (1 - g) logistic(a θ + d); Rasch with a = 1, g = 0.
    Logistic {
        /// a.
        slope: f64,
        /// d.
        intercept: f64,
        /// g, from 0 to below 1.
        guessing: f64,
    },
    /// P(1) = Φ(a θ + d).
    NormalOgive {
        /// a.
        slope: f64,
        /// d.
        intercept: f64,
    },
    /// log P(h)/P(h-1) = a θ + c(h), h from 1.
    PartialCredit {
        /// a; 1 in the partial credit model itself.
        slope: f64,
        /// c(1), c(2), ...
        intercepts: Vec<f64>,
    },
    /// P(X >= h) = logistic(a θ + d(h)), h from 1, d falling.
    Graded {
        /// a.
        slope: f64,
        /// d(1), d(2), ...
        intercepts: Vec<f64>,
    },
}

/// A category's probability at an ability, with its first and second derivative by ability.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CategoryAt {
    pub(crate) probability: f64,
    pub(crate) slope: f64,
    pub(crate) bend: f64,
}

/// 1 / (1 + e^-u).
pub(crate) fn logistic(u: f64) -> f64 {
    if u >= 0.0 {
        1.0 / (1.0 + libm::exp(-u))
    } else {
        let e = libm::exp(u);
        e / (1.0 + e)
    }
}

impl ItemCurve {
    /// The curve of a Rasch question.
    #[must_use]
    pub const fn rasch(difficulty: f64) -> Self {
        Self::Logistic {
            slope: 1.0,
            intercept: -difficulty,
            guessing: 0.0,
        }
    }

    /// Number of categories, 0 included.
    #[must_use]
    pub fn categories(&self) -> usize {
        match self {
            Self::Logistic { .. } | Self::NormalOgive { .. } => 2,
            Self::PartialCredit { intercepts, .. } | Self::Graded { intercepts, .. } => {
                intercepts.len() + 1
            }
        }
    }

    /// Probability of each category at an ability.
    #[must_use]
    pub fn probabilities(&self, ability: f64) -> Vec<f64> {
        self.at(ability).iter().map(|at| at.probability).collect()
    }

    /// Expected score at an ability.
    #[must_use]
    pub fn expected_score(&self, ability: f64) -> f64 {
        self.at(ability)
            .iter()
            .enumerate()
            .map(|(score, at)| score as f64 * at.probability)
            .sum()
    }

    /// Fisher's information about ability, the sum of P'²/P over categories (Samejima 1969, eq. 6-6).
    #[must_use]
    pub fn information(&self, ability: f64) -> f64 {
        self.at(ability)
            .iter()
            .filter(|at| at.probability > 0.0)
            .map(|at| at.slope * at.slope / at.probability)
            .sum()
    }

    /// Refuses parameters that make no curve.
    ///
    /// # Errors
    /// `Refusal::OutOfRange` for what is not finite, guessing not from 0 to below 1, no thresholds, or
    /// graded intercepts that do not fall.
    pub fn check(&self) -> Result<(), Refusal> {
        let out = |of: &'static str, value: f64, allowed: &'static str| {
            Err(Refusal::OutOfRange { of, value, allowed })
        };
        let (slope, intercepts): (f64, &[f64]) = match self {
            Self::Logistic {
                slope,
                intercept,
                guessing,
            } => {
                if !(0.0..1.0).contains(guessing) {
                    return out("guessing", *guessing, "from 0 to below 1");
                }
                (*slope, std::slice::from_ref(intercept))
            }
            Self::NormalOgive { slope, intercept } => (*slope, std::slice::from_ref(intercept)),
            Self::PartialCredit { slope, intercepts } => (*slope, intercepts),
            Self::Graded { slope, intercepts } => {
                if intercepts.windows(2).any(|pair| pair[0] <= pair[1]) {
                    return out(
                        "an intercept",
                        slope.abs(),
                        "falling from category to category",
                    );
                }
                (*slope, intercepts)
            }
        };
        if !slope.is_finite() {
            return out("slope", slope, "a finite number");
        }
        if intercepts.is_empty() {
            return out("number of thresholds", 0.0, "at least 1");
        }
        match intercepts.iter().find(|value| !value.is_finite()) {
            Some(value) => out("an intercept", *value, "a finite number"),
            None => Ok(()),
        }
    }

    /// The categories at an ability, with derivatives.
    pub(crate) fn at(&self, ability: f64) -> Vec<CategoryAt> {
        match self {
            Self::Logistic {
                slope,
                intercept,
                guessing,
            } => {
                let u = slope * ability + intercept;
                let (right, wrong) = (logistic(u), logistic(-u));
                let room = 1.0 - guessing;
                let first = room * slope * right * wrong;
                let second = first * slope * (wrong - right);
                two(guessing + room * right, room * wrong, first, second)
            }
            Self::NormalOgive { slope, intercept } => {
                let u = slope * ability + intercept;
                let first = slope * normal::density(u);
                two(
                    normal::lower_tail(u),
                    normal::upper_tail(u),
                    first,
                    -slope * u * first,
                )
            }
            Self::PartialCredit { slope, intercepts } => {
                let probabilities = adjacent(slope * ability, intercepts);
                let mean: f64 = scored(&probabilities);
                let spread: f64 = probabilities
                    .iter()
                    .enumerate()
                    .map(|(h, p)| p * (h as f64 - mean) * (h as f64 - mean))
                    .sum();
                probabilities
                    .iter()
                    .enumerate()
                    .map(|(h, p)| {
                        let above = h as f64 - mean;
                        CategoryAt {
                            probability: *p,
                            slope: slope * p * above,
                            bend: slope * slope * p * (above * above - spread),
                        }
                    })
                    .collect()
            }
            Self::Graded { slope, intercepts } => {
                // At least h: 1 for h = 0, nothing above the last; each with its derivatives.
                let step = |d: Option<&f64>, end: f64| {
                    d.map_or((end, 0.0, 0.0), |d| {
                        let u = slope * ability + d;
                        let (f, rest) = (logistic(u), logistic(-u));
                        let first = slope * f * rest;
                        (f, first, first * slope * (rest - f))
                    })
                };
                (0..=intercepts.len())
                    .map(|h| {
                        let here = step(h.checked_sub(1).and_then(|h| intercepts.get(h)), 1.0);
                        let next = step(intercepts.get(h), 0.0);
                        CategoryAt {
                            probability: graded(slope * ability, intercepts, h),
                            slope: here.1 - next.1,
                            bend: here.2 - next.2,
                        }
                    })
                    .collect()
            }
        }
    }
}

fn two(right: f64, wrong: f64, first: f64, second: f64) -> Vec<CategoryAt> {
    let category = |probability, sign: f64| CategoryAt {
        probability,
        slope: sign * first,
        bend: sign * second,
    };
    vec![category(wrong, -1.0), category(right, 1.0)]
}

fn scored(probabilities: &[f64]) -> f64 {
    probabilities
        .iter()
        .enumerate()
        .map(|(h, p)| h as f64 * p)
        .sum()
}

/// Probabilities whose neighbouring log ratios are `pull` + c(h).
pub(crate) fn adjacent(pull: f64, intercepts: &[f64]) -> Vec<f64> {
    let mut logs = vec![0.0];
    let mut log = 0.0;
    for intercept in intercepts {
        log += pull + intercept;
        logs.push(log);
    }
    let highest = logs
        .iter()
        .fold(f64::NEG_INFINITY, |top, log| top.max(*log));
    let weights: Vec<f64> = logs.iter().map(|log| libm::exp(log - highest)).collect();
    let whole: f64 = weights.iter().sum();
    weights.iter().map(|weight| weight / whole).collect()
}

/// Probability of category h when at least h has probability logistic(`pull` + d(h)); written as a
/// product, because the difference of two near ones loses its digits.
pub(crate) fn graded(pull: f64, intercepts: &[f64], h: usize) -> f64 {
    let here = h.checked_sub(1).and_then(|place| intercepts.get(place));
    match (here, intercepts.get(h)) {
        (None, None) => 1.0,
        (None, Some(next)) => logistic(-(pull + next)),
        (Some(here), None) => logistic(pull + here),
        (Some(here), Some(next)) => {
            logistic(pull + here) * logistic(-(pull + next)) * -libm::expm1(next - here)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn curves() -> Vec<ItemCurve> {
        vec![
            ItemCurve::rasch(0.4),
            ItemCurve::Logistic {
                slope: 1.3,
                intercept: -0.5,
                guessing: 0.2,
            },
            ItemCurve::NormalOgive {
                slope: 0.8,
                intercept: 0.3,
            },
            ItemCurve::PartialCredit {
                slope: 1.2,
                intercepts: vec![0.7, -0.2, -1.0],
            },
            ItemCurve::Graded {
                slope: 1.5,
                intercepts: vec![2.0, 0.5, -1.0],
            },
        ]
    }

    #[test]
    fn probabilities_sum_to_one_and_derivatives_are_those_of_the_curve() {
        for curve in curves() {
            assert_eq!(curve.check(), Ok(()));
            for ability in [-3.0, -0.4, 0.0, 1.7] {
                let here = curve.at(ability);
                let whole: f64 = here.iter().map(|at| at.probability).sum();
                assert!((whole - 1.0).abs() < 1e-14, "{curve:?}");
                let width = 1e-5;
                let (above, below) = (curve.at(ability + width), curve.at(ability - width));
                for (h, at) in here.iter().enumerate() {
                    let slope = (above[h].probability - below[h].probability) / (2.0 * width);
                    let bend = (above[h].slope - below[h].slope) / (2.0 * width);
                    assert!((slope - at.slope).abs() < 1e-9, "{curve:?} {ability} {h}");
                    assert!((bend - at.bend).abs() < 1e-9, "{curve:?} {ability} {h}");
                }
            }
        }
    }

    #[test]
    fn information_of_a_rasch_question_is_its_variance() {
        assert!((ItemCurve::rasch(0.0).information(0.0) - 0.25).abs() < 1e-15);
        let far = ItemCurve::rasch(0.0).information(900.0);
        assert_eq!(far, 0.0);
    }

    #[test]
    fn parameters_that_make_no_curve_are_refused() {
        let guess = ItemCurve::Logistic {
            slope: 1.0,
            intercept: 0.0,
            guessing: 1.0,
        };
        let rising = ItemCurve::Graded {
            slope: 1.0,
            intercepts: vec![0.0, 1.0],
        };
        assert!(guess.check().is_err() && rising.check().is_err());
        assert!(ItemCurve::rasch(f64::NAN).check().is_err());
    }
}
