//! `valinch rehearse`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::ExamSeed;
use workflow::Population;
use workflow::{RehearseRequest, Surroundings, rehearse};

use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Walk the whole way with simulated candidates, before a drop is poured
///
/// Draws, prints, takes in, marks and decides as on the day, into FOLDER/rehearsal, and forecasts
/// scores, reliability, guessers, wrong decisions, minutes and bottles. The same exam rehearses
/// alike each time.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch rehearse examples/certificate\n  valinch rehearse examples/certificate --sittings 1000 --tasting-mean -0.5"
)]
pub(crate) struct RehearseArguments {
    /// The exam's folder
    folder: PathBuf,
    /// Where the rehearsal goes [default: FOLDER/rehearsal]
    #[arg(long, value_name = "FOLDER")]
    to: Option<PathBuf>,
    /// Sittings to simulate for the forecast
    #[arg(long, value_name = "NUMBER", default_value_t = 200, value_parser = clap::value_parser!(u32).range(2..=100_000))]
    sittings: u32,
    /// Mean ability in theory: 0 knows half of the questions of medium difficulty
    #[arg(long, value_name = "NUMBER", allow_negative_numbers = true, value_parser = ability)]
    theory_mean: Option<f64>,
    /// Mean ability in tasting, on the like scale
    #[arg(long, value_name = "NUMBER", allow_negative_numbers = true, value_parser = ability)]
    tasting_mean: Option<f64>,
    /// Standard deviation of both abilities
    #[arg(long, value_name = "NUMBER", value_parser = spread)]
    spread: Option<f64>,
    /// A seed of your own, 64 hexadecimal digits; made from the exam's texts by default
    #[arg(long, value_name = "HEX")]
    seed: Option<ExamSeed>,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

fn ability(text: &str) -> Result<f64, String> {
    bounded(text, -6.0, 6.0)
}
fn spread(text: &str) -> Result<f64, String> {
    bounded(text, 0.0, 4.0)
}
fn bounded(text: &str, least: f64, most: f64) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(number) if (least..=most).contains(&number) => Ok(number),
        Ok(_) | Err(_) => Err(format!("a number from {least} to {most} is wanted")),
    }
}

pub(crate) fn run(
    given: &RehearseArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    let usual = Population::default();
    let population = Population {
        theory_mean: given.theory_mean.unwrap_or(usual.theory_mean),
        tasting_mean: given.tasting_mean.unwrap_or(usual.tasting_mean),
        theory_deviation: given.spread.unwrap_or(usual.theory_deviation),
        tasting_deviation: given.spread.unwrap_or(usual.tasting_deviation),
        ..usual
    };
    let request = RehearseRequest {
        folder: given.folder.clone(),
        to: given.to.clone(),
        seed: given.seed.clone(),
        sittings: given.sittings,
        population,
    };
    let report = rehearse(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    for sentence in &report.forecast.verdict {
        talk.data(&format!("· {sentence}"));
    }
    for sentence in &report.shortfalls {
        talk.data(&format!("· {sentence}"));
    }
    if let Some(pour) = &report.pour {
        talk.data("");
        for sample in &pour.samples {
            talk.data(&format!(
                "Buy {} × {} ml of {}.",
                sample.bottles_to_bring, sample.bottle_size, sample.bottle
            ));
        }
        talk.data(&format!(
            "All glasses of one candidate hold {:.1} g of ethanol if nothing is spat.",
            pour.ethanol_grams
        ));
        talk.data("! Spit cups and water at every place; nobody drives after tasting; local law decides on age and licence.");
    }
    talk.say(&format!(
        "\n{} and {} of the simulated sitting, and the forecast, are in {}.",
        show::count(report.papers.files.len(), "paper"),
        show::count(report.results.files.len(), "result file"),
        report.folder.display()
    ));
    talk.say(&format!(
        "next: look at {}/forecast.pdf, change the plan, rehearse again; then valinch assemble {}",
        report.folder.display(),
        given.folder.display()
    ));
    Ok(Exit::Done)
}
