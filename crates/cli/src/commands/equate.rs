//! `valinch equate`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::{EquateRequest, EquatingWay, Surroundings, equate};

use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// What a mark on one form would have been on another, with errors and the advisor's reason
///
/// Give two tables of marks, or the folder of a sitting and two of its forms, or two folders. The
/// advisor takes the way that so many candidates carry; with 25 or fewer on a form a mark stays a
/// mark. Groups that differ in ability need an anchor: questions, or marks, that both have.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch equate examples/certificate --form A --form B\n  \
                  valinch equate spring.csv autumn.csv --total marks --anchor common\n  \
                  valinch equate x.csv y.csv --anchor-question q3 --anchor-question q7 --way tucker"
)]
pub(crate) struct EquateArguments {
    /// The form that is converted, then the other
    #[arg(required = true, num_args = 1..=2, value_name = "FOLDER|TABLE")]
    inputs: Vec<PathBuf>,
    /// Of a sitting: a form; give it twice, the form that is converted first
    #[arg(long, value_name = "FORM")]
    form: Vec<String>,
    /// Of a table: the column with the marks [default: all columns are questions and added up]
    #[arg(long, value_name = "COLUMN")]
    total: Option<String>,
    /// The column with the marks on what both forms have
    #[arg(long, value_name = "COLUMN", requires = "total")]
    anchor: Option<String>,
    /// A question that both forms have; may be given more than once
    #[arg(long, value_name = "COLUMN", conflicts_with = "total")]
    anchor_question: Vec<String>,
    /// The marks on the anchor are not part of the total
    #[arg(long)]
    anchor_beside: bool,
    /// The column that says for how many candidates a row stands; twice where the forms differ
    #[arg(long, value_name = "COLUMN")]
    count: Vec<String>,
    /// The highest mark; twice where the forms differ [default: of questions their sum, else the highest seen]
    #[arg(long, value_name = "MARKS", value_parser = clap::value_parser!(u32).range(1..=1000))]
    highest: Vec<u32>,
    /// The way [default: the advisor's]
    #[arg(long, value_name = "WAY", value_parser = way)]
    way: Option<EquatingWay>,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

fn way(text: &str) -> Result<EquatingWay, String> {
    EquatingWay::ALL
        .into_iter()
        .find(|way| way.name() == text)
        .ok_or_else(|| {
            format!(
                "one of {}",
                EquatingWay::ALL.map(EquatingWay::name).join(", ")
            )
        })
}

pub(crate) fn run(given: &EquateArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let request = EquateRequest {
        inputs: given.inputs.clone(),
        forms: given.form.clone(),
        total: given.total.clone(),
        anchor: given.anchor.clone(),
        anchor_questions: given.anchor_question.clone(),
        counts: given.count.clone(),
        anchor_beside: given.anchor_beside,
        highest: given.highest.clone(),
        way: given.way,
    };
    let report = equate(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    let made = &report.equated;
    for sentence in &made.sentences {
        talk.data(&format!("· {sentence}"));
    }
    talk.data(&format!("\nBy {} equating:", made.way.name()));
    let rows: Vec<Vec<String>> = made
        .marks
        .iter()
        .map(|mark| {
            vec![
                mark.mark.to_string(),
                format!("{:.2}", mark.equivalent),
                mark.standard_error
                    .map_or_else(|| "\u{2013}".to_owned(), |error| format!("{error:.2}")),
            ]
        })
        .collect();
    let [x, y] = &made.forms;
    talk.data(&show::table(
        &[x.as_str(), y.as_str(), "standard error"],
        &rows,
    ));
    for note in &report.notes {
        talk.say(note);
    }
    Ok(Exit::Done)
}
