//! `valinch panel`.

use std::path::PathBuf;

use anyhow::Result;
use clap::{Args, Subcommand};
use workflow::panel::agreement::{RatedAs, panel_agreement};
use workflow::panel::counts::read_counts;
use workflow::panel::discrimination::{
    AnswerCounts, Counts, TestMethod, TestRequest, a_not_a_test, critical_table, discriminate,
};
use workflow::panel::flight_pairs::flight_pairs;
use workflow::panel::key_study::{KeyRequest, study_keys};
use workflow::panel::ranking::ranking;
use workflow::{Failure, Surroundings};

use super::json;
use crate::exit::Exit;
use crate::panel_text;
use crate::show;
use crate::talk::Talk;

/// What a reference panel says: keys, twin pairs, discrimination tests, agreement
///
/// Keys and pairs tell what is in the glasses: they are for examiners alone.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch panel key question-banks/foundation --sample malt-skerryhollin-10\n  valinch panel pairs examples/certificate\n  valinch panel test triangle --right 19 --answers 36\n  valinch panel test tetrad --distance 1.5 --power 0.9\n  valinch panel table duo-trio --to 60\n  valinch panel agreement ratings.csv --as levels"
)]
pub(crate) struct PanelArguments {
    #[command(subcommand)]
    task: Task,
    /// Write the report as JSON to standard output
    #[arg(long, global = true)]
    json: bool,
}

#[derive(Debug, Subcommand)]
enum Task {
    /// How far does a panel support the key of a sample?
    Key {
        /// The folder of an exam (its flight) or of a bank
        folder: PathBuf,
        /// Only this sample record
        #[arg(long)]
        sample: Option<String>,
        /// Weight from which a word is required, 0 to 1; the plan's where none is given
        #[arg(long, value_parser = share)]
        threshold: Option<f64>,
    },
    /// Which samples could candidates not tell apart?
    Pairs {
        /// The folder of an exam (its flight) or of a bank
        folder: PathBuf,
    },
    /// A discrimination test: result, distance, power, plan
    Test {
        /// triangle, duo-trio, 2-afc, 3-afc, tetrad, or paired (two-sided)
        #[arg(value_parser = method)]
        method: TestMethod,
        /// Right answers (in a paired comparison: for one of the two)
        #[arg(long, requires = "answers", conflicts_with = "table")]
        right: Option<u32>,
        /// Answers; without --right a number that is thought of
        #[arg(long)]
        answers: Option<u32>,
        /// A table taster,right,answers: tasters who answered several times
        #[arg(long, conflicts_with = "answers")]
        table: Option<PathBuf>,
        /// Risk of finding a difference that is not there
        #[arg(long, default_value_t = 0.05, value_parser = share)]
        risk: f64,
        /// The distance d′ that is not to be missed
        #[arg(long, default_value_t = 1.5, value_parser = distance)]
        distance: f64,
        /// The power wanted
        #[arg(long, default_value_t = 0.8, value_parser = share)]
        power: f64,
        /// Similarity: share of tasters who may be able to tell
        #[arg(long, default_value_t = 0.3, value_parser = share)]
        discriminators: f64,
    },
    /// An A–not A test from its four counts
    ANotA {
        /// Samples of A called A
        #[arg(long)]
        hits: u32,
        /// Samples of A served
        #[arg(long)]
        a_served: u32,
        /// Other samples called A
        #[arg(long)]
        false_alarms: u32,
        /// Other samples served
        #[arg(long)]
        others_served: u32,
    },
    /// A ranking test from a table: assessor, then one column for each sample
    Ranking {
        /// The table
        table: PathBuf,
        /// Risk of finding a difference that is not there
        #[arg(long, default_value_t = 0.05, value_parser = share)]
        risk: f64,
        /// The columns stand in an expected order: test for a trend (Page)
        #[arg(long)]
        expected_order: bool,
    },
    /// How far people agree who rated the same things: a row for each thing, a column for each rater
    Agreement {
        /// The table; a column named sample, subject, candidate, script, thing or id names the things
        table: PathBuf,
        /// What the ratings are: names (no order), levels (ordered) or numbers
        #[arg(long = "as", value_name = "KIND", default_value = "numbers", value_parser = rated_as)]
        rated_as: RatedAs,
    },
    /// Critical numbers as a table
    Table {
        /// triangle, duo-trio, 2-afc, 3-afc, tetrad, or paired (two-sided)
        #[arg(value_parser = method)]
        method: TestMethod,
        /// First number of answers
        #[arg(long, default_value_t = 6)]
        from: u32,
        /// Last number of answers
        #[arg(long, default_value_t = 50)]
        to: u32,
    },
}

