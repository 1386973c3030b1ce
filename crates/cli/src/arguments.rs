//! The command line: which commands there are, and what they are told.

use clap::{CommandFactory, Parser, Subcommand};
use workflow::{Disk, Failure};

use crate::commands::{
    analyse, assemble, bank, check, completions, cut, dilute, equate, mark, moderate, panel, pour,
    practise, print, rehearse, results, seal, verify,
};
use crate::exit::{CODES, Exit};
use crate::show;
use crate::talk::Talk;

/// Build, print, pour, mark and give back an examination of spirits tasters
///
/// An exam is one folder: plan.yaml, roster.csv, room.yaml, and sample records of its own if there
/// are any. The plan names the bank of questions. Copy a folder from examples/ to begin.
#[derive(Debug, Parser)]
#[command(name = "valinch", version, after_long_help = after_help(), max_term_width = 100)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

/// The way of an exam, and the exit codes.
fn after_help() -> String {
    format!(
        "The way of an exam:\n  \
         valinch check FOLDER       is everything sound?\n  \
         valinch rehearse FOLDER    what is to be expected?\n  \
         valinch assemble FOLDER    draw forms, codes, orders and seats\n  \
         valinch seal FOLDER        commit to the key, lock it up\n  \
         valinch print FOLDER       every sheet as PDF\n  \
         valinch pour FOLDER        bottles, water, grams, cautions\n  \
         valinch mark FOLDER        answers to marks with reasons\n  \
         valinch results FOLDER     decisions and reports\n  \
         valinch analyse FOLDER     questions worst first, figures with intervals\n\n{CODES}"
    )
}

#[derive(Debug, Subcommand)]
enum Command {
    Check(check::CheckArguments),
    Assemble(assemble::AssembleArguments),
    Print(print::PrintArguments),
    Pour(pour::PourArguments),
    Mark(mark::MarkArguments),
    Moderate(moderate::ModerateArguments),
    Cut(cut::CutArguments),
    Results(results::ResultsArguments),
    Analyse(analyse::AnalyseArguments),
    Equate(equate::EquateArguments),
    Practise(practise::PractiseArguments),
    Rehearse(rehearse::RehearseArguments),
    Seal(seal::SealArguments),
    Verify(verify::VerifyArguments),
    Dilute(dilute::DiluteArguments),
    Panel(panel::PanelArguments),
    Bank(bank::BankArguments),
    Completions(completions::CompletionsArguments),
}

/// Takes the arguments of the process, runs the command and tells how it ended.
pub(crate) fn run() -> Exit {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => {
            // Help and version are answers, not faults. What cannot be shown is seen by nobody.
            let _ = error.print();
            return if error.use_stderr() {
                Exit::BadArguments
            } else {
                Exit::Done
            };
        }
    };
    let talk = Talk::new();
    let around = Disk;
    let outcome = match &arguments.command {
        Command::Check(given) => check::run(given, &talk, &around),
        Command::Assemble(given) => assemble::run(given, &talk, &around),
        Command::Print(given) => print::run(given, &talk, &around),
        Command::Pour(given) => pour::run(given, &talk, &around),
        Command::Mark(given) => mark::run(given, &talk, &around),
        Command::Moderate(given) => moderate::run(given, &talk, &around),
        Command::Cut(given) => cut::run(given, &talk, &around),
        Command::Results(given) => results::run(given, &talk, &around),
        Command::Analyse(given) => analyse::run(given, &talk, &around),
        Command::Equate(given) => equate::run(given, &talk, &around),
        Command::Practise(given) => practise::run(given, &talk, &around),
        Command::Rehearse(given) => rehearse::run(given, &talk, &around),
        Command::Seal(given) => seal::run(given, &talk, &around),
        Command::Verify(given) => verify::run(given, &talk, &around),
        Command::Dilute(given) => dilute::run(given, &talk),
        Command::Panel(given) => panel::run(given, &talk, &around),
        Command::Bank(given) => bank::run(given, &talk, &around),
        Command::Completions(given) => Ok(completions::run(given, Arguments::command())),
    };
    outcome.unwrap_or_else(|error| report(&talk, &error))
}

/// Shows why a command could not be carried out.
fn report(talk: &Talk, error: &anyhow::Error) -> Exit {
    let Some(failure) = error.downcast_ref::<Failure>() else {
        talk.say(&format!("{error:#}"));
        return Exit::Defect;
    };
    if let Failure::Faults { faults, sources } = failure {
        show::findings(talk, faults, sources);
    }
    talk.say(&format!("{failure}."));
    if let Some(hint) = hint(failure) {
        talk.say(&format!("hint: {hint}"));
    }
    Exit::from(failure)
}

/// What to do next.
fn hint(failure: &Failure) -> Option<String> {
    use register_error::next_step;
    match failure {
        Failure::Refused { hint, .. } => Some(hint.clone()),
        Failure::Faults { .. } => Some("mend what is listed above and try again".to_owned()),
        Failure::CannotRead { .. } => Some("is the path right, and may you read it?".to_owned()),
        Failure::CannotWrite { .. } => Some(
            "is there room on the disk, and may you write there? Nothing is half-written"
                .to_owned(),
        ),
        Failure::Register(error) => Some(next_step(error).to_owned()),
        Failure::Machine(_) => None,
        Failure::Defect(_) => Some("please report this with the command you gave".to_owned()),
    }
}

/// What to do about a register that cannot be used.
mod register_error {
    use workflow::RegisterError;

    pub(super) const fn next_step(error: &RegisterError) -> &'static str {
        match error {
            RegisterError::Exists(_) => {
                "a sitting is never overwritten: move it to another folder first"
            }
            RegisterError::Missing(_) => "assemble the exam first",
            RegisterError::NotARegister { .. } => "is this the right folder?",
            RegisterError::Damaged(_) => {
                "keep this file as it is and work on a copy of your last backup"
            }
            RegisterError::Released => {
                "a change is a correction now: valinch results regrade FOLDER --apply"
            }
            RegisterError::Moved => "look at what it says now, and try again",
            RegisterError::Busy(_) => "wait until the other program has finished",
            RegisterError::CannotWrite(_) => {
                "is there room on the disk, and may you write there? Nothing is half-written"
            }
            RegisterError::Store(_) => "is the disk sound, and is the file on a local disk?",
        }
    }
}
