//! Speed and memory, printed as a table: `cargo bench --workspace --bench table`. Nothing here fails for being slow;
//! the aims stand beside the figures.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

mod custody;
mod large_bank;
mod yaml_alone;

use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use benches::{forget_peak, peak, resident};

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
    measure("assemble 3 forms of 40", "under 0.1 s", &mut || {
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
    let room = room_of_fifty(&exam);
    measure(
        "orders, codes and seats, 10,000 in 200 rooms",
        "under 5 s",
        &mut || {
            // A room is a sitting of its own: forms, seats, orders, codes.
            for number in 0..200_u64 {
                let mut bytes = [5; 32];
                bytes[..8].copy_from_slice(&number.to_be_bytes());
                let seed = ExamSeed::from_bytes(bytes);
                let sitting = assembler::assemble(&room, &seed).unwrap();
                assert_eq!(sitting.places.len(), 50);
                black_box(sitting);
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
                error_at_most: None,
                wanted: workflow::Wanted::default(),
            };
            black_box(workflow::rehearse(&workflow::Disk, &request).unwrap());
        },
    );

    forty(&exam, &mut measure);

    let folder = tempfile::tempdir().unwrap();
    let mut small = custody::small(folder.path());
    measure("acknowledge 1,000 entries of a ledger", "", &mut || {
        custody::acknowledged(&mut small);
    });
    measure("the same in plain SQLite", "", &mut || {
        custody::plain(folder.path());
    });
    let texts = custody::ledger(1_000_000);
    measure("check a ledger of 1,000,000 entries", "", &mut || {
        custody::checked(&texts);
    });
    drop(texts);
    let leaves = custody::leaves(100_000);
    measure("prove one leaf of 100,000", "", &mut || {
        custody::proof(&leaves);
    });
    let many = custody::many(100_000);
    let mut size = 0;
    measure("put 100,000 candidates into a register", "", &mut || {
        size = custody::put(folder.path(), &many);
    });
    measure("open it and read all", "", &mut || {
        custody::read(folder.path());
    });
    println!(
        "a register of 100,000 candidates: {:.1} MB",
        size as f64 / 1e6
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

/// Ten thousand sittings of forty candidates who take the full example, all by kit, so that they
/// need no room; the largest simulation error of a mean and the processors that were busy are told.
fn forty(exam: &Exam, measure: &mut Measure<'_>) {
    let mut exam = exam.clone();
    let known = exam.roster.candidates.clone();
    exam.roster.candidates = (0..40)
        .map(|number| exam_plan::roster::Candidate {
            number: base::CandidateNumber::parse(&format!("F-{number:02}")).unwrap(),
            service: exam_plan::Service::Kit,
            ..known[number % known.len()].clone()
        })
        .collect();
    let seed = ExamSeed::from_bytes([9; 32]);
    let sitting = assembler::assemble(&exam, &seed).unwrap();
    let extent = results::rehearsal::Extent {
        sittings: 10_000,
        ..results::rehearsal::Extent::default()
    };
    measure(
        "simulate 10,000 sittings of 40 candidates",
        "error below 1 %",
        &mut || {
            let (begun, busy) = (Instant::now(), processor_seconds());
            let made = results::rehearsal::forecast(
                &exam,
                &sitting,
                &seed,
                &results::rehearsal::Population::default(),
                &extent,
                &results::rehearsal::GraderMarking::new(&exam),
            );
            let cores = (processor_seconds() - busy) / begun.elapsed().as_secs_f64();
            let error = made
                .scores
                .iter()
                .map(|score| {
                    score.mean_error.as_ref().unwrap() / score.mean.as_ref().unwrap() * 100.0
                })
                .fold(0.0, f64::max);
            println!(
                "10,000 × 40: {cores:.1} processors busy, largest error of a mean {error:.3} %"
            );
            black_box(made);
        },
    );
}

/// Seconds of processor time of this process so far, on Linux; 0 elsewhere.
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

/// The full example in a room of fifty seats, all taken: five tables of ten, two and two facing each
/// other, and six samples.
fn room_of_fifty(exam: &Exam) -> Exam {
    let text = "room: R\ntables:\n  - { id: a, seats: 10 }\n  - { id: b, seats: 10 }\n  - { id: c, seats: 10 }\n  - { id: d, seats: 10 }\n  - { id: e, seats: 10 }\nfacing: [[a, b], [c, d]]\n";
    let mut roster = String::from("candidate,name\n");
    for number in 1..=50 {
        roster.push_str(&format!("C-{number:03},Name\n"));
    }
    let source = |name: &str, text: &str| base::SourceText::new(name, text);
    let mut room = exam.clone();
    room.room = exam_plan::read::read_room(&source("room.yaml", text))
        .value
        .unwrap();
    room.roster = exam_plan::read::read_roster(&source("roster.csv", &roster))
        .value
        .unwrap()
        .roster;
    let place = room.plan.tasting.as_ref().unwrap().samples[0].1.clone();
    let ids: Vec<_> = exam.bank.samples.keys().take(6).cloned().collect();
    let part = room.plan.tasting.as_mut().unwrap();
    part.samples = ids.into_iter().map(|id| (id, place.clone())).collect();
    part.codes = exam_plan::plan::CodeSharing::Candidate;
    part.check_digit = true;
    room
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
