//! `valinch practise`, and the class before the exam.

mod class;

use std::path::PathBuf;

use anyhow::Result;
use clap::{Args, Subcommand};
use workflow::PrintedBody;
use workflow::practise::{Feedback, Shown};
use workflow::{ExamSeed, Marks};
use workflow::{Practice, PractiseRequest, Surroundings, TastingPractice};

use crate::exit::Exit;
use crate::talk::Talk;

/// Practise on a bank: answer questions, or write a note on an opened sample record
///
/// Marks, reasons and sources come at once. Questions that are live for a coming exam are never
/// shown. A class that tastes known samples together has sheets and pages of its own: practise
/// class-sheets, practise class-notes.
#[derive(Debug, Args)]
#[command(
    args_conflicts_with_subcommands = true,
    subcommand_negates_reqs = true,
    after_help = "Example:\n  valinch practise question-banks/foundation --cell maturation\n  valinch practise question-banks/foundation --sample calvados-herisson-8"
)]
pub(crate) struct PractiseArguments {
    #[command(subcommand)]
    act: Option<PractiseAct>,
    /// The bank's folder
    #[arg(required = true)]
    bank: Option<PathBuf>,
    /// Only questions of this cell
    #[arg(long, value_name = "CELL", conflicts_with = "sample")]
    cell: Option<String>,
    /// How many questions
    #[arg(
        long,
        value_name = "NUMBER",
        default_value_t = 10,
        conflicts_with = "sample"
    )]
    questions: usize,
    /// A sample record to write a tasting note on
    #[arg(long, value_name = "SAMPLE")]
    sample: Option<String>,
    /// An exam folder whose questions are kept out; may be given more than once
    #[arg(long, value_name = "FOLDER")]
    not_of: Vec<PathBuf>,
    /// The seed of a session to be repeated, 64 hexadecimal digits
    #[arg(long, value_name = "HEX")]
    seed: Option<ExamSeed>,
}

/// A class before the exam
#[derive(Debug, Subcommand)]
enum PractiseAct {
    ClassSheets(class::ClassSheetsArguments),
    ClassNotes(class::ClassNotesArguments),
}

pub(crate) fn run(
    given: &PractiseArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    match &given.act {
        Some(PractiseAct::ClassSheets(given)) => return class::sheets(given, talk, around),
        Some(PractiseAct::ClassNotes(given)) => return class::notes(given, talk, around),
        None => {}
    }
    // The arguments want a bank where no act is named.
    let bank = given.bank.clone().unwrap_or_default();
    match &given.sample {
        Some(sample) => tasting(&TastingPractice::open(around, &bank, sample)?, talk),
        None => {
            let request = PractiseRequest {
                bank,
                cell: given.cell.clone(),
                questions: given.questions,
                not_of: given.not_of.clone(),
                seed: given.seed.clone(),
            };
            questions(&Practice::open(around, &request)?, talk);
        }
    }
    Ok(Exit::Done)
}

fn questions(practice: &Practice, talk: &Talk) {
    if practice.kept_out > 0 {
        talk.say(&format!(
            "Kept back, being live for a coming exam: {}.",
            crate::show::count(practice.kept_out, "question")
        ));
    }
    let (mut earned, mut of, mut answered) = (Marks::ZERO, Marks::ZERO, 0);
    for number in 0..practice.len() {
        let Some(shown) = practice.show(number) else {
            break;
        };
        talk.data(&format!(
            "\n{} of {}  {}",
            number + 1,
            practice.len(),
            wrapped(&shown.stem, talk.width())
        ));
        if let Some(words) = &shown.picture {
            talk.data(&wrapped(&format!("[Picture] {words}"), talk.width()));
        }
        body(&shown, talk);
        let Some(answer) = talk.ask("> ") else { break };
        let Some(feedback) = practice.answer(number, &answer) else {
            break;
        };
        tell(&feedback, talk);
        earned += feedback.marks;
        of += feedback.of;
        answered += 1;
    }
    if answered > 0 {
        talk.data(&format!(
            "\n{earned} of {of} marks in {}.",
            crate::show::count(answered, "question")
        ));
    }
}

fn body(shown: &Shown, talk: &Talk) {
    match &shown.body {
        PrintedBody::Options {
            options,
            choose_one,
        } => {
            for option in options {
                talk.data(&format!("  {}  {}", option.letter, option.text));
            }
            if !choose_one {
                talk.data("  (all that apply, for example: A C)");
            }
        }
        PrintedBody::Number { unit } => talk.data(&format!("  (a number, in {unit})")),
        PrintedBody::Steps { steps } => {
            for step in steps {
                talk.data(&format!("  {}  {}", step.letter, step.text));
            }
            talk.data("  (the letters in order, for example: C A B)");
        }
        PrintedBody::Columns { left, right } => {
            for entry in left {
                talk.data(&format!("  {}  {}", entry.number, entry.text));
            }
            for entry in right {
                talk.data(&format!("     {}  {}", entry.letter, entry.text));
            }
            talk.data("  (a letter for each number, for example: 1B 2A)");
        }
        PrintedBody::Words { lines: 1 } => talk.data("  (a word or two)"),
        PrintedBody::Words { lines } => {
            talk.data(&format!("  ({lines} answers, semicolons between)"));
        }
        PrintedBody::Space { .. } => talk.data("  (whole sentences; nobody marks them here)"),
    }
}

fn tell(feedback: &Feedback, talk: &Talk) {
    talk.data(&format!(
        "  {} of {}: {}",
        feedback.marks, feedback.of, feedback.reason
    ));
    if let Some(right) = &feedback.right {
        talk.data(&format!("  right: {right}"));
    }
    for why in &feedback.why {
        talk.data(&format!("  · {why}"));
    }
    talk.data(&format!("  source: {}", feedback.source));
}

fn tasting(practice: &TastingPractice, talk: &Talk) {
    talk.say("Spit, drink water, and do not drive after tasting. Nosing alone will do.");
    let (mut earned, mut of) = (Marks::ZERO, Marks::ZERO);
    for (number, (asked, _)) in practice.questions().into_iter().enumerate() {
        let prompt = match asked {
            "aroma" => "Aromas and flavours, neat; up to six words, semicolons between".to_owned(),
            "water" => "What shows with a little water; up to three words".to_owned(),
            "age" => format!("Age, one of: {}", practice.age_bands().join("; ")),
            "confidence" => format!(
                "How sure are you? Share out 100 over these, in their order: {}",
                practice.sure_of().join("; ")
            ),
            other => format!("The {other}"),
        };
        let Some(answer) = talk.ask(&format!("\n{prompt}\n> ")) else {
            break;
        };
        let Some(feedback) = practice.answer(number, &answer) else {
            break;
        };
        talk.data(&format!(
            "  {} of {}: {}",
            feedback.marks, feedback.of, feedback.reason
        ));
        earned += feedback.marks;
        of += feedback.of;
    }
    let (what, words) = practice.reveal();
    talk.data(&format!(
        "\n{earned} of {of} marks.\nIt was {what}\nThe panel found:"
    ));
    for (word, weight) in words {
        talk.data(&format!(
            "  {word:<24} {}",
            "#".repeat((weight * 20.0).round() as usize)
        ));
    }
}

/// A text in lines no longer than this.
fn wrapped(text: &str, width: usize) -> String {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let fits = lines.last().is_some_and(|line| {
            line.is_empty()
                || line.chars().count() + word.chars().count() < width.saturating_sub(10)
        });
        if !fits {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
    }
    lines.join("\n")
}
