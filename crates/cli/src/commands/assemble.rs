//! `valinch assemble`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::ExamSeed;
use workflow::{AssembleRequest, Surroundings, assemble};

use super::acting::ActingArguments;
use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Make a sitting: draw forms, flights, codes, orders and seats
///
/// Everything is drawn from one seed and put down in one file, sitting.register, beside the plan.
/// A sitting that is there already is never changed.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  valinch assemble examples/evening-class")]
pub(crate) struct AssembleArguments {
    /// The exam's folder
    folder: PathBuf,
    /// The seed, 64 hexadecimal digits; taken from the machine and kept in the register by default.
    /// Others can read what you type here: give one only to draw an old exam again
    #[arg(long, value_name = "HEX")]
    seed: Option<ExamSeed>,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(
    given: &AssembleArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    let request = AssembleRequest {
        stated: given.acting.stated(),
        folder: given.folder.clone(),
        seed: given.seed.clone(),
    };
    let report = assemble(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    let forms: Vec<String> = report
        .forms
        .iter()
        .map(|(form, questions)| {
            format!("form {form} with {}", show::count(*questions, "question"))
        })
        .collect();
    if !forms.is_empty() {
        talk.data(&format!("Theory:  {}", forms.join(", ")));
    }
    talk.data(&format!(
        "People:  {} in the room, {} with kits",
        report.in_the_room, report.with_kits
    ));
    talk.data(&format!("Glasses: {}", report.glasses));
    for sentence in &report.shortfalls {
        talk.data(&format!("Note:    {sentence}"));
    }
    let register = report.register.display();
    if report.was_there {
        talk.say(&format!(
            "{register} holds this sitting already: nothing was changed."
        ));
    } else {
        talk.say(&format!("The sitting is in {register}; keep this file."));
    }
    talk.say(&format!("next: valinch print {}", given.folder.display()));
    Ok(Exit::Done)
}
