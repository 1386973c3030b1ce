//! What each question did: how many earned its marks, who, and with which option.

use serde::Serialize;
use statistics::descriptive::correlation_interval::{Correlation, correlation};
use statistics::items::biserial_correlation::{Biserial, biserial_correlation};
use statistics::items::difficulty::{Difficulty, difficulty};
use statistics::items::option_table::option_table;
use statistics::items::upper_lower_groups::upper_lower_groups;
use statistics::{Refusal, ScoreTable};

use super::LEVEL;
use super::finding::{self, Finding};
use super::option_groups::{OptionGroups, option_groups};
use super::responses::{Answer, Responses};
use super::smallest::Need;

/// One question.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QuestionAnalysis {
    /// Its name.
    pub name: String,
    /// Its stem, shortened.
    pub stem: String,
    /// Whether it counts.
    pub counts: bool,
    /// Candidates who were asked.
    pub n: usize,
    /// Of these, how many left it out.
    pub omitted: usize,
    /// How many did not reach it.
    pub not_reached: usize,
    /// Share of its marks that was earned.
    pub difficulty: Result<Difficulty, Refusal>,
    /// Correlation with the share of marks on the other questions.
    pub with_rest: Result<Correlation, Refusal>,
    /// The same as if the question were not cut into right and wrong; none where it has part marks.
    pub biserial: Option<Result<Biserial, Refusal>>,
    /// Share earned by the upper 27 per cent less that of the lower.
    pub upper_lower: Result<f64, Refusal>,
    /// The options, in the order of the table.
    pub options: Vec<OptionFigures>,
    /// Options by groups of candidates; none where n does not carry it or there are no options.
    pub groups: Option<OptionGroups>,
    /// What to do about it, worst first.
    pub findings: Vec<Finding>,
}

/// One option.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OptionFigures {
    /// The option.
    pub option: String,
    /// Whether it is right.
    pub key: bool,
    /// How many chose it.
    pub chosen: usize,
    /// Correlation of choosing it with the rest of the test.
    pub with_rest: Result<Correlation, Refusal>,
    /// Mean share of all marks of those who chose it.
    pub mean_share: Result<f64, Refusal>,
}

pub(super) fn questions(responses: &Responses) -> Vec<QuestionAnalysis> {
    (0..responses.questions.len())
        .filter_map(|place| question(responses, place))
        .collect()
}

fn question(responses: &Responses, place: usize) -> Option<QuestionAnalysis> {
    let asked = responses.questions.get(place)?;
    let (mut marks, mut rest, mut whole, mut choices) =
        (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let (mut omitted, mut not_reached) = (0, 0);
    for candidate in &responses.candidates {
        let Some(answer) = candidate.answers.get(place) else {
            continue;
        };
        let option = match answer {
            Answer::NotAsked => continue,
            Answer::Omitted => {
                omitted += 1;
                None
            }
            Answer::NotReached => {
                not_reached += 1;
                None
            }
            Answer::Given { option, .. } => *option,
        };
        marks.push(answer.marks().unwrap_or(0.0));
        rest.push(responses.total(candidate, Some(place)).share());
        whole.push(responses.total(candidate, None).share());
        choices.push(option);
    }
    let n = marks.len();
    let groups = option_groups(asked, &choices, &marks, &rest);
    let mut made = QuestionAnalysis {
        name: asked.name.clone(),
        stem: asked.stem.clone(),
        counts: asked.counts,
        n,
        omitted,
        not_reached,
        difficulty: difficulty(&marks, asked.full, LEVEL),
        with_rest: discrimination(&marks, &rest),
        biserial: biserial(&marks, asked.full, &rest),
        upper_lower: upper_lower(&marks, asked.full, &whole),
        options: options(responses, place, &choices, &rest, &whole),
        groups,
        findings: Vec::new(),
    };
    made.findings = finding::findings(&made, asked);
    Some(made)
}

/// So few candidates tell nothing of a question's going with the rest: asked for by all figures of it.
fn enough(candidates: usize) -> Result<(), Refusal> {
    let row = Need::Discrimination.row();
    if candidates < row.least {
        return Err(Refusal::TooFew {
            of: "candidates",
            have: candidates,
            need: row.least,
            reason: row.source,
        });
    }
    Ok(())
}

fn discrimination(marks: &[f64], rest: &[f64]) -> Result<Correlation, Refusal> {
    enough(marks.len())?;
    correlation(marks, rest, LEVEL)
}

/// The biserial correlation with the rest, of a question marked right or wrong.
fn biserial(marks: &[f64], full: f64, rest: &[f64]) -> Option<Result<Biserial, Refusal>> {
    let right: Option<Vec<bool>> = marks
        .iter()
        .map(|mark| match *mark {
            mark if mark == full => Some(true),
            0.0 => Some(false),
            _ => None,
        })
        .collect();
    let right = right?;
    Some(enough(marks.len()).and_then(|()| biserial_correlation(&right, rest)))
}

/// See [`upper_lower`].
const GRID: f64 = 1_099_511_627_776.0;

/// D in shares of the question's marks, by the share of all marks.
fn upper_lower(marks: &[f64], full: f64, whole: &[f64]) -> Result<f64, Refusal> {
    enough(marks.len())?;
    let rows: Vec<[f64; 2]> = marks
        .iter()
        .zip(whole)
        .map(|(mark, share)| {
            // On a grid of 2⁻⁴⁰ sums are exact, so that equal totals stay ties.
            let on_grid = |value: f64| (value * GRID).round() / GRID;
            let mark = on_grid(mark / full);
            [mark, on_grid(*share) - mark]
        })
        .collect();
    let made = upper_lower_groups(&ScoreTable::new(&rows)?)?;
    made.differences
        .first()
        .copied()
        .ok_or(Refusal::NotDefined {
            of: "the difference of upper and lower group",
            because: "there is no question",
        })
}

fn options(
    responses: &Responses,
    place: usize,
    choices: &[Option<usize>],
    rest: &[f64],
    whole: &[f64],
) -> Vec<OptionFigures> {
    let Some(asked) = responses.questions.get(place) else {
        return Vec::new();
    };
    let Ok(table) = option_table(choices, asked.options.len(), rest, whole, LEVEL) else {
        return Vec::new();
    };
    asked
        .options
        .iter()
        .zip(table.options)
        .enumerate()
        .map(|(option, (name, row))| OptionFigures {
            option: name.clone(),
            key: asked.key == Some(option),
            chosen: row.chosen,
            with_rest: enough(choices.len()).and(row.with_rest),
            mean_share: row.mean_total,
        })
        .collect()
}
