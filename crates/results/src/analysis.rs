//! What a table of answers tells: scores, questions worst first, options, scale, markers, samples.
//!
//! Candidates who gave no answer at all are left out. An answer left out, or not reached, earns
//! nothing; a question that was not put to a candidate takes no part.

mod alike;
mod by_model;
mod finding;
mod further;
mod group_fairness;
mod marker_severity;
mod option_groups;
mod pass_mark;
mod pooled_difficulty;
mod question_analysis;
mod reliability_by_set;
mod responses;
mod sample_words;
mod scale;
mod score_bars;
mod short_time;
mod smallest;
mod verdict;

pub use alike::{AlikePair, Alikeness, PairsFrom, SideBySide, alikeness};
pub use by_model::{ByModel, CandidateByModel, QuestionByModel, ScaleModel, by_model};
pub use finding::Finding;
pub use further::{FurtherFigure, PartOfTotal, marker_shares, parts_together};
pub use group_fairness::{GroupComparison, GroupFairness, QuestionBetweenGroups, group_fairness};
pub use marker_severity::{MarkedScript, MarkerFigures, MarkerSeverity, marker_severity};
pub use option_groups::OptionGroups;
pub use pass_mark::PassMarkFigures;
pub use pooled_difficulty::PooledQuestion;
pub use question_analysis::{OptionFigures, QuestionAnalysis};
pub use reliability_by_set::SetReliability;
pub use responses::{Answer, AskedQuestion, CandidateAnswers, Responses};
pub use sample_words::{SampleWord, SampleWords, sample_words};
pub use scale::{QuestionOnScale, Scale, ScaleAt};
pub use score_bars::{ScoreBar, ScoreBars};
pub use smallest::{NEEDS, Need, SmallestNumber};

use serde::Serialize;
use statistics::Confidence;
use statistics::items::speededness::Speededness;

/// The level of every interval of an analysis.
pub const LEVEL: Confidence = Confidence::P95;

/// What one table of answers tells.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Analysis {
    /// Whose answers: `theory`, `tasting`, or a table's name.
    pub what: String,
    /// Candidates with at least one answer.
    pub n: usize,
    /// Candidates left out because they gave none.
    pub without_answers: usize,
    /// Sittings that were pooled.
    pub sittings: Vec<String>,
    /// What to do first, in plain sentences.
    pub verdict: Vec<String>,
    /// Where the scores lie.
    pub scores: ScoreBars,
    /// Reliability of each set of questions that candidates had in common.
    pub reliability: Vec<SetReliability>,
    /// How far candidates came; none where nobody has a question that was not reached, or refused.
    pub speededness: Option<Speededness>,
    /// The cut and who lies near it; none where no cut is known.
    pub pass_mark: Option<PassMarkFigures>,
    /// The questions in the order of the table.
    pub questions: Vec<QuestionAnalysis>,
    /// Places of the questions with something to do about, worst first.
    pub worst_first: Vec<usize>,
    /// Difficulty drawn towards the others; with several sittings or few candidates the honest one.
    pub pooled: Result<Vec<PooledQuestion>, String>,
    /// Questions and candidates on one scale, or why not.
    pub scale: Result<Scale, String>,
    /// What else there is to know, each with what to make of it.
    pub further: Vec<FurtherFigure>,
    /// What was refused: which figure, why, and what would do instead.
    pub refused: Vec<String>,
}

/// Analyses answers; `pass_mark` is a share of the full marks.
#[must_use]
pub fn analyse(responses: &Responses, pass_mark: Option<f64>) -> Analysis {
    let (present, without_answers) = responses.with_answers();
    let sets = present.sets();
    let reliability = reliability_by_set::by_set(&present, &sets);
    let scores = score_bars::score_bars(&present, pass_mark, &reliability);
    let pass = pass_mark.map(|share| pass_mark::pass_mark(&present, share, &reliability));
    let questions = question_analysis::questions(&present);
    let worst_first = finding::worst_first(&questions);
    let pooled = pooled_difficulty::pooled(&present);
    let scale = scale::scale(&present, pass_mark);
    let mut further = further::further(&present, &sets, &reliability, pass_mark);
    if let Ok(scale) = &scale {
        further.extend(scale.checks.iter().cloned());
    }
    let mut refused = Vec::new();
    for set in &reliability {
        refused.extend(set.refused.iter().cloned());
    }
    if let Some(pass) = &pass {
        refused.extend(pass.refused.iter().cloned());
    }
    if let Err(why) = &pooled {
        refused.push(why.clone());
    }
    match &scale {
        Ok(scale) => refused.extend(scale.refused.iter().cloned()),
        Err(why) => refused.push(why.clone()),
    }
    let speededness = match short_time::short_time(&present, sets.first()) {
        Some(Ok(made)) => Some(made),
        Some(Err(why)) => {
            refused.push(why);
            None
        }
        None => None,
    };
    refused.extend(smallest::beyond(present.candidates.len()));
    refused.dedup();
    let mut made = Analysis {
        what: responses.what.clone(),
        n: present.candidates.len(),
        without_answers,
        sittings: present.sittings(),
        verdict: Vec::new(),
        scores,
        reliability,
        speededness,
        pass_mark: pass,
        questions,
        worst_first,
        pooled,
        scale,
        further,
        refused,
    };
    made.verdict = verdict::verdict(&made);
    made
}
