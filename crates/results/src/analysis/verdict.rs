//! The first lines of an analysis: what to do, in the order of its urgency.

use super::Analysis;
use super::finding::Finding;
use super::short_time;

pub(super) fn verdict(made: &Analysis) -> Vec<String> {
    let mut lines = Vec::new();
    if made.n == 0 {
        lines.push("Nobody answered anything: there is nothing to analyse.".to_owned());
        return lines;
    }
    let urgent: Vec<String> = made
        .worst_first
        .iter()
        .filter_map(|place| made.questions.get(*place))
        .filter(|question| {
            question.findings.iter().any(|finding| {
                matches!(
                    finding,
                    Finding::NobodyRight(_) | Finding::KeyInDoubt(_) | Finding::TurnsAround(_)
                )
            })
        })
        .map(|question| question.name.clone())
        .collect();
    if !urgent.is_empty() {
        lines.push(format!(
            "Look at {} before anything is released.",
            urgent.join(", ")
        ));
    }
    lines.push(made.scores.sentence.clone());
    if let Some(set) = made.reliability.first() {
        lines.push(set.sentence.clone());
    }
    lines.extend(made.speededness.as_ref().and_then(short_time::in_words));
    if let Some(pass) = &made.pass_mark {
        lines.push(pass.sentence.clone());
    }
    if made.n <= 25 {
        lines.push(format!(
            "{} candidates are few: the intervals are as much part of each figure as the figure itself.",
            made.n
        ));
    }
    lines
}
