//! `valinch assemble`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::ExamSeed;
use workflow::{
    AssembleRequest, FormsBeside, NamesKept, Surroundings, announce, assemble, forms_in_words,
    forms_table, names_will_be_locked,
};

use super::acting::ActingArguments;
use super::json;
use crate::exit::Exit;
use crate::secrets;
use crate::show;
use crate::talk::Talk;

/// Make a sitting: draw forms, flights, codes, orders and seats
///
/// Everything is drawn from one seed and put down in one file, sitting.register, beside the plan.
/// A sitting that is there already is never changed.
///
/// So that nobody could choose a favourable draw, announce it first, with the roster complete:
/// --announce fixes a secret (draw-secret.txt, for its owner alone) and writes draw-announced.json,
/// which you publish: the words that say which numbers will count, and a commitment to them, the
/// secret and every text of the exam. When the numbers are known, --public-value draws from secret
/// and numbers together (after RFC 3797); no text may have changed. verify shows it later, also to
/// others once you give out the secret, after the sitting.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch assemble examples/evening-class\n  valinch assemble examples/evening-class --page forms.html\n  valinch assemble examples/evening-class --announce \"state lottery of 3 May 2027\"\n  valinch assemble examples/evening-class --public-value \"9319 / 2 5 12 8 10\""
)]
pub(crate) struct AssembleArguments {
    /// The exam's folder
    folder: PathBuf,
    /// The seed, 64 hexadecimal digits; taken from the machine and kept in the register by default.
    /// Others can read what you type here: give one only to draw an old exam again
    #[arg(long, value_name = "HEX")]
    seed: Option<ExamSeed>,
    /// Fix a secret now and say which public value will be mixed into it; nothing is drawn yet
    #[arg(long, value_name = "WORDS", conflicts_with_all = ["seed", "public_value"])]
    announce: Option<String>,
    /// The public value of an announced draw: whole numbers, and a slash between sources
    #[arg(long, value_name = "NUMBERS", conflicts_with = "seed")]
    public_value: Option<String>,
    /// Write the forms side by side as a page for a browser: what each holds, how equally hard they
    /// are; it holds no question
    #[arg(long, value_name = "FILE", conflicts_with = "announce")]
    page: Option<PathBuf>,
    /// Where the plan has names locked: a file with the chief examiner's passphrase in its first line
    /// [default: VALINCH_PASSPHRASE, else it is asked for]
    #[arg(long, value_name = "FILE", conflicts_with = "announce")]
    passphrase_file: Option<PathBuf>,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

fn run_announce(
    given: &AssembleArguments,
    which: &str,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    let announced = announce(around, &given.folder, which, given.acting.stated())?;
    if given.json {
        json(talk, &announced)?;
        return Ok(Exit::Done);
    }
    talk.data(&format!("Which:      {}", announced.which));
    talk.data(&format!("Commitment: {}", announced.commitment));
    talk.say(
        "Publish draw-announced.json before the value is known; keep draw-secret.txt to yourself, and change no text until the draw.",
    );
    talk.say(&format!(
        "next, when it is known: valinch assemble {} --public-value NUMBERS",
        given.folder.display()
    ));
    Ok(Exit::Done)
}

pub(crate) fn run(
    given: &AssembleArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    if let Some(which) = &given.announce {
        return run_announce(given, which, talk, around);
    }
    let passphrase = if names_will_be_locked(around, &given.folder)? {
        Some(secrets::passphrase(
            given.passphrase_file.as_deref(),
            true,
            around,
        )?)
    } else {
        None
    };
    let request = AssembleRequest {
        passphrase,
        stated: given.acting.stated(),
        folder: given.folder.clone(),
        seed: given.seed.clone(),
        public_value: given.public_value.clone(),
        page: given.page.clone(),
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
    if let Some(value) = &report.public_value {
        talk.data(&format!("Value:   {value}"));
    }
    for sentence in &report.shortfalls {
        talk.data(&format!("Note:    {sentence}"));
    }
    if let Some(beside) = report.beside.as_ref().filter(|b| !b.forms.is_empty()) {
        talk.data("");
        talk.data(&side_by_side(beside));
    }
    if let Some(page) = given.page.as_ref().filter(|_| report.beside.is_some()) {
        talk.say(&format!(
            "The forms side by side are in {}.",
            page.display()
        ));
    }
    let register = report.register.display();
    if report.was_there {
        talk.say(&format!(
            "{register} holds this sitting already: nothing was changed."
        ));
    } else {
        talk.say(&format!("The sitting is in {register}; keep this file."));
        talk.say(match report.names {
            NamesKept::SeparateFile => {
                "It names nobody: the names are in roster.csv. Keep that as it is, where the chief examiner alone reads it; --names says where."
            }
            NamesKept::Locked => {
                "It names nobody without the passphrase. roster.csv still does: take it away from here."
            }
        });
    }
    talk.say(&format!("next: valinch print {}", given.folder.display()));
    Ok(Exit::Done)
}

/// The forms beside each other, and in words how equally hard they are and how that is known.
fn side_by_side(beside: &FormsBeside) -> String {
    let (head, rows) = forms_table(beside);
    let head: Vec<&str> = head.iter().map(String::as_str).collect();
    let words = forms_in_words(beside).join("\n");
    format!("{}\n\n{words}", show::table(&head, &rows))
}
