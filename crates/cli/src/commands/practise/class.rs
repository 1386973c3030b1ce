//! `valinch practise class-sheets` and `valinch practise class-notes`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::{ClassNotesRequest, ClassSheetsRequest, Surroundings, class_notes, class_sheets};

use crate::commands::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Print the sheets of a class that tastes known samples together, and say what to pour
///
/// class.yaml in the folder names the bank and the samples in the order of tasting; roster.csv, where
/// there is one, who comes. A sheet asks for look, nose, palate, finish, what water changed, quality
/// and liking. An empty table for the notes is put into FOLDER/notes, unless one is there.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  valinch practise class-sheets examples/first-evening")]
pub(super) struct ClassSheetsArguments {
    /// The class's folder
    folder: PathBuf,
    /// Where the sheets go [default: FOLDER/papers]
    #[arg(long, value_name = "FOLDER")]
    to: Option<PathBuf>,
    /// A folder with templates of your own [default: FOLDER/templates]
    #[arg(long, value_name = "FOLDER")]
    templates: Option<PathBuf>,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

/// Set the notes of a class beside the panel's: a page for each learner, and one with pictures
///
/// Nothing is marked, and liking is compared with nothing. Words that the bank's word list does not
/// know are listed and judged by nobody.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  valinch practise class-notes examples/first-evening")]
pub(super) struct ClassNotesArguments {
    /// The class's folder
    folder: PathBuf,
    /// A table of notes; may be given more than once [default: all in FOLDER/notes]
    #[arg(long, value_name = "TABLE")]
    notes: Vec<PathBuf>,
    /// Where the pages go [default: FOLDER/pages]
    #[arg(long, value_name = "FOLDER")]
    to: Option<PathBuf>,
    /// A folder with templates of your own [default: FOLDER/templates]
    #[arg(long, value_name = "FOLDER")]
    templates: Option<PathBuf>,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(super) fn sheets(
    given: &ClassSheetsArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    let request = ClassSheetsRequest {
        folder: given.folder.clone(),
        to: given.to.clone(),
        templates: given.templates.clone(),
    };
    let report = class_sheets(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    show::findings(talk, &report.weaknesses, &report.sources);
    let rows: Vec<Vec<String>> = report
        .samples
        .iter()
        .enumerate()
        .map(|(place, sample)| {
            vec![
                (place + 1).to_string(),
                sample.bottle.clone(),
                format!("{} × {} ml", sample.bottles_to_bring, sample.bottle_size),
                sample.glasses_in_room.to_string(),
                format!("{} ml", sample.volume),
                format!("{} %", sample.strength_served),
                format!("{:.0} ml", sample.spirit.ceil()),
                format!("{:.0} ml", sample.water),
            ]
        })
        .collect();
    talk.data(&show::table(
        &[
            "glass", "bottle", "bring", "pours", "each", "served", "spirit", "water",
        ],
        &rows,
    ));
    talk.data(&format!(
        "\nSpirit and water for {}, a spare pour and 5 % loss included. All glasses of one learner hold {:.1} g of ethanol if nothing is spat.",
        show::count(report.learners as usize, "learner"),
        report.ethanol_grams
    ));
    talk.data("\nTo bring:");
    for line in &report.bring {
        talk.data(&format!("  {line}"));
    }
    talk.data("");
    for caution in &report.cautions {
        talk.data(&format!("! {caution}"));
    }
    talk.say(&format!(
        "\nprint: {} ({}{})",
        report.sheets.display(),
        show::count(report.pages, "page"),
        match report.copies {
            1 => String::new(),
            copies => format!(", {copies} copies"),
        }
    ));
    talk.say(&format!("pour by: {}", report.pour_sheet.display()));
    if let Some(table) = &report.table {
        talk.say(&format!("type the notes into: {}", table.display()));
    }
    talk.say(&format!(
        "next: valinch practise class-notes {}",
        given.folder.display()
    ));
    Ok(Exit::Done)
}

pub(super) fn notes(
    given: &ClassNotesArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    let request = ClassNotesRequest {
        folder: given.folder.clone(),
        notes: given.notes.clone(),
        to: given.to.clone(),
        templates: given.templates.clone(),
    };
    let report = class_notes(around, &request)?;
    let exit = Exit::of_findings(&report.faults);
    if given.json {
        json(talk, &report)?;
        return Ok(exit);
    }
    show::findings(talk, &report.faults, &report.sources);
    for sample in &report.beside.samples {
        talk.data(&format!("{}  {}", sample.glass, sample.name));
        talk.data(&format!("   {}", sample.sentence));
    }
    if !report.beside.silent.is_empty() {
        talk.data(&format!(
            "Nothing came in from: {}",
            report.beside.silent.join(", ")
        ));
    }
    if !report.beside.unknown.is_empty() {
        talk.data("\nNot in the word list, and judged by nobody:");
        let rows: Vec<Vec<String>> = report
            .beside
            .unknown
            .iter()
            .map(|word| {
                let near = if word.near.is_empty() {
                    String::new()
                } else {
                    format!("near: {}", word.near.join(", "))
                };
                vec![word.written.clone(), word.learners.join(", "), near]
            })
            .collect();
        talk.data(&show::list(&rows));
    }
    if exit == Exit::FaultsFound {
        let faults = report.faults.iter().filter(|fault| !fault.is_weakness());
        talk.say(&format!(
            "{} above: what is faulty was left out; everything else was taken in.",
            show::count(faults.count(), "fault")
        ));
    }
    talk.say(&format!(
        "\n{} for the learners in {}; the class beside the panel: {}",
        show::count(report.files.len(), "page file"),
        report.folder.display(),
        report.page.display()
    ));
    Ok(exit)
}
