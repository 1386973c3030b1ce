//! Our side of `tests/peers/run`: writes the tables that all sides read, and prints what, figure,
//! seconds. The figures are held against other software there; nothing here fails for being slow.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr
)]

use std::fmt::Write as _;
use std::path::PathBuf;
use std::time::Instant;

use base::{ExamSeed, Purpose, Stream};
use benches::{forget_peak, peak, resident};
use statistics::agreement::intraclass_correlation::intraclass_correlation;
use statistics::agreement::rating_table::RatingTable;
use statistics::equating::equipercentile::equipercentile_equating;
use statistics::equating::score_distribution::ScoreDistribution;
use statistics::items::item_rest_correlation::item_rest_correlations;
use statistics::reliability::cronbach_alpha::cronbach_alpha;
use statistics::scaling::rasch_conditional::rasch_conditional;
use statistics::scaling::response_table::ResponseTable;
use statistics::scaling::two_parameter::two_parameter;
use statistics::{Confidence, ScoreTable};

/// The median of so many runs.
fn timed(what: &str, runs: usize, mut work: impl FnMut() -> f64) {
    let mut seconds = Vec::new();
    let mut figure = 0.0;
    for _ in 0..runs {
        let begun = Instant::now();
        figure = work();
        seconds.push(begun.elapsed().as_secs_f64());
    }
    seconds.sort_by(f64::total_cmp);
    println!("{what},{figure:.12},{:.6}", seconds[runs / 2]);
}

/// The memory that the work takes over what is there before, by the megabytes of its data, each cell
/// eight bytes. Tables that `work` makes for itself are counted in. Told beside the table, since no
/// peer has a row for it.
fn memory(what: &str, rows: &[Vec<f64>], work: impl FnOnce() -> f64) {
    let data = rows.iter().map(Vec::len).sum::<usize>() as f64 * 8.0 / 1024.0 / 1024.0;
    forget_peak();
    let before = resident();
    let figure = work();
    let more = peak() - before;
    assert!(figure.is_finite(), "{what}");
    eprintln!(
        "memory: {what}: {more:.1} MB over data of {data:.1} MB, {:.1} times",
        more / data
    );
}

fn rating_table(rows: &[Vec<f64>]) -> RatingTable {
    let rated = |row: &Vec<f64>| -> Vec<Option<f64>> { row.iter().copied().map(Some).collect() };
    RatingTable::new(rows.iter().map(rated)).unwrap()
}

fn normal(stream: &mut Stream) -> f64 {
    (0..12).map(|_| stream.unit()).sum::<f64>() - 6.0
}

/// Right or wrong by the Rasch model, difficulties from -2 to 2.
fn rasch(stream: &mut Stream, persons: usize, items: usize) -> Vec<Vec<f64>> {
    (0..persons)
        .map(|_| {
            let ability = normal(stream);
            (0..items)
                .map(|item| {
                    let difficulty = -2.0 + 4.0 * item as f64 / (items - 1) as f64;
                    let right = 1.0 / (1.0 + libm::exp(difficulty - ability));
                    f64::from(u8::from(stream.unit() < right))
                })
                .collect()
        })
        .collect()
}

/// Right or wrong with slopes from .6 to 1.8 and difficulties from -2 to 2.
fn two_slopes(stream: &mut Stream, persons: usize, items: usize) -> Vec<Vec<f64>> {
    (0..persons)
        .map(|_| {
            let ability = normal(stream);
            (0..items)
                .map(|item| {
                    let difficulty = -2.0 + 4.0 * item as f64 / (items - 1) as f64;
                    let slope = 0.6 + 0.2 * (item % 7) as f64;
                    let right = 1.0 / (1.0 + libm::exp(-slope * (ability - difficulty)));
                    f64::from(u8::from(stream.unit() < right))
                })
                .collect()
        })
        .collect()
}

