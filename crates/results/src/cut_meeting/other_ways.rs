//! Ways of setting a cut besides Angoff's: what they take, and the cut with its error.

use std::collections::BTreeMap;

use base::Purpose;

use statistics::bootstrap::bootstrap;
use statistics::descriptive::summary::mean_interval;
use statistics::standard_setting::angoff_consistency::angoff_consistency;
use statistics::standard_setting::bookmark::bookmark;
use statistics::standard_setting::borderline_group::borderline_group;
use statistics::standard_setting::borderline_regression::borderline_regression;
use statistics::standard_setting::contrasting_fewest_errors::contrasting_fewest_errors;
use statistics::standard_setting::contrasting_logistic::contrasting_logistic;
use statistics::standard_setting::contrasting_normal::contrasting_normal;
use statistics::standard_setting::ebel::{EbelCell, ebel};
use statistics::standard_setting::hofstee::{HofsteeJudgement, hofstee};
use statistics::sums::{Divisor, mean, variance};
use statistics::{Refusal, ScoreTable};

use super::LEVEL;
use super::setting::CutSet;
use crate::resampling::Resampling;

/// A cell of relevance and difficulty as a judge filled it in.
#[derive(Debug, Clone, PartialEq)]
pub struct EbelRow {
    /// The judge; empty where all agreed on one share.
    pub judge: String,
    /// Questions in the cell.
    pub items: usize,
    /// The share of a just-passing candidate, 0 to 1.
    pub share: f64,
}

/// What a judge finds acceptable, in per cent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HofsteeRow {
    /// Lowest cut.
    pub lowest_cut: f64,
    /// Highest cut.
    pub highest_cut: f64,
    /// Lowest failing rate.
    pub lowest_fail: f64,
    /// Highest failing rate.
    pub highest_fail: f64,
}

/// Where a judge put the mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PageRow {
    /// The page, from 1.
    pub page: usize,
}

/// A candidate whose score, and perhaps whose judged standing, is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ScoredCandidate {
    /// Marks.
    pub score: f64,
    /// A grade given without sight of the score.
    pub grade: Option<f64>,
    /// Whether judged competent.
    pub competent: Option<bool>,
}

/// Resamples of candidates.
const RESAMPLES: usize = 1000;

pub(super) fn set(way: &'static str, cut: f64, highest: f64, n: usize, judges: bool) -> CutSet {
    CutSet {
        way,
        cut,
        highest,
        error: None,
        limits: None,
        error_says: String::new(),
        n,
        judges,
        rounds: Vec::new(),
        impact: Vec::new(),
        sentences: Vec::new(),
    }
}

/// The highest mark that was told, or seen.
pub(super) fn highest_of(scored: &[ScoredCandidate], told: Option<f64>) -> Result<f64, String> {
    let seen = scored.iter().map(|c| c.score).fold(0.0, f64::max);
    match told {
        Some(told) if told < seen => Err(format!(
            "a score of {seen} is above the highest mark of {told}"
        )),
        Some(told) => Ok(told),
        None => Err("the highest mark is not known: give it with --highest".to_owned()),
    }
}

pub(super) fn ebel_cut(rows: &[EbelRow]) -> Result<CutSet, String> {
    let mut by_judge: BTreeMap<&str, Vec<EbelCell>> = BTreeMap::new();
    for row in rows {
        by_judge.entry(&row.judge).or_default().push(EbelCell {
            items: row.items,
            borderline_share: row.share,
        });
    }
    let mut cuts = Vec::new();
    let mut items = None;
    for (judge, cells) in &by_judge {
        let made = ebel(cells).map_err(|r| r.to_string())?;
        if items.is_some_and(|items| items != made.items) {
            return Err(format!(
                "judge {judge} has {} questions in the cells, others another number",
                made.items
            ));
        }
        items = Some(made.items);
        cuts.push(made.cut);
    }
    let cut = mean(&cuts).map_err(|r| r.to_string())?;
    let mut made = set("Ebel", cut, items.unwrap_or(0) as f64, cuts.len(), true);
    if cuts.len() >= 2 {
        over_judges(&mut made, &cuts)?;
    } else {
        made.error_says = "One agreed set of shares has no spread, so no error can be given: let each judge fill in the cells alone (column judge).".to_owned();
    }
    Ok(made)
}

