//! `valinch dilute`.

use anyhow::Result;
use clap::{Args, Subcommand};
use workflow::dilute::{Amount, DiluteReport, DiluteRequest, StatedStrength};
use workflow::{StrengthScale, dilute};

use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Strength arithmetic: reduce, make up, blend, measure, change scales
///
/// By the international alcoholometric formula (OIML R 22), by mass, contraction included. A
/// strength is written in % vol, or on a scale by name: 46, 92us-proof, 70uk-proof, 50gay-lussac,
/// 50tralles, 19cartier, 42mass.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch dilute reduce --volume 700 --from 63.2 --to 46\n  valinch dilute make --volume 20 --times 25 --from 58 --to 40 --temperature 18\n  valinch dilute blend 300@63 700@41\n  valinch dilute scales 46"
)]
pub(crate) struct DiluteArguments {
    #[command(subcommand)]
    task: Task,
}

#[derive(Debug, Subcommand)]
enum Task {
    /// How much water brings a spirit to a strength?
    Reduce {
        /// Spirit at hand, ml at the temperature
        #[arg(
            long,
            allow_negative_numbers = true,
            required_unless_present = "grams",
            conflicts_with = "grams"
        )]
        volume: Option<f64>,
        /// Spirit at hand, g
        #[arg(long, allow_negative_numbers = true)]
        grams: Option<f64>,
        #[command(flatten)]
        way: Way,
    },
    /// How much spirit and water make so much of a strength?
    Make {
        /// Wanted in each glass or batch, ml at the temperature
        #[arg(long, allow_negative_numbers = true)]
        volume: f64,
        /// How many glasses or batches
        #[arg(long, default_value_t = 1)]
        times: u32,
        #[command(flatten)]
        way: Way,
    },
    /// What do spirits (and water) give together?
    Blend {
        /// Each part as VOLUME@STRENGTH in ml, or MASSg@STRENGTH: 300@63, 120g@96, 50@0
        #[arg(required = true, num_args = 1.., value_parser = part)]
        parts: Vec<(Amount, StatedStrength)>,
        #[command(flatten)]
        room: RoomTemperature,
    },
    /// What strength has a spirit of a measured density, or alcoholometer reading?
    Measure {
        /// Density, kg/m³
        #[arg(
            long,
            allow_negative_numbers = true,
            required_unless_present = "reading",
            conflicts_with = "reading"
        )]
        density: Option<f64>,
        /// Reading of a glass alcoholometer, % vol
        #[arg(long, allow_negative_numbers = true)]
        reading: Option<f64>,
        #[command(flatten)]
        room: RoomTemperature,
    },
    /// What is a strength on other scales, and what is in a pour of it?
    Scales {
        /// The strength: 46, 92us-proof, 50tralles …
        #[arg(value_parser = strength, allow_hyphen_values = true)]
        strength: StatedStrength,
        /// The pour, ml
        #[arg(long, default_value_t = 20.0, allow_negative_numbers = true)]
        volume: f64,
        /// Write the report as JSON to standard output
        #[arg(long)]
        json: bool,
    },
}

#[derive(Debug, Args)]
struct Way {
    /// Strength of the spirit
    #[arg(long, value_parser = strength, allow_hyphen_values = true)]
    from: StatedStrength,
    /// Strength wanted
    #[arg(long, value_parser = strength, allow_hyphen_values = true)]
    to: StatedStrength,
    #[command(flatten)]
    room: RoomTemperature,
}