fn main() {
    let folder = std::env::args()
        .skip(1)
        .find(|argument| !argument.starts_with("--"))
        .map(PathBuf::from)
        .expect("the folder for the tables; call tests/peers/run");
    let mut stream = Stream::new(
        &ExamSeed::from_bytes([4; 32]),
        Purpose::RehearsalCandidate,
        0,
    );
    let put = |name: &str, rows: &[Vec<f64>]| {
        let mut text = String::new();
        for row in rows {
            let cells: Vec<String> = row.iter().map(ToString::to_string).collect();
            writeln!(text, "{}", cells.join(",")).unwrap();
        }
        std::fs::write(folder.join(name), text).unwrap();
    };

    let ratings: Vec<Vec<f64>> = (0..2_500)
        .map(|_| {
            let ability = normal(&mut stream);
            (0..4)
                .map(|marker| {
                    (5.0 + 2.0 * ability + 0.3 * f64::from(marker) + normal(&mut stream)).round()
                })
                .collect()
        })
        .collect();
    put("ratings.csv", &ratings);
    timed("alpha 2500 x 4", 21, || {
        let table = ScoreTable::new(&ratings).unwrap();
        cronbach_alpha(&table, Confidence::P95).unwrap().alpha
    });
    // On both sides the table is at hand when the clock starts; ours makes all six forms and limits.
    let rated = rating_table(&ratings);
    timed("ICC(2 1) 2500 x 4", 21, || {
        let made = intraclass_correlation(&rated, Confidence::P95);
        made.unwrap().random_single.value
    });

    let items = rasch(&mut stream, 1_000, 100);
    put("items.csv", &items);
    timed("item-rest r 1000 x 100 last", 21, || {
        let table = ScoreTable::new(&items).unwrap();
        let made = item_rest_correlations(&table, Confidence::P95);
        made.last().unwrap().as_ref().unwrap().r
    });

    let marks = |stream: &mut Stream, middle: f64| -> Vec<usize> {
        (0..2_000)
            .map(|_| (middle + 6.0 * normal(stream)).round().clamp(0.0, 40.0) as usize)
            .collect()
    };
    let (x, y) = (marks(&mut stream, 20.0), marks(&mut stream, 22.0));
    let column =
        |marks: &[usize]| -> Vec<Vec<f64>> { marks.iter().map(|m| vec![*m as f64]).collect() };
    put("x.csv", &column(&x));
    put("y.csv", &column(&y));
    timed("equipercentile 1000 resamples s.e.", 3, || {
        let mut draw = |marks: &[usize]| -> ScoreDistribution {
            let drawn: Vec<usize> = (0..marks.len())
                .map(|_| marks[stream.index(marks.len())])
                .collect();
            ScoreDistribution::from_marks(&drawn, 40).unwrap()
        };
        let at: Vec<f64> = (0..1_000)
            .map(|_| equipercentile_equating(&draw(&x), &draw(&y)).equivalents[20])
            .collect();
        let mean = at.iter().sum::<f64>() / at.len() as f64;
        (at.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / (at.len() - 1) as f64).sqrt()
    });

    let sloped = two_slopes(&mut stream, 10_000, 60);
    put("sloped.csv", &sloped);
    memory("item-rest r 10000 x 60", &sloped, || {
        let table = ScoreTable::new(&sloped).unwrap();
        let made = item_rest_correlations(&table, Confidence::P95);
        made.last().unwrap().as_ref().unwrap().r
    });
    memory("alpha 10000 x 60", &sloped, || {
        let table = ScoreTable::new(&sloped).unwrap();
        cronbach_alpha(&table, Confidence::P95).unwrap().alpha
    });
    memory("ICC 10000 x 60", &sloped, || {
        let made = intraclass_correlation(&rating_table(&sloped), Confidence::P95);
        made.unwrap().random_single.value
    });
    memory("2PL MML 10000 x 60", &sloped, || {
        let table = ResponseTable::from_scores(&ScoreTable::new(&sloped).unwrap()).unwrap();
        two_parameter(&table).unwrap().log_likelihood
    });
    timed("2PL MML 10000 x 60 log-likelihood", 3, || {
        let table = ResponseTable::from_scores(&ScoreTable::new(&sloped).unwrap()).unwrap();
        two_parameter(&table).unwrap().log_likelihood
    });

    let small = rasch(&mut stream, 500, 20);
    put("small.csv", &small);
    let large = rasch(&mut stream, 10_000, 60);
    put("rasch.csv", &large);
    memory("Rasch CML 10000 x 60", &large, || {
        let table = ResponseTable::from_scores(&ScoreTable::new(&large).unwrap()).unwrap();
        let made = rasch_conditional(&table).unwrap();
        made.difficulties.last().unwrap().value
    });
    for (what, rows) in [
        ("Rasch CML 500 x 20 last difficulty", &small),
        ("Rasch CML 10000 x 60 last difficulty", &large),
    ] {
        timed(what, 3, || {
            let table = ResponseTable::from_scores(&ScoreTable::new(rows).unwrap()).unwrap();
            let made = rasch_conditional(&table).unwrap();
            made.difficulties.last().unwrap().value
        });
    }
}
