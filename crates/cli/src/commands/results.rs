//! `valinch results`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::{ResultsRequest, Surroundings, give_results};

use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Decide, and write class list, summary and one report for each candidate
///
/// Results go into FOLDER/results. They are shown to nobody by this program: giving them out is
/// the chief examiner's act.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  valinch results examples/certificate")]
pub(crate) struct ResultsArguments {
    /// The exam's folder
    folder: PathBuf,
    /// Where the results go [default: FOLDER/results]
    #[arg(long, value_name = "FOLDER")]
    to: Option<PathBuf>,
    /// A folder with templates of your own [default: FOLDER/templates]
    #[arg(long, value_name = "FOLDER")]
    templates: Option<PathBuf>,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(
    given: &ResultsArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    let request = ResultsRequest {
        folder: given.folder.clone(),
        to: given.to.clone(),
        templates: given.templates.clone(),
    };
    let report = give_results(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    let rows: Vec<Vec<String>> = report
        .class
        .lines
        .iter()
        .map(|line| {
            let mut row = vec![line.candidate.to_string()];
            row.extend(
                line.decision
                    .parts
                    .iter()
                    .map(|p| format!("{} / {}", p.marks.marks, p.marks.of)),
            );
            row.push(format!(
                "{} / {}",
                line.decision.total.marks, line.decision.total.of
            ));
            row.push(line.decision.outcome.to_string());
            row
        })
        .collect();
    let mut head = vec!["candidate"];
    if let Some(line) = report.class.lines.first() {
        head.extend(line.decision.parts.iter().map(|p| p.part.word()));
    }
    head.extend(["total", "decision"]);
    talk.data(&show::table(&head, &rows));
    talk.data("");
    for sentence in std::iter::once(&report.summary.outcomes)
        .chain(report.summary.scores.iter().map(|s| &s.sentence))
        .chain(report.summary.reliability.iter().flat_map(|r| &r.sentences))
        .chain(&report.summary.notes)
    {
        talk.data(sentence);
    }
    talk.say(&format!(
        "{} in {}.",
        show::count(report.files.len(), "file"),
        report.folder.display()
    ));
    if report.waiting > 0 {
        talk.say(&format!(
            "{} for a person: decide before you give results out.",
            show::count(report.waiting, "answer")
        ));
    }
    Ok(Exit::Done)
}
