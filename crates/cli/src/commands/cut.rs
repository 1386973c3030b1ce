//! `valinch cut`.

use std::path::PathBuf;

use anyhow::Result;
use clap::{Args, Subcommand};
use workflow::{
    BestOfClass, CutRequest, CutWay, JudgeSheetsRequest, Role, Surroundings, cut, judge_sheets,
};

use super::acting::ActingArguments;
use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Set a cut score with judges: sheets, feedback, the cut with its error, minutes
///
/// `cut sheets` prints what judges write on; `cut set` takes their tables and writes minutes.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch cut sheets examples/certificate --judge AM --judge BK --judge CT\n  \
                  valinch cut set --ratings round-1.csv --ratings round-2.csv --scores scores.csv\n  \
                  valinch cut set --way hofstee --ratings judges.csv --scores scores.csv --highest 30"
)]
pub(crate) struct CutArguments {
    #[command(subcommand)]
    step: Step,
}

#[derive(Debug, Subcommand)]
enum Step {
    Sheets(SheetsArguments),
    Set(SetArguments),
}

/// Print judges' sheets for each form, and a table to type into
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  valinch cut sheets examples/certificate --judge AM --judge BK")]
struct SheetsArguments {
    /// The exam's folder
    folder: PathBuf,
    /// A judge's initials; once for each judge
    #[arg(long, value_name = "INITIALS", required = true, value_parser = initials)]
    judge: Vec<String>,
    /// How many rounds have a column
    #[arg(long, value_name = "NUMBER", default_value_t = 2, value_parser = clap::value_parser!(u8).range(1..=3))]
    rounds: u8,
    /// Where the sheets go [default: FOLDER/cut]
    #[arg(long, value_name = "FOLDER")]
    to: Option<PathBuf>,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

/// Make judges' tables, or scores, into a cut with its error, feedback and minutes
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch cut set --ratings round-1.csv --ratings round-2.csv --scores scores.csv\n  \
                   valinch cut set --ratings round-1.csv --sitting examples/certificate --confirmed-by assembler\n  \
                   valinch cut set --way cohen --scores scores.csv --highest 40 --guessing 10"
)]
struct SetArguments {
    /// The way: angoff, ebel, hofstee, bookmark, matching, borderline-group, borderline-regression,
    /// contrasting-groups or cohen
    #[arg(long, value_name = "WAY", default_value = "angoff", value_parser = way)]
    way: CutWay,
    /// The judges' table; of angoff one for each round, in order
    #[arg(long, value_name = "TABLE")]
    ratings: Vec<PathBuf>,
    /// Candidates' scores: a row for each candidate
    #[arg(long, value_name = "TABLE")]
    scores: Option<PathBuf>,
    /// The column of scores
    #[arg(long, value_name = "COLUMN", default_value = "score")]
    score: String,
    /// The column of grades that were given without sight of the score
    #[arg(long, value_name = "COLUMN", default_value = "grade")]
    grade: String,
    /// The column of judged competence, 0 or 1
    #[arg(long, value_name = "COLUMN", default_value = "competent")]
    competent: String,
    /// The grade that means borderline
    #[arg(long, value_name = "GRADE", default_value_t = 2.0)]
    borderline: f64,
    /// Difficulties on the Rasch scale: question,difficulty
    #[arg(long, value_name = "TABLE")]
    difficulties: Option<PathBuf>,
    /// Of bookmark: which chance of a right answer counts as mastery
    #[arg(long, value_name = "SHARE", default_value_t = 0.67)]
    response_probability: f64,
    /// Of cohen: the per cent of candidates below the score that stands for the best
    #[arg(long, value_name = "PERCENT", default_value_t = 95.0, value_parser = percent)]
    best: f64,
    /// Of cohen: how far the cut lies on the way from guessing to the best, in per cent
    #[arg(long, value_name = "PERCENT", default_value_t = 60.0, value_parser = percent)]
    way_up: f64,
    /// Of cohen: the marks that guessing yields
    #[arg(long, value_name = "MARKS", default_value_t = 0.0, value_parser = marks)]
    guessing: f64,
    /// Of matching: the level whose lower border is the cut
    #[arg(long, value_name = "LEVEL", default_value_t = 2, value_parser = clap::value_parser!(u8).range(2..=20))]
    level: u8,
    /// The highest mark, where the ratings do not say it
    #[arg(long, value_name = "MARKS", value_parser = clap::value_parser!(u32).range(1..=100_000))]
    highest: Option<u32>,
    /// The sitting in whose register the cut is noted; two roles set a cut
    #[arg(long, value_name = "FOLDER")]
    sitting: Option<PathBuf>,
    /// What the cut is for: a part, or the weighted total
    #[arg(long, value_name = "PART", default_value = "theory", value_parser = ["theory", "tasting", "total"])]
    part: String,
    /// Where the minutes go [default: beside the ratings]
    #[arg(long, value_name = "FILE")]
    minutes: Option<PathBuf>,
    #[command(flatten)]
    acting: ActingArguments,
    /// The second role that agrees to the cut
    #[arg(long, value_name = "ROLE", requires = "sitting")]
    confirmed_by: Option<Role>,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

fn way(text: &str) -> Result<CutWay, String> {
    CutWay::ALL
        .into_iter()
        .find(|way| way.name() == text)
        .ok_or_else(|| format!("one of {}", CutWay::ALL.map(CutWay::name).join(", ")))
}

fn percent(text: &str) -> Result<f64, String> {
    text.parse()
        .ok()
        .filter(|percent| *percent > 0.0 && *percent <= 100.0)
        .ok_or_else(|| "a per cent above 0, up to 100".to_owned())
}

fn marks(text: &str) -> Result<f64, String> {
    text.parse()
        .ok()
        .filter(|marks| (0.0..=1e6).contains(marks))
        .ok_or_else(|| "marks from 0 on".to_owned())
}

fn initials(text: &str) -> Result<String, String> {
    let fits = (1..=20).contains(&text.chars().count())
        && text
            .chars()
            .all(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '.'));
    if fits {
        Ok(text.to_owned())
    } else {
        Err("up to 20 letters, digits, spaces, hyphens and full stops".to_owned())
    }
}

