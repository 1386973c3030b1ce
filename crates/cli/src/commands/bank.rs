//! `valinch bank`.

use std::collections::BTreeMap;
use std::path::PathBuf;

use clap::{Args, Subcommand};
use workflow::Surroundings;
use workflow::bank_exchange::{
    InReport, OutReport, bank_from_csv, bank_from_review, bank_to_csv, bank_to_review,
};

use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Take the questions of a bank out to a spreadsheet or to reviewers, and back
///
/// Tables and papers hold every key: keep them as safe as the bank.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch bank to-csv question-banks/foundation --to questions.csv\n  valinch bank from-csv questions.csv --to question-banks/mine/questions/new.yaml\n  valinch bank to-review question-banks/mine --to review.md\n  valinch bank from-review review.md question-banks/mine"
)]
pub(crate) struct BankArguments {
    #[command(subcommand)]
    way: Way,
}

#[derive(Debug, Subcommand)]
enum Way {
    /// The questions as a table, one row each
    ToCsv {
        /// The bank's folder
        bank: PathBuf,
        #[command(flatten)]
        to: To,
    },
    /// A table as a text of questions
    FromCsv {
        /// The table
        table: PathBuf,
        #[command(flatten)]
        to: To,
    },
    /// The questions as a paper with keys, sources and room for comments
    ToReview {
        /// The bank's folder
        bank: PathBuf,
        #[command(flatten)]
        to: To,
    },
    /// States and reviewers of such a paper into the bank; nothing else of it changes
    FromReview {
        /// The paper
        review: PathBuf,
        /// The bank's folder
        bank: PathBuf,
        /// Write the report as JSON to standard output
        #[arg(long)]
        json: bool,
    },
}

#[derive(Debug, Args)]
struct To {
    /// The file to write [default: standard output]
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(
    given: &BankArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> anyhow::Result<Exit> {
    match &given.way {
        Way::ToCsv { bank, to } => {
            out(talk, &bank_to_csv(around, bank, to.to.as_deref())?, to.json)?;
        }
        Way::ToReview { bank, to } => {
            out(
                talk,
                &bank_to_review(around, bank, to.to.as_deref())?,
                to.json,
            )?;
        }
        Way::FromCsv { table, to } => {
            let report = bank_from_csv(around, table, to.to.as_deref())?;
            came_in(talk, &report, to.json, "question")?;
            if !to.json {
                talk.say("Check the bank once they lie in its folder questions.");
            }
        }
        Way::FromReview { review, bank, json } => {
            let report = bank_from_review(around, review, bank)?;
            came_in(talk, &report, *json, "verdict")?;
        }
    }
    Ok(Exit::Done)
}

fn out(talk: &Talk, report: &OutReport, as_json: bool) -> anyhow::Result<()> {
    if as_json {
        return json(talk, report);
    }
    if let Some(text) = &report.text {
        talk.data(text);
    }
    let place = report
        .file
        .as_ref()
        .map_or_else(String::new, |file| format!(" in {}", file.display()));
    talk.say(&format!(
        "{}{place}.",
        show::count(report.questions, "question")
    ));
    let mut reasons: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for left in &report.left_out {
        reasons.entry(&left.why).or_default().push(&left.id);
    }
    for (why, ids) in reasons {
        talk.say(&format!(
            "{} left out, since {why}: {}",
            ids.len(),
            ids.join(", ")
        ));
    }
    Ok(())
}

fn came_in(talk: &Talk, report: &InReport, as_json: bool, what: &str) -> anyhow::Result<()> {
    if as_json {
        return json(talk, report);
    }
    if let Some(text) = &report.text {
        talk.data(text);
    }
    for file in &report.files {
        talk.data(&file.display().to_string());
    }
    talk.say(&format!(
        "{} read, {} changed.",
        show::count(report.questions, what),
        show::count(report.files.len(), "file")
    ));
    Ok(())
}
