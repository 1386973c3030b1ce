//! `valinch mark`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::{MarkRequest, Surroundings, mark};

use super::acting::ActingArguments;
use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Take in answers and mark them, each mark with its reason
///
/// Answer tables are CSV, either one row for each candidate and question (candidate, part,
/// question, answer) or one row for each candidate (candidate, q1, q2, …, g1.aroma, …). What is to
/// nothing is listed, the rest is marked. Each call takes all answers and replaces earlier marks.
///
/// What the program may not decide, such as a word that no list knows, goes into
/// FOLDER/to-decide.csv, each word once for all candidates. Fill in the columns "decision" ("as
/// WORD", "nothing" or a number of marks), "why" and "by", save it in FOLDER/decisions, and mark
/// again.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch mark examples/certificate --answers theory.csv --answers tasting.csv"
)]
pub(crate) struct MarkArguments {
    /// The exam's folder
    folder: PathBuf,
    /// An answer table; may be given more than once [default: all in FOLDER/answers]
    #[arg(long, value_name = "TABLE")]
    answers: Vec<PathBuf>,
    /// A table of what persons decided; may be given more than once [default: all in
    /// FOLDER/decisions]
    #[arg(long, value_name = "TABLE")]
    decisions: Vec<PathBuf>,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(given: &MarkArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let request = MarkRequest {
        stated: given.acting.stated(),
        folder: given.folder.clone(),
        answers: given.answers.clone(),
        decisions: given.decisions.clone(),
    };
    let report = mark(around, &request)?;
    let exit = Exit::of_findings(&report.faults);
    if given.json {
        json(talk, &report)?;
        return Ok(exit);
    }
    show::findings(talk, &report.faults, &report.sources);
    talk.data(&format!(
        "Marked {} of {}.",
        show::count(report.answers, "answer"),
        show::count(report.candidates, "candidate")
    ));
    if !report.absent.is_empty() {
        talk.data(&format!(
            "Nothing came in from: {}",
            report.absent.join(", ")
        ));
    }
    for (candidate, remark) in &report.remarks {
        talk.data(&format!("Remark on {candidate}: {remark}"));
    }
    if !report.for_a_person.is_empty() {
        talk.data("\nFor a person to decide:");
        let rows: Vec<Vec<String>> = report
            .for_a_person
            .iter()
            .map(|waiting| {
                let near = if waiting.near.is_empty() {
                    String::new()
                } else {
                    format!(" (near: {})", waiting.near.join(", "))
                };
                vec![
                    waiting.candidate.clone(),
                    waiting.item.clone(),
                    format!("{}{near}", waiting.why),
                ]
            })
            .collect();
        talk.data(&show::list(&rows));
    }
    if report.decisions > 0 {
        talk.data(&format!(
            "{} of persons applied.",
            show::count(report.decisions, "decision")
        ));
    }
    if let Some(table) = &report.to_decide {
        talk.say(&format!(
            "decide in {}: fill in decision, why and by, save it in {}, and mark again.",
            table.display(),
            given.folder.join("decisions").display()
        ));
    }
    if exit == Exit::FaultsFound {
        let faults = report.faults.iter().filter(|fault| !fault.is_weakness());
        talk.say(&format!(
            "{} above: what is faulty does not count; everything else is marked.",
            show::count(faults.count(), "fault")
        ));
    }
    talk.say(&format!("next: valinch results {}", given.folder.display()));
    Ok(exit)
}
