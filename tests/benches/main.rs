//! Speed and memory, printed as a table: `cargo bench --workspace --bench table`. Nothing here fails for being slow;
//! the aims stand beside the figures.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use base::{ExamSeed, Marks, SourceText};
use exam_plan::Exam;
use question_bank::read::{BankTexts, SampleTexts};
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
    let mut measure = |what, aim, work: &mut dyn FnMut()| {
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

    measure(
        "check the shipped full example",
        "under 0.05 s",
        &mut || {
            black_box(
                workflow::check(&workflow::Disk, &top().join("examples/certificate")).unwrap(),
            );
        },
    );
    let texts = large_bank(2_000);
    measure("check a bank of 2,000 questions", "", &mut || {
        let bank = question_bank::read::read_bank(&texts).value.unwrap();
        black_box(question_bank::check::check_questions(&bank));
    });
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
    let record = exam.bank.samples.values().next().unwrap();
    let large = large_panel(record);
    measure(
        "key of a panel of 12 with 60 words",
        "under 0.05 s",
        &mut || {
            black_box(workflow::panel::key_study::study(&large, 0.25));
        },
    );
    measure("triangle tables to n of 1,000", "under 1 s", &mut || {
        use workflow::panel::discrimination::{TestMethod, critical_table};
        for method in TestMethod::ALL {
            black_box(critical_table(method, 1, 1000).unwrap());
        }
    });
    measure(
        "codes, orders for 10,000 candidates",
        "under 5 s with seats",
        &mut || {
            let seed = ExamSeed::from_bytes([5; 32]);
            let flight = [question_bank::sample_record::CarryOver::Ordinary; 6];
            // 200 rooms of 50 seats, in rows of ten: a room is dealt by itself.
            let row = |seat: u32| (seat % 10 != 9).then_some((seat as usize, seat as usize + 1));
            let beside: Vec<(usize, usize)> = (0..50).filter_map(row).collect();
            for room in 0..200_u64 {
                let mut bytes = *seed.bytes();
                bytes[..8].copy_from_slice(&room.to_be_bytes());
                let seed = ExamSeed::from_bytes(bytes);
                let orders = assembler::serving_order::serving_orders(&flight, &seed);
                black_box(assembler::serving_order::deal_orders(
                    &orders, 50, &beside, &seed,
                ));
                black_box(assembler::glass_codes::glass_codes(50, 6, true, &seed));
            }
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

fn top() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .ancestors()
        .nth(2)
        .unwrap()
        .to_path_buf()
}

/// The notes of 12 assessors on 60 words.
fn large_panel(record: &question_bank::SampleRecord) -> question_bank::SampleRecord {
    use question_bank::reference_tasting::{PanelNote, ReferenceTasting, Stage};
    let mut tasting = ReferenceTasting::default();
    for assessor in 0..12 {
        tasting.assessors.push(format!("A{assessor}"));
        for word in 0..60_usize {
            if (assessor * 7 + word * 5) % 4 > 0 {
                tasting.notes.push(PanelNote {
                    assessor,
                    stage: Stage::Nose,
                    descriptor: format!("word {word}"),
                    intensity: u32::try_from((assessor * 13 + word * 11) % 5 + 1).unwrap() * 200,
                    session: 0,
                });
            }
        }
    }
    question_bank::SampleRecord {
        tasting,
        ..record.clone()
    }
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

/// The shipped bank with its questions repeated under other names until there are so many.
fn large_bank(questions: usize) -> BankTexts {
    let mut faults = Vec::new();
    let folder = top().join("question-banks/foundation");
    let texts = Texts::of_bank(&workflow::Disk, &folder, &mut faults).unwrap();
    let mut bank = texts.bank(&mut faults).unwrap();
    let one: usize = bank
        .questions
        .iter()
        .map(|t| t.text.matches("\n  - id: ").count())
        .sum();
    let shipped = bank.questions.clone();
    for copy in 1..=questions.div_ceil(one.max(1)) {
        bank.questions
            .extend(shipped.iter().map(|source| renamed(source, copy)));
    }
    let keep = bank.samples.split_off(bank.samples.len().min(1));
    drop::<Vec<SampleTexts>>(keep);
    bank
}

/// A file of questions whose ids have a number appended, enemies included.
fn renamed(source: &SourceText, copy: usize) -> SourceText {
    let mut text = String::with_capacity(source.text.len() + 4096);
    for line in source.text.lines() {
        let trimmed = line.trim_start();
        if let Some(id) = trimmed.strip_prefix("- id: ") {
            text.push_str(&format!("  - id: {}.c{copy}\n", id.trim()));
        } else if let Some(list) = trimmed.strip_prefix("enemies: [") {
            let names = list.split(']').next().unwrap_or("");
            let names: Vec<String> = names
                .split(',')
                .map(|n| format!("{}.c{copy}", n.trim()))
                .collect();
            text.push_str(&format!("    enemies: [{}]\n", names.join(", ")));
        } else {
            text.push_str(line);
            text.push('\n');
        }
    }
    SourceText::new(&format!("{}-{copy}", source.name), &text)
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
