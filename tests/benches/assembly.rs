//! Form assembly against its linear bound, printed as a table; with `--write FOLDER` the problems
//! are put down as JSON for `tests/peers/assembly.py`. `cargo bench --workspace --bench assembly`.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

use std::time::Instant;

use assembler::form_bound::{Bound, deviation_bound};
use assembler::form_model::{FormModel, ModelItem, ModelLine, ModelTarget, WHOLE, in_per_cent};
use assembler::form_search::{Effort, search_forms};
use base::{ExamSeed, Purpose, Stream};

/// What a problem is made of.
#[derive(Clone, Copy)]
struct Shape {
    items: usize,
    forms: usize,
    length: usize,
    cells: usize,
    enemies: usize,
    anchors: usize,
    /// The target is so many times the information of a form of average questions.
    times: f64,
}

/// An invented bank with 2PL parameters; the target is of three abilities.
fn program(shape: Shape) -> FormModel {
    let mut stream = Stream::new(&ExamSeed::from_bytes([8; 32]), Purpose::Practice, 7);
    let parameters: Vec<(f64, f64)> = (0..shape.items)
        .map(|_| (0.6 + 1.2 * stream.unit(), 4.0 * stream.unit() - 2.0))
        .collect();
    let information = |a: f64, b: f64, ability: f64| {
        let p = 1.0 / (1.0 + libm::exp(-a * (ability - b)));
        a * a * p * (1.0 - p)
    };
    let targets = [-1.0, 0.0, 1.0]
        .iter()
        .map(|&ability| {
            let values: Vec<f64> = parameters
                .iter()
                .map(|&(a, b)| information(a, b, ability))
                .collect();
            let mean = values.iter().sum::<f64>() / shape.items as f64;
            let unit = WHOLE as f64 / (shape.times * shape.length as f64 * mean);
            ModelTarget {
                words: format!("information at {ability}"),
                weights: values
                    .iter()
                    .map(|value| (value * unit).round() as i64)
                    .collect(),
                wanted: WHOLE,
            }
        })
        .collect();
    let each = shape.length / shape.cells;
    FormModel {
        items: (0..shape.items)
            .map(|n| ModelItem {
                name: format!("q{n}"),
                line: n % shape.cells,
                shared_counts: true,
            })
            .collect(),
        lines: (0..shape.cells)
            .map(|n| ModelLine {
                words: format!("cell {n}"),
                place: None,
                least: each,
                most: each,
            })
            .collect(),
        forms: shape.forms,
        length: each * shape.cells,
        anchors: (0..shape.anchors).collect(),
        enemies: (0..shape.enemies)
            .map(|n| (shape.anchors + n, shape.items - 1 - n))
            .collect(),
        overlap: Some(0),
        sums: Vec::new(),
        sets: Vec::new(),
        targets,
    }
}

fn as_json(model: &FormModel) -> serde_json::Value {
    serde_json::json!({
        "forms": model.forms,
        "lines": model.items.iter().map(|item| item.line).collect::<Vec<_>>(),
        "wanted": model.lines.iter().map(|line| line.least).collect::<Vec<_>>(),
        "anchors": model.anchors,
        "enemies": model.enemies,
        "targets": model.targets.iter().map(|target| serde_json::json!({
            "wanted": target.wanted,
            "weights": target.weights,
        })).collect::<Vec<_>>(),
    })
}

/// Seconds of processor time of this process so far, on Linux; 0 elsewhere. On a busy machine they
/// say more than the clock.
fn processor_seconds() -> f64 {
    let stat = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after_name = stat.rsplit(')').next().unwrap_or_default();
    // Times of user and kernel are the 12th and 13th field after the name, in hundredths.
    let ticks: f64 = after_name
        .split_whitespace()
        .skip(11)
        .take(2)
        .filter_map(|field| field.parse::<f64>().ok())
        .sum();
    ticks / 100.0
}

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    let folder = arguments
        .iter()
        .position(|argument| argument == "--write")
        .and_then(|place| arguments.get(place + 1));
    let small = Shape {
        items: 400,
        forms: 4,
        length: 40,
        cells: 4,
        enemies: 20,
        anchors: 0,
        times: 1.0,
    };
    let large = Shape {
        items: 5_000,
        forms: 10,
        length: 60,
        cells: 12,
        enemies: 300,
        anchors: 12,
        times: 1.0,
    };
    let grown = |items| Shape {
        items,
        enemies: items / 20,
        ..large
    };
    let problems = [
        ("4x40-of-400-reachable", small, true),
        (
            "4x40-of-400-out-of-reach",
            Shape {
                times: 2.0,
                ..small
            },
            true,
        ),
        ("10x60-of-5000-reachable", large, true),
        (
            "10x60-of-5000-out-of-reach",
            Shape {
                times: 2.5,
                ..large
            },
            true,
        ),
        (
            "5x60-of-500-reachable",
            Shape {
                forms: 5,
                ..grown(500)
            },
            false,
        ),
        ("10x60-of-1500-reachable", grown(1_500), false),
        ("10x60-of-15000-reachable", grown(15_000), false),
        ("10x60-of-50000-reachable", grown(50_000), false),
    ];
    let seed = ExamSeed::from_bytes([9; 32]);
    println!(
        "{:<28} {:>9} {:>8} {:>11} {:>14} {:>9} {:>9} {:>8}",
        "problem", "runs", "s", "processor s", "deviation, %", "bound, %", "bound s", "gap, %"
    );
    for (name, shape, peers) in problems {
        let model = program(shape);
        if let (Some(folder), true) = (folder, peers) {
            let path = std::path::Path::new(folder).join(format!("{name}.json"));
            std::fs::create_dir_all(folder).unwrap();
            std::fs::write(path, as_json(&model).to_string()).unwrap();
        }
        let begun = Instant::now();
        let bound = deviation_bound(&model);
        let bound_seconds = begun.elapsed().as_secs_f64();
        let bound = match bound {
            Bound::AtLeast(bound) => bound * in_per_cent(1),
            Bound::Impossible | Bound::Unknown => f64::NAN,
        };
        let usual = Effort::usual(&model);
        for times in [1, 20] {
            let effort = Effort {
                runs: 3,
                steps: usual.steps * times,
                enough: 0,
                ..usual
            };
            let (begun, worked) = (Instant::now(), processor_seconds());
            let found = search_forms(&model, &seed, &effort).unwrap();
            let seconds = begun.elapsed().as_secs_f64();
            let worked = processor_seconds() - worked;
            let deviation = in_per_cent(found.deviation);
            let gap = if bound > 0.001 {
                format!("{:.2}", (deviation / bound - 1.0) * 100.0)
            } else {
                String::new()
            };
            println!(
                "{name:<28} {:>9} {seconds:>8.2} {worked:>11.2} {deviation:>14.4} {bound:>9.3} {bound_seconds:>9.2} {gap:>8}",
                format!("usual x{times}")
            );
        }
    }
}
