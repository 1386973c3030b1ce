//! `valinch moderate`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::{Marks, ModerateRequest, Surroundings, moderate};

use super::acting::ActingArguments;
use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Share essays out to markers, bring their marks together, and see how far they agree
///
/// The first call writes a table for each marker into FOLDER/moderation: scripts under codes, one
/// row for each criterion. Each further call takes in what was filled in, asks for a third marker
/// where two lie too far apart, and puts what is agreed into FOLDER/decisions, from where "mark"
/// takes it.
///
/// Nobody marks those whom they teach: the column "teacher" of roster.csv names the marker. Answers in
/// FOLDER/known-marks.csv, whose marks were agreed before, are mixed into every marker's table unseen.
/// What came in is set side by side: who is mild or hard, who changes from script to script, who is off
/// the known marks, whom to talk to, and what to have marked again.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  valinch moderate examples/certificate --markers AB,CD,EF")]
pub(crate) struct ModerateArguments {
    /// The exam's folder
    folder: PathBuf,
    /// The markers' names or initials, parted by commas [default: those whose tables lie there]
    #[arg(long, value_name = "NAMES", value_delimiter = ',')]
    markers: Vec<String>,
    /// How many marks two markers may lie apart [default: a quarter of the question's marks]
    #[arg(long, value_name = "MARKS")]
    gap: Option<Marks>,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(
    given: &ModerateArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    let report = moderate(
        around,
        &ModerateRequest {
            folder: given.folder.clone(),
            markers: given.markers.clone(),
            gap: given.gap,
            stated: given.acting.stated(),
        },
    )?;
    let exit = Exit::of_findings(&report.faults);
    if given.json {
        json(talk, &report)?;
        return Ok(exit);
    }
    show::findings(talk, &report.faults, &report.sources);
    talk.data(&format!(
        "{} of {} finished, {} for a third marker.",
        report.finished,
        show::count(report.scripts, "script"),
        report.third_needed.len()
    ));
    if report.kept_from_teachers > 0 {
        talk.data(&format!(
            "{} kept from markers who teach their writers.",
            show::count(report.kept_from_teachers, "script")
        ));
    }
    if let Some(moderation) = &report.moderation {
        talk.data("");
        for marker in &moderation.markers {
            talk.data(&marker.sentence);
            for sentence in &marker.further {
                talk.data(&format!("  {sentence}"));
            }
            if !marker.look_at.is_empty() {
                talk.data(&format!(
                    "  look at together: {}",
                    marker.look_at.join(", ")
                ));
            }
        }
        talk.data("");
        for sentence in &moderation.agreement {
            talk.data(sentence);
        }
        talk.data("");
        for sentence in moderation.advice.sentences() {
            talk.data(&sentence);
        }
    }
    for path in &report.written {
        talk.say(&format!("to be filled in: {}", path.display()));
    }
    match &report.decisions {
        Some(path) => talk.say(&format!(
            "what is agreed is in {}; next: valinch mark {}",
            path.display(),
            given.folder.display()
        )),
        None => talk.say(&format!(
            "next: fill in the tables, then valinch moderate {}",
            given.folder.display()
        )),
    }
    Ok(exit)
}
