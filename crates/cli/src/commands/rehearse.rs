//! `valinch rehearse`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::ExamSeed;
use workflow::Population;
use workflow::{
    AgainstRequest, Markers, Mishaps, RehearseReport, RehearseRequest, Surroundings, Taster,
    Wanted, population_as_in, rehearse, rehearse_against,
};

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
    after_help = "Example:\n  valinch rehearse examples/certificate\n  valinch rehearse examples/certificate --sittings 1000 --tasting-mean -0.5\n  valinch rehearse examples/certificate --wants-reliability 0.7"
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
    /// Take means, spreads and correlation from the marks of this past sitting's folder; what is
    /// given beside it goes before
    #[arg(long, value_name = "SITTING")]
    as_in: Option<PathBuf>,
    /// Correlation of the two abilities
    #[arg(long, value_name = "NUMBER", allow_negative_numbers = true, value_parser = correlation)]
    correlation: Option<f64>,
    /// Ability that tasters lose with each glass after the first
    #[arg(long, value_name = "NUMBER", value_parser = spread, default_value_t = 0.0)]
    fatigue: f64,
    /// Ability that tasters lose in the glass after a heavy sample
    #[arg(long, value_name = "NUMBER", value_parser = spread, default_value_t = 0.0)]
    carry_over: f64,
    /// Per cent of tasters who name a category by its colour where they do not know it
    #[arg(long, value_name = "PER CENT", value_parser = per_cent, default_value_t = 0.0)]
    colour_led: f64,
    /// Panel weight of a word that a taster of ability 0 finds half the time; less is more sensitive
    #[arg(long, value_name = "WEIGHT", value_parser = share, default_value_t = 0.6)]
    sensitivity: f64,
    /// Per cent of the panel's words that tasters have at command
    #[arg(long, value_name = "PER CENT", value_parser = per_cent, default_value_t = 100.0)]
    vocabulary: f64,
    /// Per cent of lines left empty that tasters fill with a common word
    #[arg(long, value_name = "PER CENT", value_parser = per_cent, default_value_t = 70.0)]
    common_words: f64,
    /// People who mark essays, two of them each script
    #[arg(long, value_name = "NUMBER", default_value_t = 2, value_parser = clap::value_parser!(u32).range(1..=100))]
    markers: u32,
    /// How far markers differ in severity: a standard deviation, per cent of an essay's marks
    #[arg(long, value_name = "PER CENT", value_parser = per_cent, default_value_t = 5.0)]
    severity: f64,
    /// Take difficulties as they stand; else each simulated day moves them by what is not known
    #[arg(long)]
    difficulties_known: bool,
    /// Per cent of candidates who do not come
    #[arg(long, value_name = "PER CENT", value_parser = per_cent, default_value_t = 0.0)]
    no_shows: f64,
    /// Per cent of glasses that break before they are tasted
    #[arg(long, value_name = "PER CENT", value_parser = per_cent, default_value_t = 0.0)]
    broken_glasses: f64,
    /// Per cent of theory sheets that cannot be read
    #[arg(long, value_name = "PER CENT", value_parser = per_cent, default_value_t = 0.0)]
    unreadable: f64,
    /// Stop simulating when each part's mean is known to within so many per cent of full marks
    #[arg(long, value_name = "PER CENT", value_parser = per_cent)]
    error_at_most: Option<f64>,
    /// End with code 6 where a part or the total has a lower reliability
    #[arg(long, value_name = "NUMBER", value_parser = share)]
    wants_reliability: Option<f64>,
    /// End with code 6 where a guesser of any kind passes more often, per cent
    #[arg(long, value_name = "PER CENT", value_parser = per_cent)]
    wants_guessers_at_most: Option<f64>,
    /// End with code 6 where more decisions are wrong, per cent of candidates
    #[arg(long, value_name = "PER CENT", value_parser = per_cent)]
    wants_wrong_at_most: Option<f64>,
    /// Set the forecast of this marked sitting's folder beside what happened, and keep how well it
    /// was forecast in FOLDER/forecast-record.csv; nothing is printed
    #[arg(long, value_name = "SITTING", conflicts_with_all = [
        "to", "seed", "error_at_most", "wants_reliability", "wants_guessers_at_most", "wants_wrong_at_most",
    ])]
    against: Option<PathBuf>,
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
fn correlation(text: &str) -> Result<f64, String> {
    bounded(text, -1.0, 1.0)
}
fn per_cent(text: &str) -> Result<f64, String> {
    bounded(text, 0.0, 100.0)
}
fn share(text: &str) -> Result<f64, String> {
    bounded(text, 0.0, 1.0)
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
    let mut usual = Population::default();
    if let Some(sitting) = &given.as_in {
        usual = population_as_in(around, sitting, &usual)?;
        talk.say(&format!(
            "As in {}: theory {:.2} ± {:.2}, tasting {:.2} ± {:.2}, correlation {:.2}.",
            sitting.display(),
            usual.theory_mean,
            usual.theory_deviation,
            usual.tasting_mean,
            usual.tasting_deviation,
            usual.correlation
        ));
    }
    let population = Population {
        theory_mean: given.theory_mean.unwrap_or(usual.theory_mean),
        tasting_mean: given.tasting_mean.unwrap_or(usual.tasting_mean),
        theory_deviation: given.spread.unwrap_or(usual.theory_deviation),
        tasting_deviation: given.spread.unwrap_or(usual.tasting_deviation),
        correlation: given.correlation.unwrap_or(usual.correlation),
        taster: Taster {
            fatigue: given.fatigue,
            carry_over: given.carry_over,
            colour_led: given.colour_led / 100.0,
            middle_weight: given.sensitivity,
            vocabulary: given.vocabulary / 100.0,
            filler: given.common_words / 100.0,
            ..usual.taster
        },
        mishaps: Mishaps {
            no_show: given.no_shows / 100.0,
            broken_glass: given.broken_glasses / 100.0,
            unreadable_sheet: given.unreadable / 100.0,
        },
        markers: Markers {
            number: given.markers,
            severity: given.severity / 100.0,
            ..usual.markers
        },
        question_doubt: if given.difficulties_known { 0.0 } else { 1.0 },
    };
    if let Some(sitting) = &given.against {
        return beside_the_outcome(given, sitting, population, talk, around);
    }
    let request = RehearseRequest {
        folder: given.folder.clone(),
        to: given.to.clone(),
        seed: given.seed.clone(),
        sittings: given.sittings,
        population,
        error_at_most: given.error_at_most.map(|error| error / 100.0),
        wanted: Wanted {
            reliability: given.wants_reliability,
            guessers: given.wants_guessers_at_most.map(|share| share / 100.0),
            wrong: given.wants_wrong_at_most.map(|share| share / 100.0),
        },
    };
    let report = rehearse(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(ended(&report));
    }
    for sentence in &report.not_met {
        talk.data(&format!("! {sentence}"));
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
        "next: look at {}/forecast.html (or forecast.pdf), change the plan, rehearse again; then valinch assemble {}",
        report.folder.display(),
        given.folder.display()
    ));
    Ok(ended(&report))
}

