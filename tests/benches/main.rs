//! Speed and memory, printed as a table: `cargo bench --workspace --bench table`. Nothing here fails for being slow;
//! the aims stand beside the figures.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

mod large_bank;
mod yaml_alone;

use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use base::{ExamSeed, Marks};
use exam_plan::Exam;
use renderer::{Look, PdfStamp, Renderer};
use results::marker::{ItemPlace, Marker};
use workflow::texts::Texts;

/// One row of the table.
struct Row {
    what: &'static str,
    seconds: f64,
    megabytes: f64,
    aim: &'static str,
}

fn main() {
    let exam = exam();
    let mut rows = Vec::new();
    // `cargo bench … -- WORDS` measures only the rows that have these words.
    let wanted: Vec<String> = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"))
        .collect();
    let mut measure = |what: &'static str, aim, work: &mut dyn FnMut()| {
        if !wanted.iter().all(|word| what.contains(word.as_str())) {
            return;
        }
        forget_peak();
        let before = resident();
        let begun = Instant::now();
        work();
        let seconds = begun.elapsed().as_secs_f64();
        rows.push(Row {
            what,
            seconds,
            megabytes: peak() - before,
            aim,
        });
    };

    let request = workflow::CheckRequest::of(&top().join("examples/certificate"));
    measure(
        "check the shipped full example",
        "under 0.05 s",
        &mut || {
            black_box(workflow::check(&workflow::Disk, &request).unwrap());
        },
    );
    let texts = large_bank::repeated(2_000);
    measure("check a bank of 2,000 questions", "", &mut || {
        let bank = question_bank::read::read_bank(&texts).value.unwrap();
        black_box(question_bank::check::check_questions(&bank));
    });
    drop(texts);
    large_rows(&mut measure);
    let seed = ExamSeed::from_bytes([9; 32]);
    measure("assemble 3 forms of 40", "under 0.2 s", &mut || {
        black_box(assembler::assemble(&exam, &seed).unwrap());
    });
    let sitting = assembler::assemble(&exam, &seed).unwrap();
    let marker = Marker::new(&exam, &sitting).unwrap();
    measure(
        "mark 100,000 theory scripts of 40",
        "constant memory",
        &mut || {
            let letters = ["A", "B", "C", "A C", "40.5", "B A C", "copper"];
            let mut sum = Marks::ZERO;
            for script in 0..100_000_usize {
                let candidate = script % sitting.places.len();
                for item in 0..marker.questions(candidate) {
                    let answer = letters[(script + item) % letters.len()];
                    sum += marker
                        .mark(candidate, ItemPlace(item), answer)
                        .unwrap()
                        .marks();
                }
            }
            black_box(sum);
        },
    );
    measure(
        "mark 100,000 tasting answers of 6 words",
        "constant memory",
        &mut || {
            let words: Vec<&str> = exam
                .bank
                .lexicon
                .words()
                .map(|(_, word)| word.word.as_str())
                .collect();
            let mut answer = String::new();
            let mut sum = Marks::ZERO;
            for number in 0..100_000_usize {
                answer.clear();
                for place in 0..6 {
                    answer.push_str(words[(number * 7 + place * 31) % words.len()]);
                    answer.push(';');
                }
                let candidate = number % sitting.places.len();
                let item = marker.by_glass(candidate, 1 + number % 3, "aroma").unwrap();
                sum += marker.mark(candidate, item, &answer).unwrap().marks();
            }
            black_box(sum);
        },
    );
    let renderer = Renderer::new(&std::collections::BTreeMap::new()).unwrap();
    let booklet = renderer::samples::theory_booklet();
    measure("print 200 booklets", "", &mut || {
        for number in 0..200 {
            let stamp = PdfStamp::new(format!("bench/{number}"));
            black_box(
                renderer
                    .theory_booklet(&booklet, &Look::default(), &stamp)
                    .unwrap(),
            );
        }
    });
    measure(
        "rehearse the full example, all papers",
        "under 10 s",
        &mut || {
            let folder = tempfile::tempdir().unwrap();
            let request = workflow::RehearseRequest {
                folder: top().join("examples/certificate"),
                to: Some(folder.path().join("rehearsal")),
                seed: None,
                sittings: 200,
                population: workflow::Population::default(),
            };
            black_box(workflow::rehearse(&workflow::Disk, &request).unwrap());
        },
    );

    println!(
        "{:<44} {:>10} {:>12}  aim",
        "what", "seconds", "peak MB more"
    );
    for row in rows {
        println!(
            "{:<44} {:>10.3} {:>12.1}  {}",
            row.what, row.seconds, row.megabytes, row.aim
        );
    }
}

/// Measures some work: what it is, its aim, and the work.
type Measure<'m> = dyn FnMut(&'static str, &'static str, &mut dyn FnMut()) + 'm;

/// A bank of 100,000 questions beside what the YAML library needs for the same text.
fn large_rows(measure: &mut Measure<'_>) {
    let texts = large_bank::varied(100_000);
    let bytes: usize = texts.questions.iter().map(|t| t.text.len()).sum();
    println!(
        "100,000 questions: {:.1} MB of text",
        bytes as f64 / 1_048_576.0
    );
    measure("100,000 questions: the YAML library alone", "", &mut || {
        for text in &texts.questions {
            black_box(yaml_alone::parse(&text.text));
        }
    });
    measure(
        "100,000 questions: read and check",
        "3 × the row above, 2 × the text",
        &mut || {
            let bank = question_bank::read::read_bank(&texts).value.unwrap();
            black_box(question_bank::check::check_questions(&bank));
        },
    );
    measure("100,000 questions: read", "", &mut || {
        black_box(question_bank::read::read_bank(&texts).value.unwrap());
    });
}

fn top() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .ancestors()
        .nth(2)
        .unwrap()
        .to_path_buf()
}

fn exam() -> Exam {
    let mut faults = Vec::new();
    let texts = Texts::of_exam(
        &workflow::Disk,
        &top().join("examples/certificate"),
        &mut faults,
    )
    .unwrap();
    workflow::load::exam(&texts, &mut faults).unwrap()
}

/// A figure of this process in megabytes; 0 where the system does not tell.
fn figure(name: &str) -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status
        .lines()
        .find(|line| line.starts_with(name))
        .unwrap_or("");
    let kilobytes = line
        .split_whitespace()
        .nth(1)
        .and_then(|n| n.parse::<f64>().ok());
    kilobytes.unwrap_or(0.0) / 1024.0
}
fn resident() -> f64 {
    figure("VmRSS:")
}
fn peak() -> f64 {
    figure("VmHWM:")
}
/// Makes the system count the peak anew, where it lets us.
fn forget_peak() {
    let _ = std::fs::write("/proc/self/clear_refs", "5");
}
