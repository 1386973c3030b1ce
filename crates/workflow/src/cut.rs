//! Runs a standard-setting meeting: judges' sheets beforehand, then ratings make a cut with its error,
//! feedback, impact, minutes and the plan's line.

mod judge_sheets;
mod rating_tables;

use std::path::{Path, PathBuf};

use base::Fault;
use register::{Act, Details};
use results::cut_meeting::{BestOfClass, CutSet, Meeting, SetBy, minutes, plan_line, set_cut};
use serde::Serialize;

pub use judge_sheets::{JudgeSheetsReport, JudgeSheetsRequest, judge_sheets};

use crate::failure::Failure;
use crate::open_sitting::OpenSitting;
use crate::response_tables::stem;
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;
use crate::texts::Sources;
use rating_tables::Tables;

/// A way of setting a cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CutWay {
    /// Estimates for each question.
    Angoff,
    /// Cells of relevance and difficulty.
    Ebel,
    /// Acceptable cuts and failing rates.
    Hofstee,
    /// Pages in a booklet from easy to hard.
    Bookmark,
    /// Scores of those called borderline.
    BorderlineGroup,
    /// The line from grades to scores.
    BorderlineRegression,
    /// Scores of the competent and the not competent.
    ContrastingGroups,
    /// The way from guessing to the best of the class.
    Cohen,
    /// Questions matched to levels.
    Matching,
}

impl CutWay {
    /// All ways.
    pub const ALL: [Self; 9] = [
        Self::Angoff,
        Self::Ebel,
        Self::Hofstee,
        Self::Bookmark,
        Self::BorderlineGroup,
        Self::BorderlineRegression,
        Self::ContrastingGroups,
        Self::Cohen,
        Self::Matching,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Angoff => "angoff",
            Self::Ebel => "ebel",
            Self::Hofstee => "hofstee",
            Self::Bookmark => "bookmark",
            Self::BorderlineGroup => "borderline-group",
            Self::BorderlineRegression => "borderline-regression",
            Self::ContrastingGroups => "contrasting-groups",
            Self::Cohen => "cohen",
            Self::Matching => "matching",
        }
    }
}

/// What `cut set` is asked.
#[derive(Debug, Clone)]
pub struct CutRequest {
    /// The way.
    pub way: CutWay,
    /// The judges' tables: of Angoff one a round, of the others one.
    pub ratings: Vec<PathBuf>,
    /// A table with candidates' scores, and perhaps grades.
    pub scores: Option<PathBuf>,
    /// Its column of scores.
    pub score_column: String,
    /// Its column of grades.
    pub grade_column: String,
    /// Its column of judged competence, 0 or 1.
    pub competent_column: String,
    /// The grade that means borderline.
    pub borderline: f64,
    /// A table with Rasch difficulties.
    pub difficulties: Option<PathBuf>,
    /// Which chance of a right answer counts as mastery (Bookmark).
    pub response_probability: f64,
    /// What Cohen's way is told.
    pub best_of_class: BestOfClass,
    /// The level whose lower border is the cut (matching).
    pub level: f64,
    /// The highest mark.
    pub highest: Option<f64>,
    /// The folder of the sitting in whose register the cut is noted.
    pub sitting: Option<PathBuf>,
    /// In which role the cut is noted; heeded where a sitting is named.
    pub stated: Stated,
    /// The part that the cut is for.
    pub part: String,
    /// Where the minutes go.
    pub minutes: Option<PathBuf>,
}

/// A cut, and what was written.
#[derive(Debug, Clone, Serialize)]
pub struct CutReport {
    /// The cut.
    pub cut: CutSet,
    /// Its first sentence.
    pub sentence: String,
    /// The line to paste into the plan, below `pass:`.
    pub plan_line: String,
    /// The minutes.
    pub minutes: PathBuf,
    /// Whether the register holds the act.
    pub noted: bool,
}

/// Sets a cut and writes the minutes.
///
/// # Errors
/// When a table cannot be read or has faults, the numbers do not carry the way, or a file cannot be
/// written.
pub fn cut(around: &dyn Surroundings, request: &CutRequest) -> Result<CutReport, Failure> {
    let mut tables = Tables::new(around);
    let difficulties = match &request.difficulties {
        Some(path) => tables.difficulties(path)?,
        None => None,
    };
    let scored = match &request.scores {
        Some(path) => tables.scores(path, request)?,
        None => Vec::new(),
    };
    let by = tables.set_by(request, difficulties)?;
    let (faults, sources) = tables.finish();
    if !faults.is_empty() {
        return Err(Failure::Faults { faults, sources });
    }
    let Some(by) = by else {
        return Err(Failure::Defect(
            "ratings were read and are not there".to_owned(),
        ));
    };
    let made = set_cut(&by, &scored, request.highest).map_err(|what| Failure::Refused {
        what: format!("no cut by {}: {what}", by.name()),
        hint: hint(&by).to_owned(),
    })?;
    let about = request
        .sitting
        .as_deref()
        .or(request.ratings.first().map(PathBuf::as_path))
        .or(request.scores.as_deref())
        .map_or_else(String::new, stem);
    let meeting = Meeting {
        about,
        part: request.part.clone(),
    };
    let path = request.minutes.clone().unwrap_or_else(|| {
        let beside = request.ratings.first().or(request.scores.as_ref());
        let beside = beside.map_or(Path::new("cut"), PathBuf::as_path);
        beside.with_file_name(format!("{}-minutes.md", stem(beside)))
    });
    // The register is opened, and who acts is looked at, before anything is written.
    let register = match &request.sitting {
        Some(folder) => {
            let mut register = OpenSitting::open(around, folder)?.register;
            let by = acting(around, Some(&mut register), Doing::SetCut, request.stated)?;
            Some((register, by))
        }
        None => None,
    };
    around.write(&path, minutes(&meeting, &made).as_bytes())?;
    let noted = register.is_some();
    if let Some((mut register, by)) = register {
        let details = Details::from([
            ("part".to_owned(), request.part.clone()),
            ("cut".to_owned(), made.sentence()),
        ]);
        register.note(Act::CutSet, &by, details)?;
        register.close()?;
    }
    Ok(CutReport {
        sentence: made.sentence(),
        plan_line: plan_line(&meeting, &made),
        cut: made,
        minutes: path,
        noted,
    })
}

/// What to do when the numbers do not carry a way.
const fn hint(by: &SetBy) -> &'static str {
    match by {
        SetBy::Angoff { .. } => {
            "at least two judges and two questions, estimates from 0 to 1 or 0 to 100 %"
        }
        SetBy::Ebel(_) => "shares from 0 to 100 %, the same questions for each judge",
        SetBy::Hofstee(_) => {
            "acceptable cuts and failing rates that the scores can meet; --highest gives the highest mark"
        }
        SetBy::Bookmark { .. } => {
            "at least two judges, pages within the booklet, --difficulties from enough candidates"
        }
        SetBy::BorderlineGroup { .. } | SetBy::BorderlineRegression { .. } => {
            "enough candidates with grades; --grade names the column, --borderline the grade, --highest the highest mark"
        }
        SetBy::Cohen(_) => {
            "scores of 20 candidates or more, the best above --guessing; --highest gives the highest mark"
        }
        SetBy::Matching { .. } => {
            "levels that rise with difficulty, some questions below --level and some at it; --difficulties from enough candidates"
        }
        SetBy::ContrastingGroups => {
            "two groups that overlap, the competent scoring higher; --competent names the column, --highest the highest mark"
        }
    }
}

/// Faults and the texts they stand in.
type Found = (Vec<Fault>, Sources);