fn over_judges(made: &mut CutSet, cuts: &[f64]) -> Result<(), String> {
    let spread = variance(cuts, Divisor::CountLessOne).map_err(|r| r.to_string())?;
    let limits = mean_interval(cuts, LEVEL).map_err(|r| r.to_string())?;
    made.error = Some((spread / cuts.len() as f64).sqrt());
    made.limits = Some((limits.lower, limits.upper));
    made.error_says = "The error is over judges (Student's t).".to_owned();
    Ok(())
}

/// Fills in limits from resampled candidates, or says why there are none.
fn over_candidates(made: &mut CutSet, n: usize, figure: &dyn Fn(&[usize]) -> Result<f64, Refusal>) {
    let mut random = Resampling::new(Purpose::CandidateResample, 0);
    match bootstrap(n, RESAMPLES, LEVEL, &mut random, figure) {
        Ok(resampled) => {
            made.limits = Some((resampled.interval.lower, resampled.interval.upper));
            made.error_says =
                "The limits are percentiles of 1,000 resamples of the candidates; the judges' part of the error is not in them."
                    .to_owned();
        }
        Err(refusal) => made.error_says = format!("No error: {refusal}."),
    }
}

pub(super) fn hofstee_cut(
    rows: &[HofsteeRow],
    scores: &[f64],
    highest: Option<f64>,
) -> Result<CutSet, String> {
    let scored: Vec<ScoredCandidate> = scores
        .iter()
        .map(|score| ScoredCandidate {
            score: *score,
            grade: None,
            competent: None,
        })
        .collect();
    let highest = highest_of(&scored, highest)?;
    let judgements: Vec<HofsteeJudgement> = rows
        .iter()
        .map(|row| HofsteeJudgement {
            lowest_cut: row.lowest_cut,
            highest_cut: row.highest_cut,
            lowest_fail: row.lowest_fail,
            highest_fail: row.highest_fail,
        })
        .collect();
    let maximum = highest.round().clamp(0.0, 1e6) as u32;
    let made = hofstee(&judgements, scores, maximum).map_err(|r| r.to_string())?;
    let mut result = set("Hofstee", made.cut, highest, made.judges, true);
    result.sentences.push(format!(
        "At that cut {:.1} % of {} candidates fail, which the judges find acceptable together.",
        made.fail_percent, made.n
    ));
    over_candidates(&mut result, scores.len(), &|places| {
        let drawn: Vec<f64> = places
            .iter()
            .filter_map(|p| scores.get(*p).copied())
            .collect();
        hofstee(&judgements, &drawn, maximum).map(|made| made.cut)
    });
    Ok(result)
}

pub(super) fn bookmark_cut(
    pages: &[PageRow],
    difficulties: &[f64],
    response_probability: f64,
) -> Result<CutSet, String> {
    let pages: Vec<usize> = pages.iter().map(|row| row.page).collect();
    let made = bookmark(&pages, difficulties, response_probability).map_err(|r| r.to_string())?;
    let mut result = set(
        "Bookmark",
        made.total_at_median,
        made.items as f64,
        made.judges,
        true,
    );
    // Marks at one error to each side of the ability, since the judges' error is on that scale.
    let total = |ability: f64| -> f64 {
        difficulties
            .iter()
            .map(|b| 1.0 / (1.0 + libm::exp(b - ability)))
            .sum()
    };
    let low = total(made.median - 1.959_964 * made.standard_error);
    let high = total(made.median + 1.959_964 * made.standard_error);
    result.limits = Some((low, high));
    result.error = Some(
        (total(made.median + made.standard_error) - total(made.median - made.standard_error)) / 2.0,
    );
    result.error_says =
        "The error is over judges, on the scale of ability, carried over to marks.".to_owned();
    result.sentences.push(format!(
        "On the scale the median is {:.2} logits (mean {:.2}, standard error {:.2}; median of midpoints {:.2}), at a chance of {response_probability}. The cut moves with that chance.",
        made.median, made.mean, made.standard_error, made.median_of_midpoints
    ));
    Ok(result)
}

fn graded(scored: &[ScoredCandidate]) -> (Vec<f64>, Vec<f64>) {
    scored
        .iter()
        .filter_map(|candidate| Some((candidate.score, candidate.grade?)))
        .unzip()
}

