//! A cut that a person names, as the share of full marks that the analysis takes.

use results::analysis::{Answer, CandidateAnswers, Responses};

use super::PassMark;
use crate::failure::Failure;

/// The share of full marks that a cut stands for, in every part.
///
/// # Errors
/// When marks are named and do not stand for one share: where there is more than one part, where
/// candidates were asked for unlike full marks, or where more is named than can be had.
pub(super) fn share_of(mark: PassMark, parts: &[&Responses]) -> Result<f64, Failure> {
    let marks = match mark {
        PassMark::Percent(percent) => return Ok(percent / 100.0),
        PassMark::Marks(marks) => marks,
    };
    let refused = |what: String| Failure::Refused {
        what,
        hint: "give the cut as a per cent of full marks, such as --cut 60%".to_owned(),
    };
    let [part] = parts else {
        return Err(refused(format!(
            "a cut of {marks} marks stands for no one part: there are {}",
            parts.len()
        )));
    };
    let mut full: Vec<f64> = part
        .candidates
        .iter()
        .map(|candidate| asked_for(part, candidate))
        .filter(|full| *full > 0.0)
        .collect();
    full.sort_by(f64::total_cmp);
    // Sums of the same marks in another order may differ in their last digits.
    full.dedup_by(|one, other| (*one - *other).abs() < 1e-6);
    match full.as_slice() {
        [] => Err(refused(
            "no candidate was asked a question that counts".to_owned(),
        )),
        [full] if marks > *full + 1e-6 => Err(refused(format!(
            "a cut of {marks} marks lies above the {full} that can be had"
        ))),
        [full] => Ok((marks / full).min(1.0)),
        [least, .., most] => Err(refused(format!(
            "a cut of {marks} marks is no one share: candidates were asked for {least} to {most} marks"
        ))),
    }
}

/// Full marks of the counted questions that were put to a candidate.
fn asked_for(part: &Responses, candidate: &CandidateAnswers) -> f64 {
    let answers = candidate.answers.iter();
    part.questions
        .iter()
        .zip(answers)
        .filter(|(question, answer)| question.counts && **answer != Answer::NotAsked)
        .map(|(question, _)| question.full)
        .sum()
}
