//! `valinch print`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::{PrintRequest, Surroundings, print};

use super::acting::ActingArguments;
use super::json;
use super::naming::NamesArguments;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Print every sheet of a sitting as PDF
///
/// Papers go into FOLDER/papers, what nobody but examiners may see into a folder of its own within
/// it. File names say what it is, for whom, how many pages and on which sides.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch print examples/evening-class --labels a4-3x7-63.5x38.1"
)]
pub(crate) struct PrintArguments {
    /// The exam's folder
    folder: PathBuf,
    /// Where the papers go [default: FOLDER/papers]
    #[arg(long, value_name = "FOLDER")]
    to: Option<PathBuf>,
    /// The label sheet, by its geometry in millimetres (a wrong name lists all), or one of your own:
    /// a4-3x8-66x34@5,12+67,34.25
    #[arg(long, value_name = "GEOMETRY")]
    labels: Option<String>,
    /// How many labels of the first sheet are gone already
    #[arg(long, value_name = "NUMBER", default_value_t = 0)]
    labels_gone: u16,
    /// A sheet with the outlines of the labels too, to be held against them
    #[arg(long)]
    label_test: bool,
    /// A folder with templates of your own, file by file in place of the shipped ones
    /// [default: FOLDER/templates]
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

pub(crate) fn run(given: &PrintArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let request = PrintRequest {
        stated: given.acting.stated(),
        names: given.names.names(&given.folder, around)?,
        folder: given.folder.clone(),
        to: given.to.clone(),
        labels: given.labels.clone(),
        labels_gone: given.labels_gone,
        label_test: given.label_test,
        templates: given.templates.clone(),
    };
    let report = print(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    for file in &report.files {
        talk.data(&file.name);
    }
    talk.say(&format!(
        "{} in {}.",
        show::count(report.files.len(), "file"),
        report.folder.display()
    ));
    talk.say("The first says what to print how often. Try one label sheet on plain paper.");
    Ok(Exit::Done)
}
