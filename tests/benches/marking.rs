//! Our side of the comparison of marking with other software: writes the tables that all sides read,
//! and prints what, figure, seconds, megabytes more at the peak. `cargo bench --workspace --bench
//! marking -- FOLDER SCRIPTS`, then `tests/peers/marking.py FOLDER`.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

use std::hint::black_box;
use std::io::{BufReader, BufWriter, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::Instant;

use base::{CandidateNumber, ExamSeed, Marks, Purpose, SourceName, Stream};
use exam_plan::Exam;
use exam_plan::plan::{HowMany, Wanted};
use grader::{KnownWords, SampleKey, Sentences, mark_tasting};
use question_bank::QuestionKind;
use renderer::{Look, PdfStamp, Renderer};
use results::marker::Marker;
use results::recall::Recall;
use workflow::answers::{Intake, take_in};
use workflow::texts::Texts;

/// Questions on a script, all single best answers, so that any side can mark them by one letter.
const QUESTIONS: usize = 40;

fn main() {
    let mut arguments = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"));
    let folder = PathBuf::from(arguments.next().expect("a folder to write into"));
    let scripts: usize = arguments.next().map_or(1_000_000, |n| n.parse().unwrap());
    let exam = letters_only(exam());
    let sitting = assembler::assemble(&exam, &ExamSeed::from_bytes([9; 32])).unwrap();
    let marker = Marker::new(&exam, &sitting).unwrap();
    let people = sitting.places.len();
    write_tables(&folder, &exam, &sitting, scripts);

    println!("what,figure,seconds,megabytes");
    let path = folder.join("theory.csv");
    measure("parse the CSV with the library", || {
        let mut reader = csv::Reader::from_path(&path).unwrap();
        let mut record = csv::ByteRecord::new();
        let mut cells = 0;
        while reader.read_byte_record(&mut record).unwrap() {
            cells += black_box(&record).len();
        }
        cells as f64
    });
    measure("mark the scripts from CSV, with reasons", || {
        // A sitting has as many people as it has; a table of a million is read class by class.
        let mut input = BufReader::with_capacity(1 << 20, std::fs::File::open(&path).unwrap());
        let mut recall = Recall::default();
        let source = SourceName::new("theory.csv");
        let header = line(&mut input);
        let mut sum = Marks::ZERO;
        loop {
            let mut class = header.clone();
            for _ in 0..people {
                class.extend(line(&mut input));
            }
            if class.len() == header.len() {
                break;
            }
            let mut intake = Intake::new(&marker);
            take_in(
                &marker,
                &source,
                Box::new(std::io::Cursor::new(class)),
                &mut intake,
                &mut |candidate, item, answer, _| {
                    let award = marker.mark_recalling(&mut recall, candidate, item, answer);
                    sum += black_box(award).unwrap().marks();
                },
            );
            assert!(intake.faults.is_empty(), "{:?}", intake.faults.first());
        }
        sum.as_f64()
    });
    descriptors();
    regrade(&exam, &sitting, scripts / 50);
    reports();
}

/// The next line with its end; empty at the end.
fn line(input: &mut impl std::io::BufRead) -> Vec<u8> {
    let mut line = Vec::new();
    input.read_until(b'\n', &mut line).unwrap();
    line
}

/// Answers of six words about the rum of the example: verdicts alone, then with their sentences.
fn descriptors() {
    let exam = exam();
    let part = exam.plan.tasting.as_ref().unwrap();
    let words = KnownWords::of(&exam.bank);
    let key = SampleKey::new(exam.sample(&part.samples[0].0).unwrap(), words, part);
    let names: Vec<&str> = exam
        .bank
        .lexicon
        .words()
        .map(|(_, word)| word.word.as_str())
        .collect();
    let answers: Vec<String> = (0..50_000_usize)
        .map(|number| {
            let six = (0..6).map(|place| names[(number * 7 + place * 31) % names.len()]);
            six.collect::<Vec<_>>().join("; ")
        })
        .collect();
    let question = &part.ask[0];
    measure("50,000 answers of 6 descriptors", || {
        let marks = answers
            .iter()
            .map(|answer| mark_tasting(&key, words, question, answer).marks());
        marks.sum::<Marks>().as_f64()
    });
    measure("the same with their sentences", || {
        let outcomes = answers
            .iter()
            .map(|answer| mark_tasting(&key, words, question, answer).told(Sentences::english()));
        outcomes
            .map(|outcome| black_box(outcome).marks())
            .sum::<Marks>()
            .as_f64()
    });
}

/// A sitting of so many, marked twice and set side by side.
fn regrade(exam: &Exam, sitting: &assembler::Sitting, scripts: usize) {
    let mut large = sitting.clone();
    large.places = (0..scripts)
        .map(|number| {
            let mut place = sitting.places[number % sitting.places.len()].clone();
            place.candidate = CandidateNumber::parse(&format!("L-{number}")).unwrap();
            place.glasses.clear();
            place
        })
        .collect();
    let marker = Marker::new(exam, &large).unwrap();
    let mark = |shift: usize| {
        let mut recall = Recall::default();
        let mut awards = Vec::new();
        for candidate in 0..scripts {
            for item in 0..QUESTIONS {
                let letter = ["A", "B", "C"][(candidate * 5 + item * 3 + shift) % 3];
                let item = results::marker::ItemPlace(item);
                awards.extend(marker.mark_recalling(&mut recall, candidate, item, letter));
            }
        }
        awards
    };
    let before = mark(0);
    measure(
        &format!("mark {scripts} scripts again and set them side by side"),
        || {
            let after = mark(1);
            let found =
                results::regrade::regrade_difference(&large, (exam, &before), (exam, &after));
            found.marks.len() as f64
        },
    );
}

fn reports() {
    let renderer = Renderer::new(&std::collections::BTreeMap::new()).unwrap();
    let report = renderer::samples::candidate_report();
    measure("20 reports as PDF", || {
        let mut bytes = 0;
        for number in 0..20 {
            let stamp = PdfStamp::new(format!("bench/{number}"));
            let made = renderer
                .candidate_report(&report, &Look::default(), &stamp)
                .unwrap();
            bytes += black_box(made).pdf.len();
        }
        bytes as f64
    });
}

/// Answers at random, by people in turn, and the key as letters.
fn write_tables(folder: &Path, exam: &Exam, sitting: &assembler::Sitting, scripts: usize) {
    let form = &sitting.forms[0];
    let mut key = BufWriter::new(std::fs::File::create(folder.join("key.csv")).unwrap());
    writeln!(key, "question,letter,marks").unwrap();
    for (printed, number) in form.questions.iter().zip(1..) {
        let question = &exam.bank.questions[&printed.question];
        let QuestionKind::BestAnswer(kind) = &question.kind else {
            panic!("letters only")
        };
        let written = kind.options.iter().position(|option| option.key).unwrap();
        let place = printed.order.printed_at(written).unwrap();
        let letter = question_bank::printed_order::letter(place);
        writeln!(key, "q{number},{letter},{}", question.marks).unwrap();
    }
    let mut table = BufWriter::new(std::fs::File::create(folder.join("theory.csv")).unwrap());
    let names: Vec<String> = (1..=QUESTIONS).map(|number| format!("q{number}")).collect();
    writeln!(table, "candidate,{}", names.join(",")).unwrap();
    let mut stream = Stream::new(&ExamSeed::from_bytes([3; 32]), Purpose::Practice, 0);
    for script in 0..scripts {
        let who = &sitting.places[script % sitting.places.len()].candidate;
        write!(table, "{who}").unwrap();
        for _ in 0..QUESTIONS {
            write!(table, ",{}", ["A", "B", "C"][stream.index(3)]).unwrap();
        }
        writeln!(table).unwrap();
    }
}

/// The example with one form of single best answers, as many as the bank has in its cells.
fn letters_only(mut exam: Exam) -> Exam {
    exam.bank.questions.retain_mut(|question| {
        matches!(&question.kind, QuestionKind::BestAnswer(kind) if kind.options.len() == 3)
            && question.state.counts()
            && !question.practice_only
    });
    let theory = exam.plan.theory.as_mut().unwrap();
    theory.forms = 1;
    theory.overlap = None;
    theory.pretest = 0;
    let mut left = u32::try_from(QUESTIONS).unwrap();
    for quota in &mut theory.cells {
        let there = exam
            .bank
            .questions
            .values()
            .filter(|q| q.cell == quota.cell)
            .count();
        // Enemies keep some apart.
        let here = u32::try_from(there * 3 / 4).unwrap().min(left);
        quota.wanted = Wanted::AnyLevel(HowMany::exactly(here));
        left -= here;
    }
    assert_eq!(left, 0, "the bank has too few single best answers");
    theory.cells.retain(|quota| quota.most() > 0);
    exam
}

fn measure(what: &str, work: impl FnOnce() -> f64) {
    let _ = std::fs::write("/proc/self/clear_refs", "5");
    let before = figure("VmRSS:");
    let begun = Instant::now();
    let found = work();
    let seconds = begun.elapsed().as_secs_f64();
    println!(
        "{what},{found},{seconds:.3},{:.1}",
        figure("VmHWM:") - before
    );
}

/// A figure of this process in megabytes; 0 where the system does not tell.
fn figure(name: &str) -> f64 {
    let mut status = String::new();
    if let Ok(mut file) = std::fs::File::open("/proc/self/status") {
        let _ = file.read_to_string(&mut status);
    }
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

fn exam() -> Exam {
    let mut faults = Vec::new();
    let top = Path::new(env!("CARGO_MANIFEST_DIR"))
        .ancestors()
        .nth(2)
        .unwrap();
    let folder = top.join("examples/certificate");
    let texts = Texts::of_exam(&workflow::Disk, &folder, &mut faults).unwrap();
    workflow::load::exam(&texts, &mut faults).unwrap()
}
