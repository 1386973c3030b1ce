//! The cut by each way of setting one, always with its error or why there is none.

use serde::Serialize;
use statistics::ScoreTable;
use statistics::descriptive::proportion::{Proportion, proportion};
use statistics::standard_setting::angoff::angoff;

use super::LEVEL;
use super::class_and_levels;
use super::class_and_levels::BestOfClass;
use super::feedback::{RoundFeedback, round_feedback};
use super::other_ways;
use super::other_ways::{EbelRow, HofsteeRow, PageRow, ScoredCandidate};

/// One round of judges' estimates: questions in rows, judges in columns, shares from 0 to 1.
#[derive(Debug, Clone, PartialEq)]
pub struct Ratings {
    /// The questions.
    pub questions: Vec<String>,
    /// The judges.
    pub judges: Vec<String>,
    /// The estimates.
    pub estimates: Vec<Vec<f64>>,
}

/// What a cut is set by.
#[derive(Debug, Clone, PartialEq)]
pub enum SetBy {
    /// Estimates for each question, round by round; difficulties where they are known.
    Angoff {
        /// The rounds.
        rounds: Vec<Ratings>,
        /// Rasch difficulties in the order of the questions.
        difficulties: Option<Vec<f64>>,
    },
    /// Cells of relevance and difficulty.
    Ebel(Vec<EbelRow>),
    /// Acceptable cuts and failing rates.
    Hofstee(Vec<HofsteeRow>),
    /// Pages in a booklet from easy to hard.
    Bookmark {
        /// The pages.
        pages: Vec<PageRow>,
        /// Rasch difficulties.
        difficulties: Vec<f64>,
        /// Which chance of a right answer counts as mastery.
        response_probability: f64,
    },
    /// Scores of those called borderline.
    BorderlineGroup {
        /// The grade that means borderline.
        grade: f64,
    },
    /// The line from grades to scores.
    BorderlineRegression {
        /// The grade that means borderline.
        grade: f64,
    },
    /// Scores of the competent and the not competent.
    ContrastingGroups,
    /// The way from guessing to the best of the class.
    Cohen(BestOfClass),
    /// Questions matched to levels.
    Matching {
        /// The level of each question, judge by judge.
        placed: Ratings,
        /// Rasch difficulties in the order of the questions.
        difficulties: Vec<f64>,
        /// The level whose lower border is the cut.
        level: f64,
    },
}

impl SetBy {
    /// Its name in minutes.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Angoff { .. } => "Angoff",
            Self::Ebel(_) => "Ebel",
            Self::Hofstee(_) => "Hofstee",
            Self::Bookmark { .. } => "Bookmark",
            Self::BorderlineGroup { .. } => "borderline group",
            Self::BorderlineRegression { .. } => "borderline regression",
            Self::ContrastingGroups => "contrasting groups",
            Self::Cohen(_) => "Cohen's method",
            Self::Matching { .. } => "item-descriptor matching",
        }
    }
}

/// What a cut would do with scores.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Impact {
    /// Which cut: `the cut`, `one error below`, `judge B`.
    pub of: String,
    /// In marks.
    pub cut: f64,
    /// Who would pass.
    pub passes: Proportion,
}

/// A cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CutSet {
    /// By which way.
    pub way: &'static str,
    /// In marks.
    pub cut: f64,
    /// The highest mark.
    pub highest: f64,
    /// Its standard error in marks; none where the way has none, and `error_says` why.
    pub error: Option<f64>,
    /// 95 % limits in marks.
    pub limits: Option<(f64, f64)>,
    /// Where the error comes from, or why there is none.
    pub error_says: String,
    /// Judges, or candidates judged.
    pub n: usize,
    /// Whether `n` counts judges.
    pub judges: bool,
    /// The rounds, where there are some.
    pub rounds: Vec<RoundFeedback>,
    /// What the cut would do, where scores are known.
    pub impact: Vec<Impact>,
    /// More to know, in plain sentences.
    pub sentences: Vec<String>,
}

impl CutSet {
    /// The cut in per cent of the highest mark, to one decimal, rounded up: who reaches it reaches
    /// the judges' cut.
    #[must_use]
    pub fn plan_percent(&self) -> f64 {
        // A hair of rounding in the eleventh digit lifts nobody's cut by a tenth.
        ((self.cut / self.highest * 1000.0 - 1e-7).ceil() / 10.0).clamp(0.0, 100.0)
    }

    /// The first sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let who = if self.judges { "judges" } else { "candidates" };
        let error = match (self.error, self.limits) {
            (Some(error), Some((low, high))) => {
                format!("standard error {error:.2}, 95 % limits {low:.1} to {high:.1}")
            }
            (Some(error), None) => format!("standard error {error:.2}"),
            (None, Some((low, high))) => format!("95 % limits {low:.1} to {high:.1}"),
            (None, None) => "no error: see below".to_owned(),
        };
        format!(
            "The cut by {} is {:.2} of {} marks ({:.1} %); {error}; {} {who}. {}",
            self.way,
            self.cut,
            self.highest,
            self.cut / self.highest * 100.0,
            self.n,
            self.error_says
        )
    }
}

/// Feedback for each round of estimates.
///
/// # Errors
/// In a sentence, when a round has too few judges or questions.
pub fn angoff_rounds(rounds: &[Ratings], scores: &[f64]) -> Result<Vec<RoundFeedback>, String> {
    rounds
        .iter()
        .enumerate()
        .map(|(number, ratings)| round_feedback(number + 1, ratings, scores))
        .collect()
}

