//! `valinch check`.

use std::path::PathBuf;

use clap::Args;
use workflow::check::{BankTable, CheckReport, PanelLine};
use workflow::{Surroundings, check, put_schemas};

use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Read an exam or a bank and list every fault and weakness
///
/// A fault stops the exam, a weakness wants a look. Whether the bank can fill the plan is tried by
/// drawing once.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch check examples/evening-class\n  valinch check question-banks/foundation\n  valinch check --schemas editor"
)]
pub(crate) struct CheckArguments {
    /// The folder of an exam (with plan.yaml) or of a bank (with bank.yaml)
    #[arg(required_unless_present = "schemas")]
    folder: Option<PathBuf>,
    /// Put the schemas of all formats into this folder, for editors that complete and check while
    /// you type
    #[arg(long, value_name = "FOLDER")]
    schemas: Option<PathBuf>,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(
    given: &CheckArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> anyhow::Result<Exit> {
    if let Some(folder) = &given.schemas {
        let files = put_schemas(around, folder)?;
        if given.json && given.folder.is_none() {
            json(talk, &files)?;
        }
        for file in &files {
            talk.say(&format!(
                "{} is meant for {}",
                file.path.display(),
                file.meant_for
            ));
        }
        talk.say("Name one in the first line of a text, as seen from the text:");
        talk.say("# yaml-language-server: $schema=PATH");
    }
    let Some(folder) = &given.folder else {
        return Ok(Exit::Done);
    };
    let report = check(around, folder)?;
    if given.json {
        json(talk, &report)?;
    } else {
        show::findings(talk, &report.findings, &report.sources);
        for part in [report.bank.as_ref().map(bank), panels(&report.panels)]
            .into_iter()
            .flatten()
        {
            talk.data(&part);
            talk.data("");
        }
        talk.say(&last_line(&report));
    }
    Ok(if report.faults > 0 {
        Exit::FaultsFound
    } else {
        Exit::Done
    })
}

fn bank(table: &BankTable) -> String {
    let rows: Vec<Vec<String>> = table
        .cells
        .iter()
        .map(|cell| {
            let mut row = vec![cell.cell.clone()];
            row.extend(cell.operational.iter().map(ToString::to_string));
            row.extend(
                [cell.pretest, cell.coming, cell.retired]
                    .iter()
                    .map(ToString::to_string),
            );
            row
        })
        .collect();
    format!(
        "{}: {}, {}, {} in the lexicon\n\n{}",
        table.title,
        show::count(table.questions, "question"),
        show::count(table.samples, "sample record"),
        show::count(table.words, "word"),
        show::table(
            &[
                "cell",
                "recall",
                "application",
                "judgement",
                "pretest",
                "coming",
                "retired"
            ],
            &rows
        )
    )
}

fn panels(lines: &[PanelLine]) -> Option<String> {
    let rows: Vec<Vec<String>> = lines
        .iter()
        .map(|line| {
            vec![
                line.sample.clone(),
                line.assessors.to_string(),
                line.required.to_string(),
                line.agreement
                    .map_or_else(|| "–".to_owned(), |share| format!("{:.0} %", share * 100.0)),
            ]
        })
        .collect();
    (!rows.is_empty())
        .then(|| show::table(&["sample", "assessors", "key words", "cited by"], &rows))
}

fn last_line(report: &CheckReport) -> String {
    match (report.faults, report.weaknesses) {
        (0, 0) => "Sound: no faults, no weaknesses.".to_owned(),
        (0, weaknesses) => format!(
            "Usable: no faults, {} to look at.",
            if weaknesses == 1 {
                "1 weakness".to_owned()
            } else {
                format!("{weaknesses} weaknesses")
            }
        ),
        (faults, 0) => format!(
            "{}. Mend what is listed and check again.",
            show::count(faults, "fault")
        ),
        (faults, weaknesses) => format!(
            "{}, {}. Mend the faults and check again.",
            show::count(faults, "fault"),
            if weaknesses == 1 {
                "1 weakness".to_owned()
            } else {
                format!("{weaknesses} weaknesses")
            }
        ),
    }
}
