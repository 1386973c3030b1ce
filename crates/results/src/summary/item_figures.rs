//! What each question and each sample did: mean credit with n and interval.

use std::collections::BTreeMap;

use base::{Marks, QuestionId, SampleId};
use exam_plan::Exam;
use grader::{Award, Item};
use question_bank::Bank;
use serde::Serialize;
use statistics::descriptive::proportion::proportion;
use statistics::descriptive::summary::mean_interval;

use super::{CONFIDENCE, Figure, refused, share_in_words};
use crate::script::Script;

/// What one question did.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QuestionFigure {
    /// Which.
    pub question: QuestionId,
    /// Its stem, shortened.
    pub stem: String,
    /// Whether it counted; pretest questions do not.
    pub counts: bool,
    /// How many answers wait for a person.
    pub waiting: usize,
    /// How many left it empty.
    pub empty: usize,
    /// Mean share of the marks (the p-value of test theory, for whole or partial credit).
    pub credit: Figure,
}

/// What one sample did.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SampleFigure {
    /// Which.
    pub sample: SampleId,
    /// The name on the bottle.
    pub name: String,
    /// Mean share of the marks of a glass, extra credit left out.
    pub credit: Figure,
    /// The same for each thing asked, in the order of the plan.
    pub by_asked: Vec<AskedFigure>,
}

/// What one thing asked of one sample did.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AskedFigure {
    /// What was asked.
    pub asked: String,
    /// Mean share of the marks.
    pub credit: Figure,
}

/// Each question, in order of its id.
pub(super) fn questions(bank: &Bank, present: &[&Script<'_>]) -> Vec<QuestionFigure> {
    let mut by_question: BTreeMap<&QuestionId, Vec<&Award>> = BTreeMap::new();
    for award in present.iter().flat_map(|script| &script.awards) {
        if let Item::Theory { question, .. } = &award.item {
            by_question.entry(question).or_default().push(award);
        }
    }
    by_question
        .into_iter()
        .map(|(question, awards)| QuestionFigure {
            question: question.clone(),
            stem: bank
                .questions
                .get(question)
                .map_or_else(String::new, |known| {
                    base::walk::shortened(known.kind.stem())
                }),
            counts: awards.iter().any(|award| award.counts),
            waiting: awards.iter().filter(|award| award.outcome.waits()).count(),
            empty: awards
                .iter()
                .filter(|award| award.answer.trim().is_empty())
                .count(),
            credit: mean_credit(&awards.iter().map(|a| (a.marks(), a.of)).collect::<Vec<_>>()),
        })
        .collect()
}

/// Each sample, in the order of the plan.
pub(super) fn samples(exam: &Exam, present: &[&Script<'_>]) -> Vec<SampleFigure> {
    let Some(tasting) = &exam.plan.tasting else {
        return Vec::new();
    };
    tasting
        .samples
        .iter()
        .map(|(wanted, _)| {
            let mut glasses = Vec::new();
            let mut by_asked: BTreeMap<&str, Vec<(Marks, Marks)>> = BTreeMap::new();
            for script in present {
                let mut glass = (Marks::ZERO, Marks::ZERO);
                for award in &script.awards {
                    let Item::Tasting { sample, asked, .. } = &award.item else {
                        continue;
                    };
                    if sample != wanted {
                        continue;
                    }
                    by_asked
                        .entry(asked)
                        .or_default()
                        .push((award.marks(), award.of));
                    if award.counts && !award.extra {
                        glass = (glass.0 + award.marks(), glass.1 + award.of);
                    }
                }
                if glass.1 > Marks::ZERO {
                    glasses.push(glass);
                }
            }
            let by_asked = tasting.ask.iter().filter_map(|question| {
                let asked = question.asked.name();
                Some(AskedFigure {
                    asked: asked.to_owned(),
                    credit: mean_credit(by_asked.get(asked)?),
                })
            });
            SampleFigure {
                sample: wanted.clone(),
                name: exam
                    .sample(wanted)
                    .map_or_else(String::new, |s| s.name.clone()),
                credit: mean_credit(&glasses),
                by_asked: by_asked.collect(),
            }
        })
        .collect()
}

/// Mean share of the marks: a proportion where every answer is all or nothing, else a mean.
fn mean_credit(marks: &[(Marks, Marks)]) -> Figure {
    let n = marks.len();
    let full = marks.iter().filter(|(have, of)| have == of).count();
    let whole = marks
        .iter()
        .all(|(have, of)| have == of || *have == Marks::ZERO);
    if whole {
        return match proportion(full, n, CONFIDENCE) {
            Ok(made) => Figure {
                n,
                value: Ok(made.share),
                interval: Ok(made.interval),
                sentence: format!(
                    "{full} of {n} right ({}; 95 % interval {} to {}).",
                    share_in_words(made.share),
                    share_in_words(made.interval.lower),
                    share_in_words(made.interval.upper)
                ),
            },
            Err(refusal) => refused(n, "No answers", refusal),
        };
    }
    let credits: Vec<f64> = marks
        .iter()
        .map(|(have, of)| have.fraction_of(*of))
        .collect();
    let mean = credits.iter().sum::<f64>() / n as f64;
    // A mean of shares lies between 0 and 1, and so do the limits that are shown.
    let interval = mean_interval(&credits, CONFIDENCE).map(|limits| statistics::Interval {
        lower: limits.lower.max(0.0),
        upper: limits.upper.min(1.0),
        ..limits
    });
    let sentence = match interval {
        Ok(limits) => format!(
            "Mean credit {} (n = {n}; 95 % interval {} to {}).",
            share_in_words(mean),
            share_in_words(limits.lower),
            share_in_words(limits.upper)
        ),
        Err(refusal) => format!(
            "Mean credit {} (n = {n}; interval: {refusal}).",
            share_in_words(mean)
        ),
    };
    Figure {
        n,
        value: Ok(mean),
        interval,
        sentence,
    }
}
