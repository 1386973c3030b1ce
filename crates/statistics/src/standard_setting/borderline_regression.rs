//! Which score goes with the borderline grade, by all candidates' grades?
//!
//! Source: Kramer et al. 2003; Wood et al. 2006: least squares of score on grade, prediction at the
//! borderline grade; its standard error s √(1/n + (g−ḡ)²/S_gg), interval by Student's t with n−2.
//! Invalid: grades that are not a scale of equal steps; grades given with the score in view.
//! Missing: candidates without a grade are left out before.

use crate::distribution::student_t;
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::refusal::{Refusal, at_least};
use crate::sums::{mean, products_about_means, squares_about_mean, sum};

/// The regression cut.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct BorderlineRegression {
    /// Predicted score at the borderline grade.
    pub cut: f64,
    /// Standard error of that prediction.
    pub standard_error: f64,
    /// Its interval.
    pub interval: Interval,
    /// Marks per grade.
    pub slope: f64,
    /// Share of the spread of scores that grades explain.
    pub explained: f64,
    /// Residual standard deviation, divisor n − 2.
    pub residual: f64,
    /// Number of candidates.
    pub n: usize,
}

/// The cut at grade `borderline`.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::TooFew` below three candidates, `Refusal::NoVariance` when
/// all have one grade or one score.
pub fn borderline_regression(
    scores: &[f64],
    grades: &[f64],
    borderline: f64,
    confidence: Confidence,
) -> Result<BorderlineRegression, Refusal> {
    at_least(3, scores.len(), "candidates", "a residual needs n - 2")?;
    let together = products_about_means(scores, grades)?;
    let grade_squares = squares_about_mean(grades)?;
    let score_squares = squares_about_mean(scores)?;
    if grade_squares <= 0.0 {
        return Err(Refusal::NoVariance { of: "grades" });
    }
    if score_squares <= 0.0 {
        return Err(Refusal::NoVariance { of: "scores" });
    }
    let n = scores.len() as f64;
    let slope = together / grade_squares;
    let (score_mean, grade_mean) = (mean(scores)?, mean(grades)?);
    let left_over = sum(scores.iter().zip(grades).map(|(score, grade)| {
        let residual = score - score_mean - slope * (grade - grade_mean);
        residual * residual
    }));
    let residual = (left_over / (n - 2.0)).sqrt();
    let away = borderline - grade_mean;
    let cut = score_mean + slope * away;
    let standard_error = residual * (1.0 / n + away * away / grade_squares).sqrt();
    let reach = student_t::quantile_of_upper_tail(confidence.each_tail(), n - 2.0) * standard_error;
    Ok(BorderlineRegression {
        cut,
        standard_error,
        interval: Interval {
            lower: cut - reach,
            upper: cut + reach,
            confidence,
            method: IntervalMethod::StudentT,
        },
        slope,
        explained: 1.0 - left_over / score_squares,
        residual,
        n: scores.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn an_exact_line_has_no_error() {
        let grades = [1.0, 2.0, 3.0, 4.0];
        let scores = grades.map(|grade| 10.0 + 5.0 * grade);
        let made = borderline_regression(&scores, &grades, 2.5, Confidence::P95).unwrap();
        assert!((made.cut - 22.5).abs() < 1e-13 && made.standard_error < 1e-12);
        assert!((made.explained - 1.0).abs() < 1e-14);
        assert!(borderline_regression(&scores, &[2.0; 4], 2.0, Confidence::P95).is_err());
    }
}
