//! Difficulty of each question with what the other questions did counted in, over all sittings.

use std::collections::BTreeMap;

use serde::Serialize;
use statistics::items::shrunken_difficulty::{RightOf, ShrunkenShare, shrunken_difficulty};

use super::LEVEL;
use super::responses::{Answer, Responses};
use super::smallest::Need;

/// One question over the sittings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PooledQuestion {
    /// Its name.
    pub name: String,
    /// Prior and data.
    pub share: ShrunkenShare,
    /// Share of right answers and number of answers in each sitting.
    pub by_sitting: Vec<(String, f64, usize)>,
    /// In words.
    pub sentence: String,
}

pub(super) fn pooled(responses: &Responses) -> Result<Vec<PooledQuestion>, String> {
    if let Some(why) = Need::Shrinkage.refused(responses.candidates.len()) {
        return Err(why);
    }
    let mut names = Vec::new();
    let mut data = Vec::new();
    let mut sittings = Vec::new();
    for (place, question) in responses.questions.iter().enumerate() {
        let mut by_sitting: BTreeMap<&str, RightOf> = BTreeMap::new();
        let mut whole = true;
        for candidate in &responses.candidates {
            let Some(marks) = candidate
                .answers
                .get(place)
                .copied()
                .and_then(Answer::marks)
            else {
                continue;
            };
            whole &= marks == 0.0 || marks == question.full;
            let of = by_sitting
                .entry(&candidate.sitting)
                .or_insert(RightOf { right: 0, n: 0 });
            of.n += 1;
            of.right += usize::from(marks == question.full);
        }
        let right = by_sitting.values().map(|of| of.right).sum();
        let n = by_sitting.values().map(|of| of.n).sum();
        // Part marks are no count of right answers, and a question nobody was asked has no share.
        if whole && n > 0 {
            names.push(question.name.clone());
            data.push(RightOf { right, n });
            sittings.push(
                by_sitting
                    .into_iter()
                    .map(|(name, of)| (name.to_owned(), of.right as f64 / of.n as f64, of.n))
                    .collect::<Vec<_>>(),
            );
        }
    }
    if data.is_empty() {
        return Err("No shrunken difficulties: no question is marked right or wrong. Instead: the mean share of the marks with its interval.".to_owned());
    }
    let made = shrunken_difficulty(&data, LEVEL).map_err(|refusal| {
        format!(
            "No shrunken difficulties: {refusal}. Instead: {}.",
            Need::Shrinkage.row().instead
        )
    })?;
    Ok(names
        .into_iter()
        .zip(made.questions)
        .zip(sittings)
        .map(|((name, share), by_sitting)| PooledQuestion {
            sentence: format!(
                "{name}: {:.0} % of {} answers right; with the other questions counted in \
                 (their mean {:.0} %, worth {:.0} answers) {:.0} %, 95 % limits {:.0} to {:.0} %.",
                share.observed * 100.0,
                share.n,
                made.prior_mean * 100.0,
                made.prior_answers,
                share.share * 100.0,
                share.lower * 100.0,
                share.upper * 100.0
            ),
            name,
            share,
            by_sitting,
        })
        .collect())
}