/// Sets a cut. `highest` is the highest mark where the ratings do not say it.
///
/// # Errors
/// In a sentence, when the numbers do not carry it.
pub fn set_cut(
    by: &SetBy,
    scored: &[ScoredCandidate],
    highest: Option<f64>,
) -> Result<CutSet, String> {
    let scores: Vec<f64> = scored.iter().map(|candidate| candidate.score).collect();
    let mut made = match by {
        SetBy::Angoff {
            rounds,
            difficulties,
        } => by_angoff(rounds, difficulties.as_deref(), &scores)?,
        SetBy::Ebel(rows) => other_ways::ebel_cut(rows)?,
        SetBy::Hofstee(rows) => other_ways::hofstee_cut(rows, &scores, highest)?,
        SetBy::Bookmark {
            pages,
            difficulties,
            response_probability,
        } => other_ways::bookmark_cut(pages, difficulties, *response_probability)?,
        SetBy::BorderlineGroup { grade } => other_ways::borderline_cut(scored, *grade, highest)?,
        SetBy::BorderlineRegression { grade } => {
            other_ways::regression_cut(scored, *grade, highest)?
        }
        SetBy::ContrastingGroups => other_ways::contrasting_cut(scored, highest)?,
        SetBy::Cohen(rule) => class_and_levels::best_of_class(scored, *rule, highest)?,
        SetBy::Matching {
            placed,
            difficulties,
            level,
        } => class_and_levels::matched_levels(placed, difficulties, *level)?,
    };
    made.impact = impact(&made, &scores);
    if made.impact.is_empty() {
        made.sentences.push(
            "No scores were given, so nobody saw how many would pass; give them with --scores."
                .to_owned(),
        );
    }
    Ok(made)
}

fn by_angoff(
    rounds: &[Ratings],
    difficulties: Option<&[f64]>,
    scores: &[f64],
) -> Result<CutSet, String> {
    let feedback = angoff_rounds(rounds, scores)?;
    let Some(last) = rounds.last() else {
        return Err("no round of estimates was given".to_owned());
    };
    let table = ScoreTable::new(&last.estimates).map_err(|r| r.to_string())?;
    let made = angoff(&table, LEVEL).map_err(|r| r.to_string())?;
    let mut sentences = vec![format!(
        "Other judges with these questions: standard error {:.2} marks; other judges and other such questions: {:.2}.",
        made.error_same_items, made.error_other_items
    )];
    if rounds.len() > 1 {
        sentences.push(
            "The judges spoke with each other between rounds: their estimates are no longer independent, and the true error is larger than the last round's."
                .to_owned(),
        );
    }
    if let Some(difficulties) = difficulties {
        sentences.extend(other_ways::consistency(&table, &last.judges, difficulties));
    }
    Ok(CutSet {
        way: "Angoff",
        cut: made.cut,
        highest: made.items as f64,
        error: Some(made.standard_error),
        limits: Some((made.interval.lower, made.interval.upper)),
        error_says: "The error is over judges (Student's t).".to_owned(),
        n: made.judges,
        judges: true,
        rounds: feedback,
        impact: Vec::new(),
        sentences,
    })
}

/// The share who reach a cut.
pub(super) fn passing(of: String, cut: f64, scores: &[f64]) -> Option<Impact> {
    let reach = scores.iter().filter(|score| **score >= cut - 1e-9).count();
    Some(Impact {
        of,
        cut,
        passes: proportion(reach, scores.len(), LEVEL).ok()?,
    })
}

fn impact(made: &CutSet, scores: &[f64]) -> Vec<Impact> {
    let mut lines = vec![passing("the cut".to_owned(), made.cut, scores)];
    if let Some(error) = made.error {
        lines.push(passing(
            "one error below".to_owned(),
            made.cut - error,
            scores,
        ));
        lines.push(passing(
            "one error above".to_owned(),
            made.cut + error,
            scores,
        ));
    }
    lines.into_iter().flatten().collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn ratings(estimates: &[[f64; 3]]) -> Ratings {
        Ratings {
            questions: (1..=estimates.len()).map(|q| format!("q{q}")).collect(),
            judges: ["A", "B", "C"].map(str::to_owned).to_vec(),
            estimates: estimates.iter().map(|row| row.to_vec()).collect(),
        }
    }

    #[test]
    fn the_last_round_sets_the_cut_and_scores_show_what_it_would_do() {
        let by = SetBy::Angoff {
            rounds: vec![
                ratings(&[[0.2, 0.9, 0.5], [0.6, 0.6, 0.9]]),
                ratings(&[[0.5, 0.6, 0.5], [0.6, 0.7, 0.7]]),
            ],
            difficulties: None,
        };
        let scored: Vec<ScoredCandidate> = [0.0, 1.0, 1.0, 2.0, 2.0]
            .iter()
            .map(|score| ScoredCandidate {
                score: *score,
                grade: None,
                competent: None,
            })
            .collect();
        let made = set_cut(&by, &scored, None).unwrap();
        assert!((made.cut - 1.2).abs() < 1e-12 && made.highest == 2.0);
        assert_eq!(made.rounds.len(), 2);
        assert_eq!(made.impact[0].passes.successes, 2);
        assert!(made.sentence().contains("3 judges"));
        assert_eq!(made.plan_percent(), 60.0);
    }

    #[test]
    fn one_judge_is_no_meeting() {
        let by = SetBy::Angoff {
            rounds: vec![Ratings {
                questions: vec!["q1".to_owned(), "q2".to_owned()],
                judges: vec!["A".to_owned()],
                estimates: vec![vec![0.5], vec![0.6]],
            }],
            difficulties: None,
        };
        assert!(set_cut(&by, &[], None).unwrap_err().contains("judges"));
    }
}
