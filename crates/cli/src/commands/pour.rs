//! `valinch pour`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::{Surroundings, pour};

use super::acting::ActingArguments;
use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Work out the pour plan: bottles, volumes, water, grams of ethanol
///
/// Strengths are reckoned with the international alcoholometric formula (OIML R 22), contraction
/// included. The plan names what is in the bottles: it is for the pourer alone.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  valinch pour examples/evening-class")]
pub(crate) struct PourArguments {
    /// The exam's folder
    folder: PathBuf,
    /// Temperature of the room in which spirit and water are measured, °C
    #[arg(long, default_value_t = 20.0, allow_negative_numbers = true)]
    temperature: f64,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the plan as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(given: &PourArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let stated = given.acting.stated();
    let report = pour(around, &given.folder, given.temperature, stated)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    let rows: Vec<Vec<String>> = report
        .samples
        .iter()
        .map(|sample| {
            vec![
                if sample.warm_up {
                    format!("{} (warm-up)", sample.bottle)
                } else {
                    sample.bottle.clone()
                },
                format!("{} × {} ml", sample.bottles_to_bring, sample.bottle_size),
                (sample.glasses_in_room + sample.bottles_in_kits).to_string(),
                sample.spare_pours.to_string(),
                format!("{} ml", sample.volume),
                format!("{} %", sample.strength_bottled),
                format!("{} %", sample.strength_served),
                format!("{:.0} ml", sample.spirit.ceil()),
                format!("{:.0} ml", sample.water),
                format!("{:.1} g", sample.ethanol_grams),
            ]
        })
        .collect();
    talk.data(&show::table(
        &[
            "bottle", "bring", "pours", "spare", "each", "bottled", "served", "spirit", "water",
            "ethanol",
        ],
        &rows,
    ));
    talk.data("");
    let units: Vec<String> = report
        .drinks
        .iter()
        .map(|(unit, number, _)| format!("{number:.1} × {unit}"))
        .collect();
    talk.data(&format!(
        "All glasses of one candidate hold {:.1} g of ethanol if nothing is spat: {}.",
        report.ethanol_grams,
        units.join(", ")
    ));
    talk.data("\nTo buy and to measure out:");
    let shopping: Vec<Vec<String>> = report
        .samples
        .iter()
        .map(|sample| {
            vec![
                format!("{} × {} ml", sample.bottles_to_bring, sample.bottle_size),
                sample.bottle.clone(),
                format!("sold in: {}", sample.sold_in),
                format!(
                    "{:.0} ml and {:.0} ml of water ({:.0} g) at {} °C, less {:.1} ml by contraction",
                    sample.spirit_measured.ceil(),
                    sample.water_measured,
                    sample.water_grams,
                    report.temperature,
                    sample.contraction
                ),
            ]
        })
        .collect();
    talk.data(&show::list(&shopping));
    for line in &report.bring {
        talk.data(&format!("  {line}"));
    }
    talk.data("Sizes are from memory and no statement of law: look up what is sold where you are.");
    talk.data("\nSpirit and water are for all pours, spare and 5 % loss included; strengths in % vol at 20 °C.");
    for sample in report.samples.iter().filter(|s| s.weaker_than_asked) {
        talk.data(&format!(
            "{} is weaker than the plan asks and is served as it is.",
            sample.bottle
        ));
    }
    if !report.times.is_empty() {
        talk.data("\nThe day of pouring:");
        let times: Vec<Vec<String>> = report
            .times
            .iter()
            .map(|step| vec![step.time.clone(), step.what.clone()])
            .collect();
        talk.data(&show::list(&times));
    }
    if !report.orders.is_empty() {
        talk.data("\nServing orders:");
        for line in &report.orders {
            talk.data(&format!("  {}", line.sentences.join(" ")));
        }
    }
    talk.data("");
    for caution in &report.cautions {
        talk.data(&format!("! {caution}"));
    }
    Ok(Exit::Done)
}
