//! `valinch results`.

mod certificates;
mod review;

use std::path::PathBuf;

use anyhow::Result;
use clap::{Args, Subcommand};
use workflow::{
    AppealRequest, Correction, RegradeRequest, ResultsReport, ResultsRequest, Role, Surroundings,
    appeal, give_results, part_cell, parts_sat, regrade, release,
};

use super::acting::ActingArguments;
use super::json;
use super::naming::NamesArguments;
use super::person::{self, PersonArguments, RetentionArguments};
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Decide, and write class list, summary and one report for each candidate
///
/// Results go into FOLDER/results, marked as not released. Giving them out is the chief examiner's
/// act, with a second role: results release. From then on marks change by corrections alone.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch results examples/certificate",
    args_conflicts_with_subcommands = true,
    subcommand_negates_reqs = true
)]
pub(crate) struct ResultsArguments {
    #[command(subcommand)]
    act: Option<ResultsAct>,
    /// The exam's folder
    #[arg(required = true)]
    folder: Option<PathBuf>,
    /// Where the results go [default: FOLDER/results]
    #[arg(long, value_name = "FOLDER")]
    to: Option<PathBuf>,
    /// A folder with templates of your own [default: FOLDER/templates]
    #[arg(long, value_name = "FOLDER")]
    templates: Option<PathBuf>,
    #[command(flatten)]
    names: NamesArguments,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

/// What else is done with results
#[derive(Debug, Subcommand)]
enum ResultsAct {
    Review(review::ReviewArguments),
    Release(ReleaseArguments),
    Certificates(certificates::CertificatesArguments),
    Regrade(RegradeArguments),
    Appeal(AppealArguments),
    Person(PersonArguments),
    Retention(RetentionArguments),
}

/// Release the results that were looked at: write them unmarked, and enter that they may go out
///
/// Two roles act. It is refused while an answer waits for a person, and where marks changed since
/// the results were made. Afterwards mark is refused: a change is a correction (results regrade).
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch results release examples/certificate --confirmed-by assembler"
)]
struct ReleaseArguments {
    /// The exam's folder
    folder: PathBuf,
    /// Where the results go [default: FOLDER/results]
    #[arg(long, value_name = "FOLDER")]
    to: Option<PathBuf>,
    /// A folder with templates of your own [default: FOLDER/templates]
    #[arg(long, value_name = "FOLDER")]
    templates: Option<PathBuf>,
    /// The second role that agrees
    #[arg(long, value_name = "ROLE")]
    confirmed_by: Option<Role>,
    #[command(flatten)]
    names: NamesArguments,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

/// Show what a changed key, rule or decision would change, and apply it when two roles say so
///
/// The answers in the register are marked again by the plan, the bank, the decisions and the incidents
/// as they lie in the folder now. Nothing is written without --apply: change a text, look, and decide. What is
/// applied becomes an entry of the ledger with old, new and why; the old texts stay.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch results regrade examples/certificate\n  valinch results regrade examples/certificate --apply --why \"question 7 has two right answers\" --confirmed-by marker"
)]
struct RegradeArguments {
    /// The exam's folder
    folder: PathBuf,
    /// A table of what persons decided; may be given more than once [default: all in
    /// FOLDER/decisions]
    #[arg(long, value_name = "TABLE")]
    decisions: Vec<PathBuf>,
    /// Apply what is shown
    #[arg(long, requires = "why")]
    apply: bool,
    /// Why it is applied, in one sentence
    #[arg(long, value_name = "SENTENCE", requires = "apply")]
    why: Option<String>,
    /// The second role that agrees
    #[arg(long, value_name = "ROLE", requires = "apply")]
    confirmed_by: Option<Role>,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

/// Write the appeal file of one candidate: what the marks in dispute were made from
///
/// It holds the answers in dispute, keys, reasons, rules, sources and panel evidence, and nothing
/// about other questions or other people. That it was written is entered in the ledger.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch results appeal examples/certificate --candidate C-009 --item \"theory 10\" --item \"tasting 417\""
)]
struct AppealArguments {
    /// The exam's folder
    folder: PathBuf,
    /// The candidate's number
    #[arg(long, value_name = "NUMBER")]
    candidate: String,
    /// An item in dispute, named as answer tables do; may be given more than once
    #[arg(long = "item", value_name = "ITEM", required = true)]
    items: Vec<String>,
    /// A folder with templates of your own [default: FOLDER/templates]
    #[arg(long, value_name = "FOLDER")]
    templates: Option<PathBuf>,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(
    given: &ResultsArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    match &given.act {
        Some(ResultsAct::Review(given)) => review::run(given, talk, around),
        Some(ResultsAct::Certificates(given)) => certificates::run(given, talk, around),
        Some(ResultsAct::Release(given)) => run_release(given, talk, around),
        Some(ResultsAct::Regrade(given)) => run_regrade(given, talk, around),
        Some(ResultsAct::Appeal(given)) => run_appeal(given, talk, around),
        Some(ResultsAct::Person(given)) => person::run(given, talk, around),
        Some(ResultsAct::Retention(given)) => person::run_retention(given, talk, around),
        None => run_results(given, talk, around),
    }
}

fn run_regrade(given: &RegradeArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let report = regrade(
        around,
        &RegradeRequest {
            folder: given.folder.clone(),
            decisions: given.decisions.clone(),
            apply: given.apply.then(|| Correction {
                stated: given.acting.confirmed(given.confirmed_by),
                why: given.why.clone().unwrap_or_default(),
            }),
        },
    )?;
    let exit = Exit::of_findings(&report.faults);
    if given.json {
        json(talk, &report)?;
        return Ok(exit);
    }
    show::findings(talk, &report.faults, &report.sources);
    if !report.changed_texts.is_empty() {
        talk.data(&format!("Changed: {}", report.changed_texts.join(", ")));
    }
    let difference = &report.difference;
    let turned = difference.candidates.iter().filter(|c| c.turned()).count();
    let does = |number: usize, verb: &str| match (report.applied, number) {
        (false, _) => format!("would {verb}"),
        (true, 1) => format!("{verb}s"),
        (true, _) => verb.to_owned(),
    };
    talk.data(&format!(
        "{} {}, for {} of {}; {} {}.",
        show::count(difference.marks.len(), "mark"),
        does(difference.marks.len(), "differ"),
        difference.candidates.len(),
        show::count(difference.of, "candidate"),
        show::count(turned, "decision"),
        does(turned, "turn"),
    ));
    if !difference.candidates.is_empty() {
        let rows: Vec<Vec<String>> = difference
            .candidates
            .iter()
            .map(|change| {
                vec![
                    change.candidate.to_string(),
                    change.before.to_string(),
                    change.after.to_string(),
                    change.before_in_words(),
                    change.after_in_words(),
                ]
            })
            .collect();
        talk.data("");
        let head = if report.applied {
            ["candidate", "total was", "is", "decision was", "is"]
        } else {
            ["candidate", "total", "would be", "decision", "would be"]
        };
        talk.data(&show::table(&head, &rows));
    }
    if !difference.marks.is_empty() {
        let rows: Vec<Vec<String>> = difference
            .marks
            .iter()
            .map(|change| {
                vec![
                    change.candidate.to_string(),
                    change.item.clone(),
                    format!("{} -> {} of {}", change.before, change.after, change.of),
                    change.why.clone(),
                ]
            })
            .collect();
        talk.data("");
        talk.data(&show::list(&rows));
    }
    if report.applied {
        talk.say("the marks are corrected, and the ledger says what, why and by whom.");
        talk.say(&format!("next: valinch results {}", given.folder.display()));
    } else {
        talk.say("nothing was written.");
    }
    Ok(exit)
}

fn run_appeal(given: &AppealArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let report = appeal(
        around,
        &AppealRequest {
            folder: given.folder.clone(),
            candidate: given.candidate.clone(),
            items: given.items.clone(),
            templates: given.templates.clone(),
            stated: given.acting.stated(),
        },
    )?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    for item in &report.appeal.items {
        talk.data(&format!(
            "{}: {} of {}. {}",
            item.item, item.marks, item.of, item.reason
        ));
    }
    talk.say(&format!("the appeal file is {}.", report.file.display()));
    Ok(Exit::Done)
}

fn run_results(given: &ResultsArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let folder = given.folder.clone().unwrap_or_default();
    let request = ResultsRequest {
        stated: given.acting.stated(),
        names: given.names.names(&folder, around)?,
        folder,
        to: given.to.clone(),
        templates: given.templates.clone(),
    };
    let report = give_results(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    show_results(&report, talk);
    if report.waiting > 0 {
        talk.say(&format!(
            "{} for a person: decide before you release results.",
            show::count(report.waiting, "answer")
        ));
    } else if !report.released {
        talk.say(&format!(
            "not released yet. next: valinch results release {} --confirmed-by ROLE",
            request.folder.display()
        ));
    }
    Ok(Exit::Done)
}

fn run_release(given: &ReleaseArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let request = ResultsRequest {
        stated: given.acting.confirmed(given.confirmed_by),
        names: given.names.names(&given.folder, around)?,
        folder: given.folder.clone(),
        to: given.to.clone(),
        templates: given.templates.clone(),
    };
    let report = release(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    show_results(&report, talk);
    talk.say("the results are released: from here on a change is a correction.");
    talk.say(&format!(
        "next: valinch results certificates {}",
        request.folder.display()
    ));
    Ok(Exit::Done)
}

/// The class with its decisions, the figures in sentences, and where the files are.
fn show_results(report: &ResultsReport, talk: &Talk) {
    let parts = parts_sat(report.class.lines.iter().map(|line| &line.decision));
    let rows: Vec<Vec<String>> = report
        .class
        .lines
        .iter()
        .map(|line| {
            let mut row = vec![line.candidate.to_string()];
            row.extend(parts.iter().map(|part| part_cell(&line.decision, *part)));
            row.push(format!(
                "{} / {}",
                line.decision.total.marks, line.decision.total.of
            ));
            row.push(match &line.decision.grade {
                Some(grade) => format!("{}, {grade}", line.decision.outcome),
                None => line.decision.outcome.to_string(),
            });
            row
        })
        .collect();
    let mut head = vec!["candidate"];
    head.extend(parts.iter().map(|part| part.word()));
    head.extend(["total", "decision"]);
    talk.data(&show::table(&head, &rows));
    talk.data("");
    for sentence in std::iter::once(&report.summary.outcomes)
        .chain(report.summary.scores.iter().map(|s| &s.sentence))
        .chain(report.summary.reliability.iter().flat_map(|r| &r.sentences))
        .chain(&report.summary.review.sentences)
        .chain(&report.summary.notes)
    {
        talk.data(sentence);
    }
    talk.say(&format!(
        "{} in {}.",
        show::count(report.files.len(), "file"),
        report.folder.display()
    ));
}
