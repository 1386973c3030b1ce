//! `valinch check`.

use std::path::PathBuf;

use clap::Args;
use workflow::HistoryLine;
use workflow::chance_lines::ChanceLine;
use workflow::check::{CheckReport, EnemyLine, FormLine, PanelLine, USUAL_STALE_AFTER};
use workflow::pour::{Imbalance, OrderLine};
use workflow::{CheckRequest, Surroundings, check, put_schemas};

use super::json;
use crate::bank_picture::bank_picture;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// Read an exam or a bank and list every fault and weakness
///
/// A fault stops the exam, a weakness wants a look. Whether the bank can fill the plan is tried by
/// drawing once. Sources that were looked at too long ago, cells that run dry, questions that ask
/// nearly the same and those that give another's answer away are weaknesses too.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch check examples/evening-class\n  valinch check question-banks/foundation --take 6 --kept 50 --stale-after 2\n  valinch check --schemas editor"
)]
pub(crate) struct CheckArguments {
    /// The folder of an exam (with plan.yaml) or of a bank (with bank.yaml)
    #[arg(required_unless_present = "schemas")]
    folder: Option<PathBuf>,
    /// Put the schemas of all formats into this folder, for editors that complete and check while
    /// you type
    #[arg(long, value_name = "FOLDER")]
    schemas: Option<PathBuf>,
    /// Years after which a source wants to be looked at again
    #[arg(long, value_name = "YEARS", default_value_t = USUAL_STALE_AFTER)]
    stale_after: u32,
    /// The day from which these years are counted back, such as 2026-11-25; today if left out
    #[arg(long, value_name = "DAY")]
    day: Option<String>,
    /// For a bank: how many questions an exam takes of each cell (4 if left out); an exam's plan
    /// says it for itself
    #[arg(long, value_name = "QUESTIONS", value_parser = clap::value_parser!(u32).range(1..=1000))]
    take: Option<u32>,
    /// Planned overlap: percent of an exam's questions that may have stood in the exam before (the
    /// plan's overlap, or 25, if left out)
    #[arg(long, value_name = "PERCENT", value_parser = clap::value_parser!(u32).range(0..=100))]
    kept: Option<u32>,
    /// For an exam: write the forms of the draw that is tried side by side, as a page for a browser
    #[arg(long, value_name = "FILE", requires = "folder")]
    page: Option<PathBuf>,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(
    given: &CheckArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> anyhow::Result<Exit> {
    if let Some(folder) = &given.schemas {
        let files = put_schemas(around, folder)?;
        if given.json && given.folder.is_none() {
            json(talk, &files)?;
        }
        for file in &files {
            talk.say(&format!(
                "{} is meant for {}",
                file.path.display(),
                file.meant_for
            ));
        }
        talk.say("Name one in the first line of a text, as seen from the text:");
        talk.say("# yaml-language-server: $schema=PATH");
    }
    let Some(folder) = &given.folder else {
        return Ok(Exit::Done);
    };
    let request = CheckRequest {
        folder: folder.clone(),
        day: given.day.clone(),
        stale_after: given.stale_after,
        take: given.take,
        kept: given.kept,
        page: given.page.clone(),
    };
    let report = check(around, &request)?;
    if given.json {
        json(talk, &report)?;
    } else {
        show::findings(talk, &report.findings, &report.sources);
        let bank = report.bank.as_ref();
        for part in [
            bank.map(|table| bank_picture(table, &report.cover, talk.width())),
            enemies(&report.enemies),
            forms(&report.forms),
            orders(&report.orders),
            shortfalls(&report.shortfalls),
            panels(&report.panels),
            chance(&report.chance, talk.width()),
            history(&report.history),
        ]
        .into_iter()
        .flatten()
        {
            talk.data(&part);
            talk.data("");
        }
        talk.say(&last_line(&report));
    }
    Ok(if report.faults > 0 {
        Exit::FaultsFound
    } else {
        Exit::Done
    })
}

/// As many pairs as fit a screen; all of them are in the JSON.
const MOST_PAIRS: usize = 20;

fn enemies(lines: &[EnemyLine]) -> Option<String> {
    let mut rows: Vec<Vec<String>> = lines
        .iter()
        .take(MOST_PAIRS)
        .map(|line| {
            vec![
                line.one.to_string(),
                line.other.to_string(),
                line.rule.to_owned(),
            ]
        })
        .collect();
    if lines.len() > MOST_PAIRS {
        rows.push(vec![format!("and {} more", lines.len() - MOST_PAIRS)]);
    }
    (!rows.is_empty()).then(|| {
        format!(
            "to be named as enemies of each other, with the rule that found them\n{}",
            show::list(&rows)
        )
    })
}

fn forms(lines: &[FormLine]) -> Option<String> {
    let rows: Vec<Vec<String>> = lines
        .iter()
        .map(|line| {
            let keys = line.keys.iter().zip('A'..);
            let keys = keys.map(|(count, letter)| format!("{letter} {count}"));
            vec![
                line.form.clone(),
                line.options.to_string(),
                line.keys.iter().sum::<usize>().to_string(),
                keys.collect::<Vec<_>>().join("  "),
            ]
        })
        .collect();
    (!rows.is_empty()).then(|| {
        format!(
            "keys of the best-answer questions on a draw of this plan\n{}",
            show::table(&["form", "options", "questions", "keys"], &rows)
        )
    })
}

fn orders(lines: &[OrderLine]) -> Option<String> {
    let rows: Vec<Vec<String>> = lines
        .iter()
        .map(|line| {
            let line = &line.block;
            let counts = |table: &Imbalance| {
                format!(
                    "{}\u{2013}{} ({:.1} %)",
                    table.least, table.most, table.percent
                )
            };
            vec![
                format!(
                    "{}\u{2013}{}",
                    line.first_glass,
                    line.first_glass + line.samples - 1
                ),
                line.candidates.to_string(),
                counts(&line.place),
                counts(&line.carry_over),
                format!("{:.1} %", line.place.at_least_percent),
            ]
        })
        .collect();
    (!rows.is_empty()).then(|| {
        format!(
            "serving orders on a draw of this plan: how often a sample stands in a place and right before another, imbalance in per cent of the mean\n{}",
            show::table(
                &["glasses", "candidates", "in a place", "before another", "at least"],
                &rows
            )
        )
    })
}

fn shortfalls(sentences: &[String]) -> Option<String> {
    let lines: Vec<String> = sentences
        .iter()
        .map(|sentence| format!("  {sentence}"))
        .collect();
    (!lines.is_empty())
        .then(|| format!("what a draw of this plan cannot keep\n{}", lines.join("\n")))
}

fn panels(lines: &[PanelLine]) -> Option<String> {
    let rows: Vec<Vec<String>> = lines
        .iter()
        .map(|line| {
            vec![
                line.sample.clone(),
                line.assessors.to_string(),
                line.required.to_string(),
                line.agreement
                    .map_or_else(|| "–".to_owned(), |share| format!("{:.0} %", share * 100.0)),
            ]
        })
        .collect();
    (!rows.is_empty())
        .then(|| show::table(&["sample", "assessors", "key words", "cited by"], &rows))
}

/// What a guesser and a lister get, in per cent, as one column for each thing asked; more tables
/// than one where a terminal is too narrow for all.
fn chance(lines: &[ChanceLine], width: usize) -> Option<String> {
    let whole = |share: f64| format!("{:.0}", share * 100.0);
    let pair = |guesser: f64, lister: f64| format!("{}/{}", whole(guesser), whole(lister));
    let mut columns: Vec<(String, Vec<String>)> = Vec::new();
    for (place, asked) in lines.first()?.asked.iter().enumerate() {
        let cells = lines.iter().filter_map(|line| line.asked.get(place));
        let cells = cells.map(|chance| pair(chance.guesser, chance.lister));
        let extra = if asked.extra { "extra" } else { "marks" };
        let head = format!("{}, {} {extra}", asked.asked, asked.marks);
        columns.push((head, cells.collect()));
    }
    let glasses = lines
        .iter()
        .map(|line| match (line.guesser, line.lister) {
            (Some(guesser), Some(lister)) => pair(guesser, lister),
            _ => "–".to_owned(),
        })
        .collect();
    columns.push(("glass".to_owned(), glasses));
    let long = lines.iter().map(|line| line.sample.chars().count()).max()?;
    let mut tables = Vec::new();
    let mut rest = columns.as_slice();
    while !rest.is_empty() {
        let mut used = long.max("sample".len());
        let fitting = rest.iter().take_while(|(head, cells)| {
            let cells = cells.iter().map(|cell| cell.chars().count());
            used += 2 + cells.chain([head.chars().count()]).max().unwrap_or(0);
            used <= width
        });
        // One column at least, or a narrow terminal would never see the end.
        let (now, later) = rest.split_at(fitting.count().clamp(1, rest.len()));
        rest = later;
        let heads: Vec<&str> = std::iter::once("sample")
            .chain(now.iter().map(|(head, _)| head.as_str()))
            .collect();
        let rows: Vec<Vec<String>> = lines
            .iter()
            .enumerate()
            .map(|(row, line)| {
                let cells = now.iter().filter_map(|(_, cells)| cells.get(row).cloned());
                std::iter::once(line.sample.clone()).chain(cells).collect()
            })
            .collect();
        tables.push(show::table(&heads, &rows));
    }
    Some(format!(
        "what is earned without tasting, per cent of the marks: a guesser on average / a lister (one word of each family, or the most general answer)\n{}",
        tables.join("\n\n")
    ))
}

/// The questions with the weakest discrimination, at most so many.
const MOST_SHOWN: usize = 20;

fn history(lines: &[HistoryLine]) -> Option<String> {
    let figure = |figure: Option<f64>| figure.map_or_else(|| "–".to_owned(), |f| format!("{f:.2}"));
    let rows: Vec<Vec<String>> = lines
        .iter()
        .take(MOST_SHOWN)
        .map(|line| {
            vec![
                line.question.clone(),
                line.known.sittings.to_string(),
                line.known.n.to_string(),
                figure(line.known.difficulty),
                figure(line.known.discrimination),
            ]
        })
        .collect();
    let head = format!(
        "Use history of {}, weakest discrimination first",
        show::count(lines.len(), "question")
    );
    (!rows.is_empty()).then(|| {
        let columns = [
            "question",
            "sittings",
            "answers",
            "difficulty",
            "discrimination",
        ];
        format!("{head}\n\n{}", show::table(&columns, &rows))
    })
}

fn last_line(report: &CheckReport) -> String {
    match (report.faults, report.weaknesses) {
        (0, 0) => "Sound: no faults, no weaknesses.".to_owned(),
        (0, weaknesses) => format!(
            "Usable: no faults, {} to look at.",
            if weaknesses == 1 {
                "1 weakness".to_owned()
            } else {
                format!("{weaknesses} weaknesses")
            }
        ),
        (faults, 0) => format!(
            "{}. Mend what is listed and check again.",
            show::count(faults, "fault")
        ),
        (faults, weaknesses) => format!(
            "{}, {}. Mend the faults and check again.",
            show::count(faults, "fault"),
            if weaknesses == 1 {
                "1 weakness".to_owned()
            } else {
                format!("{weaknesses} weaknesses")
            }
        ),
    }
}
