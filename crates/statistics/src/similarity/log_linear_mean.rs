//! A mean count as a log-linear function of one number, by Poisson likelihood.
//!
//! Source: McCullagh & Nelder 1989, ch. 6; means need not be whole, the likelihood equations are the
//! same. Newton's steps.

use crate::refusal::Refusal;
use crate::small_system::{solve, weighted_products};
use crate::sums::sum;

/// Steps after which the search is given up.
const STEPS: usize = 200;

/// Coefficients of ln mean = first + second × x.
pub(crate) fn log_linear_mean(x: &[f64], means: &[f64]) -> Result<[f64; 2], Refusal> {
    const AWAY: Refusal = Refusal::NotDefined {
        of: "the log-linear regression",
        because: "nobody shares a wrong choice, or all have as many wrong answers",
    };
    let columns = [vec![1.0; x.len()], x.to_vec()];
    let level = sum(means.iter().copied()) / means.len().max(1) as f64;
    if level.is_nan() || level <= 0.0 {
        return Err(AWAY);
    }
    let mut line = [libm::log(level), 0.0];
    for _ in 0..STEPS {
        let [first, second] = line;
        let fitted: Vec<f64> = x.iter().map(|x| libm::exp(first + second * x)).collect();
        let residuals: Vec<f64> = means.iter().zip(&fitted).map(|(y, m)| y - m).collect();
        let (information, _) = weighted_products(&columns, &fitted, &residuals);
        let score: Vec<f64> = columns
            .iter()
            .map(|column| sum(column.iter().zip(&residuals).map(|(x, r)| x * r)))
            .collect();
        let step = solve(&information, &score).ok_or(AWAY)?;
        let mut settled = true;
        for (coefficient, step) in line.iter_mut().zip(&step) {
            *coefficient += step;
            settled &= step.abs() < 1e-13 * (1.0 + coefficient.abs());
        }
        if settled {
            return Ok(line);
        }
    }
    Err(Refusal::NotSettled {
        of: "the log-linear regression",
        steps: STEPS,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn means_on_the_curve_give_the_curve() {
        let x = [0.0, 1.0, 2.0, 4.0];
        let means = x.map(|x| libm::exp(0.3 - 0.25 * x));
        let [first, second] = log_linear_mean(&x, &means).unwrap();
        assert!((first - 0.3).abs() < 1e-12 && (second + 0.25).abs() < 1e-12);
        assert!(log_linear_mean(&x, &[0.0; 4]).is_err());
        assert!(log_linear_mean(&[2.0; 3], &[1.0, 2.0, 3.0]).is_err());
    }
}