pub(crate) fn run(given: &PanelArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let text = match &given.task {
        Task::Key {
            folder,
            sample,
            threshold,
        } => {
            let report = study_keys(
                around,
                &KeyRequest {
                    folder: folder.clone(),
                    sample: sample.clone(),
                    threshold: *threshold,
                },
            )?;
            if given.json {
                return json(talk, &report).map(|()| Exit::Done);
            }
            show::findings(talk, &report.findings, &report.sources);
            panel_text::keys(&report)
        }
        Task::Pairs { folder } => {
            let report = flight_pairs(around, folder)?;
            if given.json {
                return json(talk, &report).map(|()| Exit::Done);
            }
            panel_text::pairs(&report)
        }
        Task::Test {
            method,
            right,
            answers,
            table,
            risk,
            distance,
            power,
            discriminators,
        } => {
            let counts = match (right, answers, table) {
                (_, _, Some(table)) => Counts::Replicated(read_counts(around, table)?),
                (Some(right), Some(answers), None) => Counts::Single {
                    right: *right,
                    answers: *answers,
                },
                (_, answers, None) => Counts::Planned(*answers),
            };
            let report = discriminate(&TestRequest {
                method: *method,
                counts,
                risk: *risk,
                distance: *distance,
                power: *power,
                discriminators: *discriminators,
            })?;
            if given.json {
                return json(talk, &report).map(|()| Exit::Done);
            }
            panel_text::test(&report)
        }
        Task::ANotA {
            hits,
            a_served,
            false_alarms,
            others_served,
        } => {
            let report = a_not_a_test(AnswerCounts {
                hits: *hits,
                a_served: *a_served,
                false_alarms: *false_alarms,
                others_served: *others_served,
            })?;
            if given.json {
                return json(talk, &report).map(|()| Exit::Done);
            }
            panel_text::a_not_a(&report)
        }
        Task::Ranking {
            table,
            risk,
            expected_order,
        } => {
            let report = ranking(around, table, *risk, *expected_order)?;
            if given.json {
                return json(talk, &report).map(|()| Exit::Done);
            }
            panel_text::ranking(&report)
        }
        Task::Agreement { table, rated_as } => {
            let report = panel_agreement(around, table, *rated_as)?;
            if given.json {
                return json(talk, &report).map(|()| Exit::Done);
            }
            panel_text::agreement(&report)
        }
        Task::Table { method, from, to } => {
            let report: Result<_, Failure> = critical_table(*method, *from, *to);
            let report = report?;
            if given.json {
                return json(talk, &report).map(|()| Exit::Done);
            }
            panel_text::table(&report)
        }
    };
    talk.data(&text);
    Ok(Exit::Done)
}

fn share(written: &str) -> Result<f64, String> {
    let read: Option<f64> = written.replace(',', ".").parse().ok();
    read.filter(|share| *share > 0.0 && *share < 1.0)
        .ok_or_else(|| "a share between 0 and 1, such as 0.05".to_owned())
}

fn distance(written: &str) -> Result<f64, String> {
    let read: Option<f64> = written.replace(',', ".").parse().ok();
    read.filter(|distance| (0.05..=20.0).contains(distance))
        .ok_or_else(|| "a distance d′ from 0.05 to 20".to_owned())
}

fn rated_as(written: &str) -> Result<RatedAs, String> {
    RatedAs::ALL
        .into_iter()
        .find(|kind| kind.word() == written.to_lowercase())
        .ok_or_else(|| format!("one of: {}", RatedAs::ALL.map(RatedAs::word).join(", ")))
}

fn method(written: &str) -> Result<TestMethod, String> {
    let words: Vec<&str> = TestMethod::ALL.iter().map(|m| m.word()).collect();
    TestMethod::ALL
        .into_iter()
        .find(|m| m.word() == written.to_lowercase())
        .ok_or_else(|| format!("one of: {}", words.join(", ")))
}