fn ended(report: &RehearseReport) -> Exit {
    if report.not_met.is_empty() {
        Exit::Done
    } else {
        Exit::NotAsWanted
    }
}

/// The forecast of a past sitting beside its outcome.
fn beside_the_outcome(
    given: &RehearseArguments,
    sitting: &std::path::Path,
    population: Population,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    let request = AgainstRequest {
        folder: given.folder.clone(),
        sitting: sitting.to_owned(),
        sittings: given.sittings,
        population,
    };
    let report = rehearse_against(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    talk.data(&format!(
        "{}, {}",
        report.sitting,
        show::count(report.against.candidates, "candidate")
    ));
    talk.data("");
    let rows: Vec<Vec<String>> = report
        .against
        .figures
        .iter()
        .map(|line| {
            let number = |value: f64| format!("{value:.3}");
            vec![
                line.what.clone(),
                number(line.forecast),
                format!("{} to {}", number(line.low), number(line.high)),
                number(line.outcome),
                if line.inside { "yes" } else { "no" }.to_owned(),
            ]
        })
        .collect();
    let head = [
        "figure",
        "forecast",
        "nine sittings in ten",
        "outcome",
        "inside",
    ];
    talk.data(&show::table(&head, &rows));
    talk.data("");
    for sentence in &report.against.verdict {
        talk.data(&format!("· {sentence}"));
    }
    talk.data(&format!(
        "· Over {} kept in {}, {} of {} outcomes lay where nine in ten should.",
        show::count(report.kept.sittings, "sitting"),
        report.kept.table.display(),
        report.kept.inside,
        report.kept.outcomes
    ));
    Ok(Exit::Done)
}
