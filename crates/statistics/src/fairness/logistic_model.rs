//! Logistic regression on several columns by Newton's steps, with its deviance.
//!
//! Source: McCullagh & Nelder 1989, ch. 2 and 4. Separated answers have no finite coefficients; the
//! steps then run away and the fit is refused, never returned half done.

use crate::refusal::Refusal;
use crate::small_system::{solve, weighted_products};
use crate::sums::sum;

/// Steps after which the search is given up; a fit that exists needs about ten.
const STEPS: usize = 60;

/// A fitted model.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LogisticModel {
    pub(crate) coefficients: Vec<f64>,
    /// −2 ln likelihood.
    pub(crate) deviance: f64,
}

/// Fits the log odds of `right` on the columns; a column of ones must be among them.
pub(crate) fn logistic_model(
    columns: &[Vec<f64>],
    right: &[bool],
) -> Result<LogisticModel, Refusal> {
    const SEPARATED: Refusal = Refusal::NotDefined {
        of: "the logistic regression",
        because: "score and group separate right from wrong answers, or do not vary by themselves",
    };
    let mut coefficients = vec![0.0; columns.len()];
    for _ in 0..STEPS {
        let odds = log_odds(columns, &coefficients, right.len());
        let fitted: Vec<f64> = odds.iter().map(|odds| probability(*odds)).collect();
        let weights: Vec<f64> = odds
            .iter()
            .map(|odds| probability(*odds) * probability(-odds))
            .collect();
        let residuals: Vec<f64> = right
            .iter()
            .zip(&fitted)
            .map(|(right, p)| f64::from(u8::from(*right)) - p)
            .collect();
        let (information, _) = weighted_products(columns, &weights, &residuals);
        let score: Vec<f64> = columns
            .iter()
            .map(|column| sum(column.iter().zip(&residuals).map(|(x, r)| x * r)))
            .collect();
        let step = solve(&information, &score).ok_or(SEPARATED)?;
        let mut settled = true;
        for (coefficient, step) in coefficients.iter_mut().zip(&step) {
            *coefficient += step;
            settled &= step.abs() < 1e-10 * (1.0 + coefficient.abs());
        }
        if settled {
            let odds = log_odds(columns, &coefficients, right.len());
            let deviance = 2.0
                * sum(right.iter().zip(&odds).map(|(right, odds)| {
                    // −ln P of what was answered, without 1 − P.
                    softplus(if *right { -odds } else { *odds })
                }));
            return Ok(LogisticModel {
                coefficients,
                deviance,
            });
        }
    }
    Err(SEPARATED)
}

fn log_odds(columns: &[Vec<f64>], coefficients: &[f64], rows: usize) -> Vec<f64> {
    let mut odds = vec![0.0; rows];
    for (column, coefficient) in columns.iter().zip(coefficients) {
        for (odds, x) in odds.iter_mut().zip(column) {
            *odds += coefficient * x;
        }
    }
    odds
}

fn probability(log_odds: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-log_odds))
}

/// ln(1 + eˣ), without overflow.
fn softplus(x: f64) -> f64 {
    x.max(0.0) + libm::log1p(libm::exp(-x.abs()))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn two_groups_give_the_observed_odds() {
        let ones = vec![1.0; 8];
        let group = vec![0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0];
        let right = [true, false, false, false, true, true, true, false];
        let made = logistic_model(&[ones, group], &right).unwrap();
        let expected = [-libm::log(3.0), 2.0 * libm::log(3.0)];
        for (one, other) in made.coefficients.iter().zip(expected) {
            assert!((one - other).abs() < 1e-12);
        }
        let deviance = -2.0 * (2.0 * libm::log(0.25) + 6.0 * libm::log(0.75));
        assert!((made.deviance - deviance).abs() < 1e-12);
    }

    #[test]
    fn separation_is_refused() {
        let columns = [vec![1.0; 6], vec![1.0, 2.0, 3.0, 4.0, 5.0, 6.0]];
        let made = logistic_model(&columns, &[false, false, false, true, true, true]);
        assert!(matches!(made, Err(Refusal::NotDefined { .. })));
        let same = [vec![1.0; 4], vec![2.0; 4]];
        assert!(logistic_model(&same, &[true, false, true, false]).is_err());
    }
}
