//! `valinch results person` and `valinch results retention`.

use std::path::PathBuf;

use anyhow::Result;
use clap::{Args, Subcommand};
use workflow::{
    ExportRequest, PersonCorrection, PersonReport, PersonRequest, RetentionRequest, Role,
    Surroundings, correct_person, end_retention, erase_person, export_person,
};

use super::acting::ActingArguments;
use super::json;
use super::naming::NamesArguments;
use crate::exit::Exit;
use crate::talk::Talk;

/// Tell a person what is kept of them, put their name right, or erase it
///
/// Each is an act of the chief examiner and an entry in the ledger, which names numbers only. Answers,
/// marks and decisions stay under the number.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch results person export examples/certificate C-009 --to c-009.json\n  valinch results person erase examples/certificate C-009 --confirmed-by assembler"
)]
pub(crate) struct PersonArguments {
    #[command(subcommand)]
    act: PersonAct,
}

#[derive(Debug, Subcommand)]
enum PersonAct {
    Export(ExportArguments),
    Correct(CorrectArguments),
    Erase(EraseArguments),
}

/// Whose data it is.
#[derive(Debug, Args)]
struct Whose {
    /// The exam's folder
    folder: PathBuf,
    /// The person's number
    number: String,
    #[command(flatten)]
    names: NamesArguments,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

/// Write what is kept of one person into a file for them
///
/// Name, seat, codes, answers, acts that were about them, and marks with reasons once the results are
/// released. Nothing about anybody else. The file can be read by its owner alone.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch results person export examples/certificate C-009 --to c-009.json"
)]
struct ExportArguments {
    #[command(flatten)]
    whose: Whose,
    /// Where the file goes
    #[arg(long, value_name = "FILE")]
    to: PathBuf,
}

/// Put a person's name or note right
///
/// The roster is written anew where names are kept in it; where they are locked, they are locked anew.
/// The entry says that a name was put right, and no name. Make the results again afterwards.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch results person correct examples/certificate C-009 --name \"Ines Prado\" --confirmed-by assembler"
)]
struct CorrectArguments {
    #[command(flatten)]
    whose: Whose,
    /// The right name
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// What the proctor should know; empty to take it away
    #[arg(long, value_name = "WORDS")]
    note: Option<String>,
    /// The second role that agrees
    #[arg(long, value_name = "ROLE")]
    confirmed_by: Option<Role>,
}

/// Erase who is behind a number
///
/// Name and note go, from the register and from the roster, and cannot be had back. Answers, marks and
/// decisions stay under the number, nobody's. Printed papers, results, backups and what somebody wrote
/// into incidents or decisions are not touched: the command lists which folders to look at.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch results person erase examples/certificate C-009 --confirmed-by assembler"
)]
struct EraseArguments {
    #[command(flatten)]
    whose: Whose,
    /// The second role that agrees
    #[arg(long, value_name = "ROLE")]
    confirmed_by: Option<Role>,
}

/// Remove everybody's name and note, when the time is over for which the plan keeps them
///
/// The plan says it: retention: { months: 24 }, counted from the day of the exam. Before that day it is
/// refused. Answers, marks and decisions stay under numbers, and the ledger can still be checked.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  valinch results retention examples/certificate")]
pub(crate) struct RetentionArguments {
    /// The exam's folder
    folder: PathBuf,
    #[command(flatten)]
    names: NamesArguments,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

impl Whose {
    fn request(
        &self,
        confirmed_by: Option<Role>,
        around: &dyn Surroundings,
    ) -> Result<PersonRequest> {
        Ok(PersonRequest {
            folder: self.folder.clone(),
            number: self.number.clone(),
            names: self.names.names(&self.folder, around)?,
            stated: self.acting.confirmed(confirmed_by),
        })
    }
}

pub(crate) fn run(given: &PersonArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    match &given.act {
        PersonAct::Export(given) => {
            let request = ExportRequest {
                person: given.whose.request(None, around)?,
                to: given.to.clone(),
            };
            let report = export_person(around, &request)?;
            told(&report, given.whose.json, talk, "What is kept of")
        }
        PersonAct::Correct(given) => {
            let right = PersonCorrection {
                name: given.name.clone(),
                note: given.note.clone(),
            };
            let request = given.whose.request(given.confirmed_by, around)?;
            let report = correct_person(around, &request, &right)?;
            told(&report, given.whose.json, talk, "Put right:")
        }
        PersonAct::Erase(given) => {
            let request = given.whose.request(given.confirmed_by, around)?;
            let report = erase_person(around, &request)?;
            told(&report, given.whose.json, talk, "Erased:")
        }
    }
}

pub(crate) fn run_retention(
    given: &RetentionArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    let request = RetentionRequest {
        folder: given.folder.clone(),
        // Nothing is opened, so no passphrase is asked for.
        names: given.names.file_alone(),
        stated: given.acting.stated(),
    };
    let report = end_retention(around, &request)?;
    told(&report, given.json, talk, "Removed: the names behind")
}

fn told(report: &PersonReport, as_json: bool, talk: &Talk, what: &str) -> Result<Exit> {
    if as_json {
        json(talk, report)?;
        return Ok(Exit::Done);
    }
    let whose = report.candidate.as_deref().unwrap_or("all numbers");
    talk.data(&format!("{what} {whose}"));
    for path in &report.written {
        talk.data(&format!("Written: {}", path.display()));
    }
    talk.data(&format!("Ledger:  {}", report.head));
    if !report.may_hold_names.is_empty() {
        let folders: Vec<String> = report
            .may_hold_names
            .iter()
            .map(|path| path.display().to_string())
            .collect();
        talk.say(&format!(
            "These were made before and may still hold names: {}. So may backups and printed papers.",
            folders.join(", ")
        ));
    }
    if !report.traces_gone {
        talk.say(
            "Another program has the register open and may hold what was deleted: close it, and give this command again.",
        );
    }
    Ok(Exit::Done)
}
