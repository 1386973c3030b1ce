//! What judges see between rounds: where each stands, where they differ, what each cut would do.

use serde::Serialize;
use statistics::ScoreTable;
use statistics::standard_setting::angoff::angoff;
use statistics::sums::{Divisor, mean, variance};

use super::LEVEL;
use super::setting::{Impact, Ratings, passing};

/// One judge.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JudgeFeedback {
    /// Who.
    pub judge: String,
    /// Their cut, in marks.
    pub cut: f64,
    /// Above the judges' mean (below: less than 0).
    pub from_mean: f64,
    /// Who would pass; none without scores.
    pub impact: Option<Impact>,
}

/// One question.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QuestionFeedback {
    /// Which.
    pub question: String,
    /// Mean estimate, 0 to 1.
    pub mean: f64,
    /// Standard deviation of the estimates.
    pub spread: f64,
    /// Lowest estimate, with who gave it first.
    pub lowest: (f64, String),
    /// Highest estimate.
    pub highest: (f64, String),
}

/// One round.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RoundFeedback {
    /// Its number, from 1.
    pub round: usize,
    /// The cut, in marks.
    pub cut: f64,
    /// Its standard error over judges.
    pub error: f64,
    /// The judges in their order.
    pub judges: Vec<JudgeFeedback>,
    /// The questions in their order.
    pub questions: Vec<QuestionFeedback>,
    /// Places of the questions on which they differ most, widest first.
    pub discuss: Vec<usize>,
}

/// How many questions are put up for discussion.
const DISCUSSED: usize = 5;

pub(super) fn round_feedback(
    round: usize,
    ratings: &Ratings,
    scores: &[f64],
) -> Result<RoundFeedback, String> {
    let told = |refusal: statistics::Refusal| format!("round {round}: {refusal}");
    let table = ScoreTable::new(&ratings.estimates).map_err(told)?;
    let made = angoff(&table, LEVEL).map_err(told)?;
    let judges = ratings
        .judges
        .iter()
        .zip(&made.by_judge)
        .map(|(judge, cut)| JudgeFeedback {
            judge: judge.clone(),
            cut: *cut,
            from_mean: cut - made.cut,
            impact: passing(format!("judge {judge}"), *cut, scores),
        })
        .collect();
    let mut questions = Vec::with_capacity(ratings.questions.len());
    for (question, row) in ratings.questions.iter().zip(&ratings.estimates) {
        let who = |wanted: f64| {
            let place = row.iter().position(|estimate| *estimate == wanted);
            let name = place.and_then(|place| ratings.judges.get(place));
            name.cloned().unwrap_or_default()
        };
        let lowest = row.iter().copied().fold(f64::INFINITY, f64::min);
        let highest = row.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        questions.push(QuestionFeedback {
            question: question.clone(),
            mean: mean(row).map_err(told)?,
            spread: variance(row, Divisor::CountLessOne).map_err(told)?.sqrt(),
            lowest: (lowest, who(lowest)),
            highest: (highest, who(highest)),
        });
    }
    let mut discuss: Vec<usize> = (0..questions.len())
        .filter(|place| questions.get(*place).is_some_and(|q| q.spread > 0.0))
        .collect();
    let spread = |place: &usize| {
        questions
            .get(*place)
            .map_or(0.0, |q: &QuestionFeedback| q.spread)
    };
    discuss.sort_by(|a, b| spread(b).total_cmp(&spread(a)).then(a.cmp(b)));
    discuss.truncate(DISCUSSED);
    Ok(RoundFeedback {
        round,
        cut: made.cut,
        error: made.standard_error,
        judges,
        questions,
        discuss,
    })
}
