//! How much of the spread of marks belongs to the candidates, and how much to the markers?
//!
//! Sources: Shrout & Fleiss 1979, the six forms from the mean squares of rows (MSR), columns (MSC),
//! error (MSE) and within rows (MSW); limits by F, for ICC(2,1) with Satterthwaite's degrees of
//! freedom (McGraw & Wong 1996, table 7). Limits of ICC(2,k) are not given: published practice
//! differs. Which form: 1 when every candidate had other markers; 2 when these markers stand for
//! all; 3 when only these markers count and a common severity does not matter. "k" forms are for the
//! mean of all markers. Invalid: marks far from normal, few candidates (see the interval). Missing:
//! rows with a gap are dropped and counted.

use crate::agreement::rating_table::RatingTable;
use crate::distribution::f;
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::{RunningSum, mean, squares_about_mean, sum};

/// The mean squares of a table.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct MeanSquares {
    /// Between rows (candidates), MSR.
    pub rows: f64,
    /// Between columns (markers), MSC.
    pub columns: f64,
    /// What is left, MSE.
    pub error: f64,
    /// Within rows, MSW.
    pub within: f64,
}

/// One form with its limits.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct IntraclassForm {
    /// The coefficient; it can be negative.
    pub value: f64,
    /// Its limits.
    pub interval: Interval,
}

/// The six forms.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct IntraclassCorrelation {
    /// ICC(1,1): other markers for each candidate, one marker.
    pub one_way_single: IntraclassForm,
    /// ICC(2,1): markers as a sample, one marker.
    pub random_single: IntraclassForm,
    /// ICC(3,1): just these markers, one marker.
    pub fixed_single: IntraclassForm,
    /// ICC(1,k): as the first, mean of all markers.
    pub one_way_mean: IntraclassForm,
    /// ICC(2,k): as the second, mean of all markers; without limits.
    pub random_mean: f64,
    /// ICC(3,k): as the third, mean of all markers; equals coefficient alpha of the markers.
    pub fixed_mean: IntraclassForm,
    /// The mean squares.
    pub mean_squares: MeanSquares,
    /// Candidates marked by everybody.
    pub subjects: usize,
    /// Candidates dropped for a gap.
    pub dropped: usize,
    /// Number of markers.
    pub raters: usize,
}

/// The mean squares of a complete table.
///
/// # Errors
/// `Refusal::TooFew` below two rows or two columns.
pub fn mean_squares(scores: &ScoreTable) -> Result<MeanSquares, Refusal> {
    let (persons, raters) = (scores.persons(), scores.items());
    at_least(
        2,
        persons,
        "subjects rated by everybody",
        "a variance needs two",
    )?;
    at_least(2, raters, "raters", "agreement needs two")?;
    let (n, k) = (persons as f64, raters as f64);
    let mut row_means = Vec::with_capacity(persons);
    let mut column_sums = vec![RunningSum::default(); raters];
    for row in scores.rows() {
        row_means.push(sum(row.iter().copied()) / k);
        for (running, score) in column_sums.iter_mut().zip(row) {
            running.take(*score);
        }
    }
    let column_means: Vec<f64> = column_sums.iter().map(|sum| sum.total() / n).collect();
    let grand = mean(&row_means)?;
    let (mut within, mut error) = (RunningSum::default(), RunningSum::default());
    for (row, middle) in scores.rows().zip(&row_means) {
        for (score, column) in row.iter().zip(&column_means) {
            let from_row = score - middle;
            within.take(from_row * from_row);
            let left_over = from_row - column + grand;
            error.take(left_over * left_over);
        }
    }
    Ok(MeanSquares {
        rows: k * squares_about_mean(&row_means)? / (n - 1.0),
        columns: n * squares_about_mean(&column_means)? / (k - 1.0),
        error: error.total() / ((n - 1.0) * (k - 1.0)),
        within: within.total() / (n * (k - 1.0)),
    })
}

