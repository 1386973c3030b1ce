//! The shape of a curve while it is being estimated: log probabilities and their derivatives by the
//! raw parameters (slope, intercepts, and for guessing its logit).

use super::item_curve::{adjacent, graded, logistic};
use crate::distribution::normal;

/// Which curve; the raw parameters are in the order slope, intercepts, logit of guessing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum CurveFamily {
    /// log P(h)/P(h-1) = a θ + c(h); with two categories the logistic curve.
    Adjacent,
    /// P(X >= h) = logistic(a θ + d(h)).
    Cumulative,
    /// P(1) = Φ(a θ + d).
    Ogive,
    /// P(1) = g + (1 - g) logistic(a θ + d).
    Guessed,
}

impl CurveFamily {
    /// Whether the raw parameters make a curve.
    pub(crate) fn allows(self, raw: &[f64]) -> bool {
        let falling = || {
            raw.get(1..)
                .is_some_and(|steps| steps.windows(2).all(|pair| pair[0] > pair[1]))
        };
        raw.iter().all(|value| value.is_finite())
            && match self {
                Self::Adjacent | Self::Ogive | Self::Guessed => true,
                Self::Cumulative => falling(),
            }
    }

    /// Log probability of each category at `z`, each followed by its derivatives by the raw
    /// parameters.
    pub(crate) fn log_probabilities(self, raw: &[f64], z: f64) -> Vec<(f64, Vec<f64>)> {
        let (slope, steps) = raw.split_first().unwrap_or((&0.0, &[]));
        match self {
            Self::Adjacent => adjacent_logs(slope * z, z, steps),
            Self::Cumulative => (0..=steps.len())
                .map(|h| graded_log(slope * z, z, steps, h))
                .collect(),
            Self::Ogive => {
                let u = slope * z + steps.first().unwrap_or(&0.0);
                let side = |u: f64, sign: f64| {
                    let p = normal::lower_tail(u).max(f64::MIN_POSITIVE);
                    let ratio = sign * normal::density(u) / p;
                    (libm::log(p), vec![ratio * z, ratio])
                };
                vec![side(-u, -1.0), side(u, 1.0)]
            }
            Self::Guessed => {
                let at = |place: usize| steps.get(place).copied().unwrap_or(0.0);
                let (u, g) = (slope * z + at(0), logistic(at(1)));
                let (right, wrong) = (logistic(u), logistic(-u));
                let keep = logistic(-at(1));
                let p = (g + keep * right).max(f64::MIN_POSITIVE);
                let q = (keep * wrong).max(f64::MIN_POSITIVE);
                let (by_u, by_g) = (keep * right * wrong, g * keep * wrong);
                let side = |p: f64, sign: f64| {
                    let by_u = sign * by_u / p;
                    (libm::log(p), vec![by_u * z, by_u, sign * by_g / p])
                };
                vec![side(q, -1.0), side(p, 1.0)]
            }
        }
    }
}

fn adjacent_logs(pull: f64, z: f64, steps: &[f64]) -> Vec<(f64, Vec<f64>)> {
    let probabilities = adjacent(pull, steps);
    // at_least[h]: probability of category h or higher.
    let mut at_least = probabilities.clone();
    for h in (1..at_least.len()).rev() {
        at_least[h - 1] += at_least[h];
    }
    let mean: f64 = at_least.iter().skip(1).sum();
    probabilities
        .iter()
        .enumerate()
        .map(|(h, p)| {
            let mut by = vec![z * (h as f64 - mean)];
            by.extend(
                at_least
                    .iter()
                    .enumerate()
                    .skip(1)
                    .map(|(t, share)| f64::from(u8::from(t <= h)) - share),
            );
            (libm::log(p.max(f64::MIN_POSITIVE)), by)
        })
        .collect()
}

fn graded_log(pull: f64, z: f64, steps: &[f64], h: usize) -> (f64, Vec<f64>) {
    let mut by = vec![0.0; steps.len() + 1];
    // d log P(h) / d d(h) = 1 - F(h) + e/(1 - e), with e = exp(d(h+1) - d(h)); and for d(h+1)
    // -F(h+1) - e/(1 - e): the derivatives of the product in `graded`.
    let here = h.checked_sub(1).and_then(|place| steps.get(place));
    let next = steps.get(h);
    let gap = match (here, next) {
        (Some(here), Some(next)) => 1.0 / libm::expm1(here - next),
        (None, _) | (_, None) => 0.0,
    };
    let mut along = 0.0;
    if let Some(here) = here {
        let rest = logistic(-(pull + here));
        by[h] = rest + gap;
        along += rest;
    }
    if let Some(next) = next {
        let passed = logistic(pull + next);
        by[h + 1] = -passed - gap;
        along -= passed;
    }
    by[0] = along * z;
    let p = graded(pull, steps, h).max(f64::MIN_POSITIVE);
    (libm::log(p), by)
}

#[cfg(test)]
mod tests {
    use super::super::item_curve::ItemCurve;
    use super::*;

    /// The finished curve.
    fn curve(family: CurveFamily, raw: &[f64]) -> ItemCurve {
        let at = |place: usize| raw.get(place).copied().unwrap_or(0.0);
        let intercepts = || raw.get(1..).unwrap_or_default().to_vec();
        match family {
            CurveFamily::Adjacent if raw.len() == 2 => ItemCurve::Logistic {
                slope: at(0),
                intercept: at(1),
                guessing: 0.0,
            },
            CurveFamily::Adjacent => ItemCurve::PartialCredit {
                slope: at(0),
                intercepts: intercepts(),
            },
            CurveFamily::Cumulative => ItemCurve::Graded {
                slope: at(0),
                intercepts: intercepts(),
            },
            CurveFamily::Ogive => ItemCurve::NormalOgive {
                slope: at(0),
                intercept: at(1),
            },
            CurveFamily::Guessed => ItemCurve::Logistic {
                slope: at(0),
                intercept: at(1),
                guessing: logistic(at(2)),
            },
        }
    }

    #[test]
    fn derivatives_are_those_of_the_logs_and_logs_those_of_the_curve() {
        let cases = [
            (CurveFamily::Adjacent, vec![1.2, 0.5]),
            (CurveFamily::Adjacent, vec![0.8, 0.5, -0.7, -0.1]),
            (CurveFamily::Cumulative, vec![1.1, 1.5, 0.2, -1.0]),
            (CurveFamily::Ogive, vec![0.7, -0.4]),
            (CurveFamily::Guessed, vec![1.4, -0.4, -1.3]),
        ];
        for (family, raw) in cases {
            for z in [-2.0, 0.3, 1.9] {
                let curve = curve(family, &raw).probabilities(z);
                for (h, (log, by)) in family.log_probabilities(&raw, z).iter().enumerate() {
                    assert!((libm::exp(*log) - curve[h]).abs() < 1e-14, "{family:?}");
                    assert_eq!(by.len(), raw.len());
                    for (place, derivative) in by.iter().enumerate() {
                        let moved = |width: f64| {
                            let mut raw = raw.clone();
                            raw[place] += width;
                            family.log_probabilities(&raw, z)[h].0
                        };
                        let seen = (moved(1e-5) - moved(-1e-5)) / 2e-5;
                        assert!((seen - derivative).abs() < 1e-8, "{family:?} {h} {place}");
                    }
                }
            }
        }
    }

    #[test]
    fn graded_steps_must_fall() {
        assert!(!CurveFamily::Cumulative.allows(&[1.0, 0.0, 0.0]));
        assert!(!CurveFamily::Adjacent.allows(&[f64::NAN, 0.0]));
    }
}
