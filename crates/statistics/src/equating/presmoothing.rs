//! Which smooth distribution keeps the moments of the counts?
//!
//! Source: Holland & Thayer 1987, 2000: log-linear model, ln of the expected count a polynomial of
//! the mark; a fit of degree d keeps the first d moments of the counts exactly. Fitted by Newton's
//! steps on polynomials made orthogonal, which changes nothing but the rounding. Invalid: counts
//! with structural gaps or teeth (a mark that cannot be reached). Refused: a degree that is not
//! below the number of marks reached. Smallest: as for what is done with it. Missing: left out.

use crate::equating::score_distribution::ScoreDistribution;
use crate::refusal::Refusal;
use crate::small_system::{solve, weighted_products};
use crate::sums::sum;

/// Steps after which the search is given up.
const STEPS: usize = 200;

/// A smoothed distribution.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Presmoothing {
    /// Expected counts.
    pub fitted: ScoreDistribution,
    /// Degree of the polynomial: how many moments are kept.
    pub degree: usize,
    /// Twice the distance in log likelihood from the counts themselves.
    pub likelihood_ratio: f64,
    /// Its degrees of freedom.
    pub degrees_of_freedom: usize,
    /// Akaike's criterion without its constant: the smaller, the better the degree.
    pub akaike: f64,
}

/// Smooths counts with a polynomial of the degree.
///
/// # Errors
/// `Refusal::TooFew` when no more marks are reached than the degree; `Refusal::NotSettled`;
/// `Refusal::NotDefined` when the fit runs away.
pub fn presmoothing(counts: &ScoreDistribution, degree: usize) -> Result<Presmoothing, Refusal> {
    let reached = counts.counts().iter().filter(|count| **count > 0.0).count();
    if reached <= degree + 1 {
        return Err(Refusal::TooFew {
            of: "marks that somebody reached",
            have: reached,
            need: degree + 2,
            reason: "a polynomial of the degree would only repeat the counts",
        });
    }
    let columns = orthogonal_polynomials(counts.counts().len(), degree);
    let fitted = fit(&columns, counts.counts())?;
    let likelihood_ratio = 2.0
        * sum(counts.counts().iter().zip(&fitted).map(|(count, mean)| {
            let rest = mean - count;
            if *count > 0.0 {
                count * libm::log(count / mean) + rest
            } else {
                rest
            }
        }));
    Ok(Presmoothing {
        fitted: ScoreDistribution::new(fitted)?,
        degree,
        likelihood_ratio,
        degrees_of_freedom: counts.counts().len() - degree - 1,
        akaike: likelihood_ratio + 2.0 * (degree as f64 + 1.0),
    })
}

/// Polynomials of degree 0 to `degree` on equally spaced places, each of length 1 and at right
/// angles to those before it.
fn orthogonal_polynomials(places: usize, degree: usize) -> Vec<Vec<f64>> {
    let middle = (places as f64 - 1.0) / 2.0;
    let at: Vec<f64> = (0..places)
        .map(|place| (place as f64 - middle) / middle)
        .collect();
    let mut columns: Vec<Vec<f64>> = Vec::with_capacity(degree + 1);
    for _ in 0..=degree {
        let mut next: Vec<f64> = match columns.last() {
            Some(last) => last.iter().zip(&at).map(|(value, x)| value * x).collect(),
            None => vec![1.0; places],
        };
        // Twice, so that what rounding left of the earlier ones goes as well.
        for _ in 0..2 {
            for column in &columns {
                let shared = sum(column.iter().zip(&next).map(|(a, b)| a * b));
                for (value, part) in next.iter_mut().zip(column) {
                    *value -= shared * part;
                }
            }
        }
        let length = sum(next.iter().map(|value| value * value)).sqrt();
        columns.push(next.iter().map(|value| value / length).collect());
    }
    columns
}

fn fit(columns: &[Vec<f64>], counts: &[f64]) -> Result<Vec<f64>, Refusal> {
    const AWAY: Refusal = Refusal::NotDefined {
        of: "the smoothed distribution",
        because: "the fit runs away: take a lower degree",
    };
    let expected = |coefficients: &[f64]| -> Vec<f64> {
        (0..counts.len())
            .map(|place| {
                libm::exp(sum(columns
                    .iter()
                    .zip(coefficients)
                    .map(|(column, c)| c * column.get(place).copied().unwrap_or(0.0))))
            })
            .collect()
    };
    let likelihood = |coefficients: &[f64]| -> f64 {
        let means = expected(coefficients);
        let logs = sum(counts
            .iter()
            .zip(&means)
            .filter(|(count, _)| **count > 0.0)
            .map(|(count, mean)| count * libm::log(*mean)));
        logs - sum(means.iter().copied())
    };
    let level = libm::log(sum(counts.iter().copied()) / counts.len() as f64);
    let mut coefficients = vec![0.0; columns.len()];
    if let Some(first) = coefficients.first_mut() {
        *first = level * (counts.len() as f64).sqrt();
    }
    let mut reached = likelihood(&coefficients);
    for _ in 0..STEPS {
        let means = expected(&coefficients);
        let residuals: Vec<f64> = counts.iter().zip(&means).map(|(c, m)| c - m).collect();
        let (information, _) = weighted_products(columns, &means, &residuals);
        let score: Vec<f64> = columns
            .iter()
            .map(|column| sum(column.iter().zip(&residuals).map(|(x, r)| x * r)))
            .collect();
        let step = solve(&information, &score).ok_or(AWAY)?;
        let settled = step
            .iter()
            .zip(&coefficients)
            .all(|(step, c)| step.abs() < 1e-11 * (1.0 + c.abs()));
        let mut share = 1.0;
        let moved = loop {
            let moved: Vec<f64> = coefficients
                .iter()
                .zip(&step)
                .map(|(c, step)| c + share * step)
                .collect();
            let now = likelihood(&moved);
            if settled || now >= reached - 1e-9 * reached.abs() {
                reached = now;
                break moved;
            }
            share /= 2.0;
            if share < 1e-12 {
                return Err(AWAY);
            }
        };
        coefficients = moved;
        if settled {
            return Ok(expected(&coefficients));
        }
    }
    Err(Refusal::NotSettled {
        of: "the smoothed distribution",
        steps: STEPS,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_moments_are_kept_and_a_higher_degree_fits_better() {
        let counts =
            ScoreDistribution::new(vec![0.0, 1.0, 3.0, 2.0, 8.0, 7.0, 9.0, 3.0, 1.0]).unwrap();
        let made = presmoothing(&counts, 3).unwrap();
        assert!((made.fitted.n() - counts.n()).abs() < 1e-9);
        assert!((made.fitted.mean() - counts.mean()).abs() < 1e-9);
        assert!((made.fitted.variance() - counts.variance()).abs() < 1e-9);
        assert!((made.fitted.skewness() - counts.skewness()).abs() < 1e-9);
        let coarse = presmoothing(&counts, 2).unwrap();
        assert!(coarse.likelihood_ratio >= made.likelihood_ratio);
        assert_eq!(made.degrees_of_freedom, 5);
    }

    #[test]
    fn a_degree_that_repeats_the_counts_is_refused() {
        let counts = ScoreDistribution::new(vec![2.0, 0.0, 3.0, 0.0, 4.0]).unwrap();
        assert!(matches!(
            presmoothing(&counts, 2),
            Err(Refusal::TooFew { need: 4, .. })
        ));
    }
}
