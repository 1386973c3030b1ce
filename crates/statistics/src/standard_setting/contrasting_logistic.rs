//! At which score is a candidate as likely competent as not, by logistic regression?
//!
//! Sources: Livingston & Zieky 1989; Cizek & Bunch 2007: log odds of "judged competent" on score,
//! cut at −b₀/b₁. Invalid: groups that do not overlap (refused); judgements made with the score in
//! view; a falling line (refused). No interval here; resample. Missing: left out before.

use crate::refusal::Refusal;
use crate::standard_setting::logistic_fit::logistic_fit;

/// The logistic cut.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct ContrastingLogistic {
    /// Score at which both are equally likely.
    pub cut: f64,
    /// Log odds at score 0.
    pub intercept: f64,
    /// Log odds per mark.
    pub slope: f64,
    /// Number of candidates.
    pub n: usize,
}

/// The logistic cut.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::TooFew`, `Refusal::NoVariance`, `Refusal::NotDefined`.
pub fn contrasting_logistic(
    scores: &[f64],
    competent: &[bool],
) -> Result<ContrastingLogistic, Refusal> {
    let fit = logistic_fit(scores, competent)?;
    if fit.slope <= 0.0 {
        return Err(Refusal::NotDefined {
            of: "the logistic cut",
            because: "those judged competent do not score higher",
        });
    }
    Ok(ContrastingLogistic {
        cut: -fit.intercept / fit.slope,
        intercept: fit.intercept,
        slope: fit.slope,
        n: scores.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn lies_in_the_middle_of_mirrored_groups() {
        let scores = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0];
        let made = contrasting_logistic(&scores, &[false, false, true, false, true, true]).unwrap();
        assert!((made.cut - 3.5).abs() < 1e-10, "{made:?}");
        assert!(contrasting_logistic(&scores, &[true, true, false, true, false, false]).is_err());
    }
}
