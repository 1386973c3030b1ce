//! `valinch results certificates`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::{ResultsRequest, Surroundings, certificates};

use crate::commands::acting::ActingArguments;
use crate::commands::json;
use crate::commands::naming::NamesArguments;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Write a certificate for everybody who passed, once results are released
///
/// Each has a number, which valinch verify --certificate looks up in the register. Run it again after
/// a correction: who has come to pass gets one, and one that is not true any more is withdrawn, in the
/// ledger and from the folder.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  valinch results certificates examples/certificate")]
pub(crate) struct CertificatesArguments {
    /// The exam's folder
    folder: PathBuf,
    /// Where results go; certificates go into its folder certificates [default: FOLDER/results]
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

pub(crate) fn run(
    given: &CertificatesArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    let report = certificates(
        around,
        &ResultsRequest {
            names: given.names.names(&given.folder, around)?,
            folder: given.folder.clone(),
            to: given.to.clone(),
            templates: given.templates.clone(),
            stated: given.acting.stated(),
        },
    )?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    let rows: Vec<Vec<String>> = report
        .given
        .iter()
        .map(|(candidate, number)| vec![candidate.clone(), number.clone()])
        .collect();
    talk.data(&show::table(&["candidate", "certificate"], &rows));
    for number in &report.withdrawn {
        talk.data(&format!("withdrawn: {number}. Ask for the paper back."));
    }
    talk.say(&format!(
        "{} in {}, {} of them new.",
        show::count(report.given.len(), "certificate"),
        report.folder.display(),
        report.new
    ));
    Ok(Exit::Done)
}