pub(super) fn borderline_cut(
    scored: &[ScoredCandidate],
    grade: f64,
    highest: Option<f64>,
) -> Result<CutSet, String> {
    let highest = highest_of(scored, highest)?;
    let (scores, grades) = graded(scored);
    let own: Vec<f64> = scores
        .iter()
        .zip(&grades)
        .filter(|(_, g)| **g == grade)
        .map(|(score, _)| *score)
        .collect();
    let made = borderline_group(&own, LEVEL).map_err(|r| r.to_string())?;
    let mut result = set("borderline group", made.median, highest, made.n, false);
    result.error = Some(made.standard_error);
    over_candidates(&mut result, own.len(), &|places| {
        let drawn: Vec<f64> = places.iter().filter_map(|p| own.get(*p).copied()).collect();
        statistics::descriptive::quantile::median(&drawn)
    });
    result.sentences.push(format!(
        "The cut is their median; their mean is {:.2}, and the standard error is that of the mean.",
        made.mean
    ));
    Ok(result)
}

pub(super) fn regression_cut(
    scored: &[ScoredCandidate],
    grade: f64,
    highest: Option<f64>,
) -> Result<CutSet, String> {
    let highest = highest_of(scored, highest)?;
    let (scores, grades) = graded(scored);
    let made = borderline_regression(&scores, &grades, grade, LEVEL).map_err(|r| r.to_string())?;
    let mut result = set("borderline regression", made.cut, highest, made.n, false);
    result.error = Some(made.standard_error);
    result.limits = Some((made.interval.lower, made.interval.upper));
    result.error_says =
        "The error is that of the line at the borderline grade (Student's t).".to_owned();
    result.sentences.push(format!(
        "One grade is worth {:.2} marks; grades explain {:.0} % of the spread of scores.",
        made.slope,
        made.explained * 100.0
    ));
    Ok(result)
}

pub(super) fn contrasting_cut(
    scored: &[ScoredCandidate],
    highest: Option<f64>,
) -> Result<CutSet, String> {
    let highest = highest_of(scored, highest)?;
    let judged: Vec<(f64, bool)> = scored
        .iter()
        .filter_map(|candidate| Some((candidate.score, candidate.competent?)))
        .collect();
    let (scores, competent): (Vec<f64>, Vec<bool>) = judged.iter().copied().unzip();
    let made = contrasting_logistic(&scores, &competent).map_err(|r| r.to_string())?;
    let mut result = set("contrasting groups", made.cut, highest, made.n, false);
    over_candidates(&mut result, judged.len(), &|places| {
        let drawn: Vec<(f64, bool)> = places
            .iter()
            .filter_map(|p| judged.get(*p).copied())
            .collect();
        let (scores, competent): (Vec<f64>, Vec<bool>) = drawn.into_iter().unzip();
        contrasting_logistic(&scores, &competent).map(|made| made.cut)
    });
    let group = |wanted: bool| -> Vec<f64> {
        let own = judged.iter().filter(|(_, c)| *c == wanted);
        own.map(|(score, _)| *score).collect()
    };
    if let Ok(normal) = contrasting_normal(&group(false), &group(true)) {
        result.sentences.push(format!(
            "Where the curves of the two groups cross: {:.2}.",
            normal.cut
        ));
    }
    if let Ok(fewest) = contrasting_fewest_errors(&scores, &competent) {
        let cuts: Vec<String> = fewest.cuts.iter().map(ToString::to_string).collect();
        result.sentences.push(format!(
            "Whole cuts that contradict the fewest judgements ({}): {}.",
            fewest.errors,
            cuts.join(", ")
        ));
    }
    Ok(result)
}

/// Whether judges' estimates fit how hard the questions were, in sentences.
pub(super) fn consistency(
    estimates: &ScoreTable,
    judges: &[String],
    difficulties: &[f64],
) -> Vec<String> {
    match angoff_consistency(estimates, difficulties) {
        Ok(made) => judges
            .iter()
            .zip(&made.judges)
            .map(|(judge, fit)| {
                let r = match fit.correlation {
                    Ok(r) => format!("r = {r:.2}"),
                    Err(refusal) => format!("no correlation: {refusal}"),
                };
                format!(
                    "Judge {judge} against how hard the questions were: {r}, mean difference {:.3}.",
                    fit.mean_difference
                )
            })
            .collect(),
        Err(refusal) => vec![format!("No comparison with difficulties: {refusal}.")],
    }
}