#[derive(Debug, Args)]
struct RoomTemperature {
    /// Temperature of the liquids, °C
    #[arg(long, default_value_t = 20.0, allow_negative_numbers = true)]
    temperature: f64,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(given: &DiluteArguments, talk: &Talk) -> Result<Exit> {
    let (request, as_json) = request(&given.task);
    let report = dilute(&request)?;
    if as_json {
        json(talk, &report)?;
    } else {
        talk.data(&text(&report));
    }
    Ok(Exit::Done)
}

fn request(task: &Task) -> (DiluteRequest, bool) {
    match task {
        Task::Reduce { volume, grams, way } => (
            DiluteRequest::Reduce {
                spirit: match (volume, grams) {
                    (_, Some(grams)) => Amount::Grams(*grams),
                    (volume, None) => Amount::Millilitres(volume.unwrap_or(0.0)),
                },
                from: way.from,
                to: way.to,
                temperature: way.room.temperature,
            },
            way.room.json,
        ),
        Task::Make { volume, times, way } => (
            DiluteRequest::Make {
                wanted: *volume,
                times: *times,
                from: way.from,
                to: way.to,
                temperature: way.room.temperature,
            },
            way.room.json,
        ),
        Task::Blend { parts, room } => (
            DiluteRequest::Blend {
                parts: parts.clone(),
                temperature: room.temperature,
            },
            room.json,
        ),
        Task::Measure {
            density,
            reading,
            room,
        } => (
            match (density, reading) {
                (_, Some(reading)) => DiluteRequest::FromReading {
                    reading: *reading,
                    temperature: room.temperature,
                },
                (density, None) => DiluteRequest::FromDensity {
                    density: density.unwrap_or(0.0),
                    temperature: room.temperature,
                },
            },
            room.json,
        ),
        Task::Scales {
            strength,
            volume,
            json,
        } => (
            DiluteRequest::Scales {
                strength: *strength,
                volume: *volume,
            },
            *json,
        ),
    }
}

fn text(report: &DiluteReport) -> String {
    let written: Vec<String> = report
        .figures
        .iter()
        .map(|figure| format!("{:.*}", figure.decimals, figure.value))
        .collect();
    let width = written.iter().map(|w| w.chars().count()).max().unwrap_or(0);
    let rows: Vec<Vec<String>> = report
        .figures
        .iter()
        .zip(&written)
        .map(|(figure, number)| {
            vec![
                figure.what.clone(),
                format!("{number:>width$} {}", figure.unit),
            ]
        })
        .collect();
    let mut parts = vec![report.question.clone(), show::list(&rows)];
    if !report.remarks.is_empty() {
        parts.push(report.remarks.join("\n"));
    }
    parts.push(format!("Source: {}.", report.source));
    let cautions: Vec<String> = report.cautions.iter().map(|c| format!("! {c}")).collect();
    parts.push(cautions.join("\n"));
    parts.join("\n\n")
}

/// `46`, `46 %`, `92us-proof`.
fn strength(written: &str) -> Result<StatedStrength, String> {
    let written = written.trim();
    let end = written
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+')))
        .unwrap_or(written.len());
    let (figure, scale) = written.split_at(end);
    let words: Vec<&str> = StrengthScale::ALL.iter().map(|s| s.word()).collect();
    let allowed = || {
        format!(
            "a strength is a number, in % vol or with a scale: {}",
            words.join(", ")
        )
    };
    let figure: f64 = figure.replace(',', ".").parse().map_err(|_| allowed())?;
    let scale = scale.trim().to_lowercase();
    let scale = match scale.as_str() {
        "" | "%" | "% vol" | "%vol" => StrengthScale::VolumePercent,
        named => StrengthScale::ALL
            .into_iter()
            .find(|s| s.word() == named)
            .ok_or_else(allowed)?,
    };
    Ok(StatedStrength { figure, scale })
}

/// `300@63`, `120g@96us-proof`.
fn part(written: &str) -> Result<(Amount, StatedStrength), String> {
    let wanted = || "a part is VOLUME@STRENGTH in ml, or MASSg@STRENGTH: 300@63".to_owned();
    let (amount, percent) = written.split_once('@').ok_or_else(wanted)?;
    let number = |text: &str| -> Result<f64, String> {
        text.trim().replace(',', ".").parse().map_err(|_| wanted())
    };
    let amount = amount.trim();
    let amount = if let Some(grams) = amount.strip_suffix('g') {
        Amount::Grams(number(grams)?)
    } else {
        Amount::Millilitres(number(amount.strip_suffix("ml").unwrap_or(amount))?)
    };
    Ok((amount, strength(percent)?))
}