pub(crate) fn run(given: &CutArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    match &given.step {
        Step::Sheets(given) => sheets(given, talk, around),
        Step::Set(given) => set(given, talk, around),
    }
}

fn sheets(given: &SheetsArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let request = JudgeSheetsRequest {
        folder: given.folder.clone(),
        stated: given.acting.stated(),
        judges: given.judge.clone(),
        rounds: usize::from(given.rounds),
        to: given.to.clone(),
    };
    let report = judge_sheets(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    for file in &report.files {
        talk.data(&file.display().to_string());
    }
    talk.say("next: after the round type the estimates in, then valinch cut set --ratings TABLE");
    Ok(Exit::Done)
}

fn set(given: &SetArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let request = CutRequest {
        way: given.way,
        ratings: given.ratings.clone(),
        scores: given.scores.clone(),
        score_column: given.score.clone(),
        grade_column: given.grade.clone(),
        competent_column: given.competent.clone(),
        borderline: given.borderline,
        difficulties: given.difficulties.clone(),
        response_probability: given.response_probability,
        best_of_class: BestOfClass {
            best: given.best / 100.0,
            way: given.way_up / 100.0,
            guessing: given.guessing,
        },
        level: f64::from(given.level),
        highest: given.highest.map(f64::from),
        sitting: given.sitting.clone(),
        stated: given.acting.confirmed(given.confirmed_by),
        part: given.part.clone(),
        minutes: given.minutes.clone(),
    };
    let report = cut(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    talk.data(&report.sentence);
    for sentence in &report.cut.sentences {
        talk.data(&format!("· {sentence}"));
    }
    for round in &report.cut.rounds {
        talk.data(&format!(
            "\nRound {}: cut {:.2}, standard error over judges {:.2}",
            round.round, round.cut, round.error
        ));
        let rows: Vec<Vec<String>> = round
            .judges
            .iter()
            .map(|judge| {
                vec![
                    judge.judge.clone(),
                    format!("{:.2}", judge.cut),
                    format!("{:+.2}", judge.from_mean),
                    judge.impact.as_ref().map_or_else(
                        || "\u{2013}".to_owned(),
                        |impact| format!("{} of {}", impact.passes.successes, impact.passes.n),
                    ),
                ]
            })
            .collect();
        talk.data(&show::table(
            &["judge", "cut", "from the mean", "would pass"],
            &rows,
        ));
        let discuss: Vec<String> = round
            .discuss
            .iter()
            .filter_map(|place| round.questions.get(*place))
            .map(|q| format!("{} ({:.2} to {:.2})", q.question, q.lowest.0, q.highest.0))
            .collect();
        if !discuss.is_empty() {
            talk.data(&format!("Discuss: {}", discuss.join(", ")));
        }
    }
    if !report.cut.impact.is_empty() {
        talk.data("");
    }
    for line in &report.cut.impact {
        talk.data(&format!(
            "At {} ({:.2}) {} of {} pass, {:.0} % (95 % interval {:.0} to {:.0} %).",
            line.of,
            line.cut,
            line.passes.successes,
            line.passes.n,
            line.passes.share * 100.0,
            line.passes.interval.lower * 100.0,
            line.passes.interval.upper * 100.0
        ));
    }
    talk.data(&format!(
        "\nFor the plan, below pass:\n{}",
        report.plan_line
    ));
    if report.noted {
        talk.say("The cut is noted in the register; the plan is yours to change.");
    }
    talk.say(&format!("The minutes: {}", report.minutes.display()));
    Ok(Exit::Done)
}