/// The six forms of the intraclass correlation.
///
/// # Errors
/// `Refusal::TooFew`; `Refusal::NoVariance` when markers agree exactly or candidates do not differ.
pub fn intraclass_correlation(
    ratings: &RatingTable,
    confidence: Confidence,
) -> Result<IntraclassCorrelation, Refusal> {
    let scores = ratings.complete_rows()?;
    let squares = mean_squares(&scores)?;
    if squares.error <= 0.0 || squares.within <= 0.0 {
        return Err(Refusal::NoVariance {
            of: "differences between raters",
        });
    }
    if squares.rows <= 0.0 {
        return Err(Refusal::NoVariance { of: "subjects" });
    }
    let MeanSquares {
        rows,
        columns,
        error,
        within,
    } = squares;
    let (n, k) = (scores.persons() as f64, scores.items() as f64);
    let one_way = ratio_limits(rows / within, n - 1.0, n * (k - 1.0), confidence);
    let fixed = ratio_limits(rows / error, n - 1.0, (n - 1.0) * (k - 1.0), confidence);
    let single = |ratio: f64| (ratio - 1.0) / (ratio + k - 1.0);
    let of_mean = |ratio: f64| 1.0 - 1.0 / ratio;
    let form = |limits: RatioLimits, figure: &dyn Fn(f64) -> f64| IntraclassForm {
        value: figure(limits.ratio),
        interval: Interval {
            lower: figure(limits.lower),
            upper: figure(limits.upper),
            confidence,
            method: IntervalMethod::MeanSquareRatio,
        },
    };
    let random = (rows - error) / (rows + (k - 1.0) * error + k * (columns - error) / n);
    Ok(IntraclassCorrelation {
        one_way_single: form(one_way, &single),
        random_single: IntraclassForm {
            value: random,
            interval: random_limits(squares, random, n, k, confidence),
        },
        fixed_single: form(fixed, &single),
        one_way_mean: form(one_way, &of_mean),
        random_mean: (rows - error) / (rows + (columns - error) / n),
        fixed_mean: form(fixed, &of_mean),
        mean_squares: squares,
        subjects: scores.persons(),
        dropped: ratings.subjects() - scores.persons(),
        raters: scores.items(),
    })
}

/// An observed ratio of mean squares with the limits of the true one.
#[derive(Clone, Copy)]
struct RatioLimits {
    ratio: f64,
    lower: f64,
    upper: f64,
}

fn ratio_limits(ratio: f64, above: f64, below: f64, confidence: Confidence) -> RatioLimits {
    let tail = confidence.each_tail();
    RatioLimits {
        ratio,
        lower: ratio / f::quantile_of_upper_tail(tail, above, below),
        upper: ratio * f::quantile_of_upper_tail(tail, below, above),
    }
}

/// McGraw & Wong 1996, table 7, ICC(A,1), with Satterthwaite's degrees of freedom.
fn random_limits(
    squares: MeanSquares,
    icc: f64,
    n: f64,
    k: f64,
    confidence: Confidence,
) -> Interval {
    let MeanSquares {
        rows,
        columns,
        error,
        within: _,
    } = squares;
    let a = k * icc / (n * (1.0 - icc));
    let b = 1.0 + k * icc * (n - 1.0) / (n * (1.0 - icc));
    let mixed = a * columns + b * error;
    let freedom = mixed * mixed
        / ((a * columns) * (a * columns) / (k - 1.0)
            + (b * error) * (b * error) / ((n - 1.0) * (k - 1.0)));
    let tail = confidence.each_tail();
    let high = f::quantile_of_upper_tail(tail, n - 1.0, freedom);
    let low = f::quantile_of_upper_tail(tail, freedom, n - 1.0);
    let others = k * columns + (k * n - k - n) * error;
    Interval {
        lower: n * (rows - high * error) / (high * others + n * rows),
        upper: n * (low * rows - error) / (others + n * low * rows),
        confidence,
        method: IntervalMethod::Satterthwaite,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::reliability::cronbach_alpha::cronbach_alpha;

    #[test]
    fn the_fixed_mean_form_is_alpha_of_the_markers() {
        let rows = [
            [9.0, 7.0, 8.0],
            [6.0, 5.0, 4.0],
            [8.0, 8.0, 6.0],
            [7.0, 6.0, 5.0],
        ];
        let ratings = RatingTable::new(
            rows.iter()
                .map(|row| row.iter().map(|v| Some(*v)).collect::<Vec<_>>()),
        )
        .unwrap();
        let made = intraclass_correlation(&ratings, Confidence::P95).unwrap();
        let alpha = cronbach_alpha(&ScoreTable::new(&rows).unwrap(), Confidence::P95).unwrap();
        assert!((made.fixed_mean.value - alpha.alpha).abs() < 1e-13);
        // Feldt's interval is the same ratio of mean squares.
        assert!((made.fixed_mean.interval.lower - alpha.interval.lower).abs() < 1e-12);
        assert!((made.fixed_mean.interval.upper - alpha.interval.upper).abs() < 1e-12);
    }

    #[test]
    fn exact_agreement_leaves_nothing_to_divide_by() {
        let rows = vec![vec![Some(1.0), Some(1.0)], vec![Some(2.0), Some(2.0)]];
        let ratings = RatingTable::new(rows).unwrap();
        assert!(matches!(
            intraclass_correlation(&ratings, Confidence::P95),
            Err(Refusal::NoVariance { .. })
        ));
    }
}
