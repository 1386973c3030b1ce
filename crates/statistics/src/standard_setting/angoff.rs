//! What would a just-passing candidate score, by the judges' estimates for each question?
//!
//! Sources: Angoff 1971: a judge's cut is the sum of their estimates, the cut the mean over judges;
//! standard error s/√J (Kane 1994; Brennan 1995); variance components of judges and questions, both
//! random, and standard errors for other judges with the same questions and for other judges and
//! other questions (Brennan & Lockwood 1980; Brennan 2001). A component below 0 is shown as it
//! falls and counts as 0 in the standard errors. Invalid: judges who spoke with each other between
//! rounds are not independent (the errors are then too small). Missing: refused by the table.

use crate::agreement::intraclass_correlation::mean_squares;
use crate::descriptive::summary::mean_interval;
use crate::interval::{Confidence, Interval};
use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::{Divisor, mean, sum, variance};

/// Angoff's cut.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct AngoffCut {
    /// The cut, in questions rightly answered.
    pub cut: f64,
    /// Interval over judges, Student's t.
    pub interval: Interval,
    /// Each judge's own cut.
    pub by_judge: Vec<f64>,
    /// Standard error over judges.
    pub standard_error: f64,
    /// Variance component of judges, on the scale of shares.
    pub judge_variance: f64,
    /// Variance component of questions.
    pub item_variance: f64,
    /// What is left.
    pub residual_variance: f64,
    /// Standard error for other judges with these questions, in marks.
    pub error_same_items: f64,
    /// Standard error for other judges and other questions, in marks.
    pub error_other_items: f64,
    /// Number of judges.
    pub judges: usize,
    /// Number of questions.
    pub items: usize,
}

/// Angoff's cut from estimates between 0 and 1, questions in rows and judges in columns.
///
/// # Errors
/// `Refusal::TooFew` below two judges or two questions, `Refusal::OutOfRange` for an estimate
/// outside 0 to 1.
pub fn angoff(estimates: &ScoreTable, confidence: Confidence) -> Result<AngoffCut, Refusal> {
    at_least(
        2,
        estimates.items(),
        "judges",
        "an error over judges needs two",
    )?;
    at_least(2, estimates.persons(), "questions", "a variance needs two")?;
    shares_only(estimates)?;
    let by_judge: Vec<f64> = estimates
        .item_columns()
        .iter()
        .map(|own| sum(own.iter().copied()))
        .collect();
    let squares = mean_squares(estimates)?;
    let (items, judges) = (estimates.persons() as f64, estimates.items() as f64);
    let judge_variance = (squares.columns - squares.error) / items;
    let item_variance = (squares.rows - squares.error) / judges;
    let residual = squares.error / (judges * items);
    let same = judge_variance.max(0.0) / judges + residual;
    let other = same + item_variance.max(0.0) / items;
    Ok(AngoffCut {
        cut: mean(&by_judge)?,
        interval: mean_interval(&by_judge, confidence)?,
        standard_error: (variance(&by_judge, Divisor::CountLessOne)? / judges).sqrt(),
        by_judge,
        judge_variance,
        item_variance,
        residual_variance: squares.error,
        error_same_items: items * same.sqrt(),
        error_other_items: items * other.sqrt(),
        judges: estimates.items(),
        items: estimates.persons(),
    })
}

/// Refuses an estimate that is no share.
pub(crate) fn shares_only(estimates: &ScoreTable) -> Result<(), Refusal> {
    let outside = |value: &&f64| !(0.0..=1.0).contains(*value);
    match estimates.rows().flatten().find(outside) {
        Some(value) => Err(Refusal::OutOfRange {
            of: "estimate",
            value: *value,
            allowed: "0 to 1",
        }),
        None => Ok(()),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn judges_of_one_mind_leave_no_error_among_them() {
        let table = ScoreTable::new(&[[0.5, 0.5], [0.9, 0.9], [0.4, 0.4]]).unwrap();
        let made = angoff(&table, Confidence::P95).unwrap();
        assert!((made.cut - 1.8).abs() < 1e-15);
        assert!(made.standard_error < 1e-12 && made.error_same_items < 1e-7);
        assert!(made.error_other_items > 0.1);
    }

    #[test]
    fn per_cent_instead_of_shares_is_refused() {
        let table = ScoreTable::new(&[[50.0, 60.0], [40.0, 30.0]]).unwrap();
        assert!(matches!(
            angoff(&table, Confidence::P95),
            Err(Refusal::OutOfRange { value: 50.0, .. })
        ));
    }
}
