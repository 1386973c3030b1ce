//! Which cut is a compromise between the cuts and the failing rates that judges find acceptable?
//!
//! Source: Hofstee 1983; de Gruijter 1985: the line from (lowest acceptable cut, highest acceptable
//! failing rate) to (highest cut, lowest rate), judges' means, meets the curve of the share who score
//! below a cut, straight between whole scores. Invalid: where line and curve do not meet (refused:
//! the judges' wishes cannot be had together with these scores). No interval; resample candidates.

use crate::halving::last_place;
use crate::refusal::{Refusal, at_least};
use crate::sums::mean;

/// What one judge finds acceptable, in per cent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HofsteeJudgement {
    /// Lowest acceptable cut, per cent of the marks.
    pub lowest_cut: f64,
    /// Highest acceptable cut.
    pub highest_cut: f64,
    /// Lowest acceptable failing rate, per cent of the candidates.
    pub lowest_fail: f64,
    /// Highest acceptable failing rate.
    pub highest_fail: f64,
}

/// Hofstee's cut.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct HofsteeCut {
    /// In marks.
    pub cut: f64,
    /// In per cent of the marks.
    pub cut_percent: f64,
    /// Failing rate there, per cent.
    pub fail_percent: f64,
    /// Number of candidates.
    pub n: usize,
    /// Number of judges.
    pub judges: usize,
}

/// Hofstee's cut for whole scores out of `maximum`.
///
/// # Errors
/// `Refusal::TooFew`, `Refusal::OutOfRange` for per cents outside 0 to 100 or no marks to be had,
/// `Refusal::NotDefined` where line and curve do not meet.
pub fn hofstee(
    judgements: &[HofsteeJudgement],
    scores: &[f64],
    maximum: u32,
) -> Result<HofsteeCut, Refusal> {
    at_least(1, judgements.len(), "judges", "a mean needs one")?;
    at_least(1, scores.len(), "candidates", "a failing rate needs one")?;
    at_least(1, maximum as usize, "marks to be had", "a cut needs one")?;
    let average = |of: &dyn Fn(&HofsteeJudgement) -> f64| -> Result<f64, Refusal> {
        let values: Vec<f64> = judgements.iter().map(of).collect();
        if let Some(value) = values.iter().find(|value| !(0.0..=100.0).contains(*value)) {
            return Err(Refusal::OutOfRange {
                of: "acceptable per cent",
                value: *value,
                allowed: "0 to 100",
            });
        }
        mean(&values)
    };
    let to_marks = f64::from(maximum) / 100.0;
    let lowest_cut = average(&|judge| judge.lowest_cut)? * to_marks;
    let highest_cut = average(&|judge| judge.highest_cut)? * to_marks;
    let lowest_fail = average(&|judge| judge.lowest_fail)?;
    let highest_fail = average(&|judge| judge.highest_fail)?;
    if lowest_cut >= highest_cut {
        return Err(Refusal::NotDefined {
            of: "Hofstee's cut",
            because: "the lowest acceptable cut is not below the highest",
        });
    }
    let n = scores.len() as f64;
    let failing_at = |cut: f64| {
        let below = scores.iter().filter(|score| **score < cut).count();
        100.0 * below as f64 / n
    };
    let failing = |cut: f64| {
        let whole = cut.floor();
        let (low, high) = (failing_at(whole), failing_at(whole + 1.0));
        low + (cut - whole) * (high - low)
    };
    let line = |cut: f64| {
        highest_fail
            + (cut - lowest_cut) / (highest_cut - lowest_cut) * (lowest_fail - highest_fail)
    };
    // The curve rises and the line does not: their difference passes 0 at most once.
    let excess = |cut: f64| failing(cut) - line(cut);
    if excess(lowest_cut) > 0.0 || excess(highest_cut) < 0.0 {
        return Err(Refusal::NotDefined {
            of: "Hofstee's cut",
            because: "the line of acceptable cuts and failing rates does not meet the scores",
        });
    }
    let cut = last_place(|cut| excess(cut) < 0.0, lowest_cut, highest_cut);
    Ok(HofsteeCut {
        cut,
        cut_percent: cut / to_marks,
        fail_percent: line(cut),
        n: scores.len(),
        judges: judgements.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    const JUDGE: HofsteeJudgement = HofsteeJudgement {
        lowest_cut: 40.0,
        highest_cut: 80.0,
        lowest_fail: 0.0,
        highest_fail: 80.0,
    };

    #[test]
    fn meets_an_even_spread_where_the_line_does() {
        // Scores 0 to 9 once each: below cut c are 10 c per cent; the line falls 80 to 0 over 4 to 8.
        let scores: Vec<f64> = (0..10).map(f64::from).collect();
        let made = hofstee(&[JUDGE], &scores, 10).unwrap();
        assert!((made.cut - 160.0 / 30.0).abs() < 1e-10, "{made:?}");
        assert!((made.fail_percent - 160.0 / 3.0).abs() < 1e-9);
    }

    #[test]
    fn wishes_that_cannot_be_had_are_refused() {
        assert!(matches!(
            hofstee(&[JUDGE], &[1.0, 1.0], 10),
            Err(Refusal::NotDefined { .. })
        ));
    }
}
