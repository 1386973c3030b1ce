//! Golden papers: what lies on the table is read by real PDF readers, and its words are those that
//! were looked at.
//!
//! A golden text is the words of a paper in reading order, one space between; white space is left
//! out, since readers part lines differently. To renew one after a wanted change, delete the file in
//! `golden/`, run the test once, look at the paper itself, and commit both.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod labels;

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use tests::Room;

/// One rehearsal of the full example for all tests of this file.
fn rehearsed() -> &'static Room {
    static ROOM: OnceLock<Room> = OnceLock::new();
    ROOM.get_or_init(|| {
        let room = Room::with_example("certificate");
        room.run(&[
            "rehearse",
            "examples/certificate",
            "--sittings",
            "10",
            "--seed",
            &"3c".repeat(32),
        ])
        .exits(0);
        room
    })
}

const BELOW: &str = "examples/certificate/rehearsal";

fn papers() -> Vec<PathBuf> {
    let room = rehearsed();
    room.files(BELOW)
        .keys()
        .filter(|name| name.ends_with(".pdf"))
        .map(|name| room.path(BELOW).join(name))
        .collect()
}

/// The paper of the full example whose file name begins so.
fn paper(begins: &str) -> PathBuf {
    the_one(papers(), begins)
}

fn the_one(papers: Vec<PathBuf>, begins: &str) -> PathBuf {
    let found: Vec<_> = papers
        .into_iter()
        .filter(|path| {
            path.file_name()
                .unwrap()
                .to_string_lossy()
                .starts_with(begins)
        })
        .collect();
    assert_eq!(found.len(), 1, "{begins}: {found:?}");
    found.into_iter().next().unwrap()
}

fn tool(program: &str, arguments: &[&str], path: &Path) -> String {
    let output = Command::new(program)
        .args(arguments)
        .arg(path)
        .args(if program == "pdftotext" {
            &["-"][..]
        } else {
            &[]
        })
        .output()
        .unwrap_or_else(|error| panic!("{program}: {error} (tests/run installs it)"));
    assert!(
        output.status.success(),
        "{program} {}: {}",
        path.display(),
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn words(path: &Path) -> String {
    tool("pdftotext", &["-enc", "UTF-8"], path)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

#[test]
fn every_paper_is_sound_tagged_and_titled() {
    let papers = papers();
    assert!(papers.len() > 35, "{}", papers.len());
    for path in papers {
        tool("qpdf", &["--check"], &path);
        let info = tool("pdfinfo", &[], &path);
        let field = |name: &str| {
            let line = info.lines().find(|line| line.starts_with(name));
            line.and_then(|line| line.split_once(':'))
                .map(|(_, value)| value.trim().to_owned())
        };
        let name = path.display();
        assert_eq!(field("Tagged").as_deref(), Some("yes"), "{name}");
        assert!(
            field("Title").is_some_and(|title| title.len() > 5),
            "{name}: {info}"
        );
        assert!(
            field("Page size").is_some_and(|size| size.contains("A4")),
            "{name}: {info}"
        );
        assert_eq!(
            field("CreationDate"),
            None,
            "{name}: no time is written into a paper"
        );
        let metadata = tool("pdfinfo", &["-meta"], &path);
        assert!(
            metadata.contains("pdfuaid:part"),
            "{name} does not claim PDF/UA: {metadata}"
        );
        let fonts = tool("pdffonts", &[], &path);
        for font in fonts.lines().skip(2) {
            let embedded = font.split_whitespace().rev().nth(4);
            assert_eq!(embedded, Some("yes"), "{name}: {font}");
        }
    }
}

#[test]
fn what_pours_or_tastes_shows_the_cautions() {
    for begins in ["01-", "08-", "07-", "20-", "23-"] {
        let text = words(&paper(begins));
        assert!(
            text.contains("Nobody drives after tasting"),
            "{begins}: {text}"
        );
        assert!(text.contains("local law"), "{begins}");
    }
    assert!(words(&paper("03-answer")).contains("Nobody drives after tasting"));
}

#[test]
fn what_a_candidate_holds_names_neither_sample_nor_key() {
    let room = rehearsed();
    let register = register::Register::open(&room.path(BELOW).join("sitting.register")).unwrap();
    let sitting = register.sitting().unwrap();
    let texts = register.inputs().unwrap();
    let mut secrets: Vec<String> = Vec::new();
    for glass in &sitting.places[0].glasses {
        secrets.push(glass.sample.to_string());
        let record = texts
            .iter()
            .find(|t| t.name.ends_with(&format!("/{}.yaml", glass.sample)))
            .unwrap();
        let name = record
            .text
            .lines()
            .find_map(|l| l.trim().strip_prefix("name: "))
            .unwrap();
        secrets.push(name.trim_matches('"').to_owned());
    }
    let printed_words: Vec<&str> = texts
        .iter()
        .filter(|text| text.name.starts_with("bank/questions/"))
        .flat_map(|text| text.text.lines().map(str::trim))
        .filter(|line| {
            ["stem: ", "- { text: ", "- text: "]
                .iter()
                .any(|p| line.starts_with(p))
        })
        .collect();
    secrets.extend(
        sitting.forms[0]
            .questions
            .iter()
            .map(|q| q.question.to_string())
            // An id that is also a word of the printed questions gives nothing away.
            .filter(|id| !printed_words.iter().any(|line| line.contains(id.as_str()))),
    );
    for path in papers() {
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let candidate = [
            "01-", "02-", "03-", "04-", "05-", "06-", "07-", "08-", "09-", "10-",
        ]
        .iter()
        .any(|n| name.starts_with(n));
        let result = path.parent().unwrap().ends_with("results")
            || path.parent().unwrap().ends_with("reports");
        if !candidate || result {
            continue;
        }
        // The words, and all of the file with its streams unpacked: metadata, names, structure.
        let unpacked = Command::new("qpdf")
            .args(["--qdf", "--object-streams=disable"])
            .arg(&path)
            .arg("-")
            .output()
            .unwrap();
        let all = format!(
            "{}\n{}",
            words(&path),
            String::from_utf8_lossy(&unpacked.stdout)
        );
        for secret in &secrets {
            assert!(!all.contains(secret.as_str()), "{name} holds {secret:?}");
        }
    }
}

#[test]
fn labels_are_as_many_as_glasses_and_say_the_code_alone() {
    let room = rehearsed();
    let register = register::Register::open(&room.path(BELOW).join("sitting.register")).unwrap();
    let sitting = register.sitting().unwrap();
    let in_room: Vec<&str> = sitting
        .places
        .iter()
        .filter(|place| place.seat.is_some())
        .flat_map(|place| place.glasses.iter().map(|glass| glass.code.as_str()))
        .collect();
    let text = words(&paper("05-"));
    let mut printed: Vec<&str> = text.split_whitespace().collect();
    let mut wanted = in_room.clone();
    // A label may show its code twice, to be read from two sides.
    printed.sort_unstable();
    wanted.sort_unstable();
    let times = printed.len() / wanted.len().max(1);
    let repeated: Vec<&str> = wanted
        .iter()
        .flat_map(|code| std::iter::repeat_n(*code, times))
        .collect();
    assert_eq!(printed, repeated);
}

/// The certificate of a candidate of the small exam, which is given out after a release only.
fn certificate(room: &Room) -> PathBuf {
    tests::copy(
        &tests::top().join("tests/papers/small-exam"),
        &room.path("sat"),
    );
    room.replace(
        "sat/plan.yaml",
        "pass: { theory: 60, tasting: 50 }",
        "pass: { theory: 10, tasting: 5, grades: { with merit: 20 } }",
    );
    room.run(&["assemble", "sat", "--seed", &"3c".repeat(32)])
        .exits(0);
    room.put(
        "sat/answers/answers.csv",
        "candidate,part,question,answer\nS-1,theory,1,B\nS-1,theory,6,A\nS-1,tasting,373 aroma,banana\n",
    );
    room.run(&["mark", "sat"]).exits(0);
    room.run(&["results", "sat"]).exits(0);
    room.run(&["results", "release", "sat", "--confirmed-by", "assembler"])
        .exits(0);
    room.run(&["results", "certificates", "sat"]).exits(0);
    room.path("sat/results/certificates/S-1.pdf")
}

/// Golden papers are those of a small exam of their own, so that a change of the shipped bank, which
/// changes every draw from it, does not touch them.
#[test]
fn golden_papers_say_what_was_looked_at() {
    let room = Room::empty();
    tests::copy(
        &tests::top().join("tests/papers/small-exam"),
        &room.path("exam"),
    );
    room.run(&[
        "rehearse",
        "exam",
        "--sittings",
        "2",
        "--seed",
        &"3c".repeat(32),
    ])
    .exits(0);
    let papers: Vec<PathBuf> = room
        .files("exam/rehearsal")
        .keys()
        .filter(|name| name.ends_with(".pdf"))
        .map(|name| room.path("exam/rehearsal").join(name))
        .collect();
    let mut complaints = Vec::new();
    for (begins, golden) in [
        ("00-", "print-list"),
        ("01-", "candidate-covers"),
        ("02-theory", "theory-booklet"),
        ("02-class", "class-summary"),
        ("03-samples", "sample-pages"),
        ("04-questions", "question-pages"),
        ("03-answer", "answer-sheets"),
        ("04-reference", "reference-list"),
        ("05-", "glass-labels"),
        ("06-", "kit-bottle-labels"),
        ("07-", "packing-lists"),
        ("08-", "room-sheet"),
        ("09-", "seal-strips"),
        ("20-", "pour-sheet"),
        ("21-", "marker-guide"),
        ("22-", "key"),
        ("23-", "kit-check"),
        ("S-1.pdf", "candidate-report"),
        ("", "certificate"),
    ] {
        let file = tests::top()
            .join("tests/papers/golden")
            .join(format!("{golden}.txt"));
        // One sentence a line reads better in a diff.
        let path = match golden {
            "certificate" => certificate(&room),
            _ => the_one(papers.clone(), begins),
        };
        let text = words(&path).replace(". ", ".\n");
        if !file.exists() {
            std::fs::create_dir_all(file.parent().unwrap()).unwrap();
            std::fs::write(&file, format!("{text}\n")).unwrap();
            complaints.push(format!(
                "{golden} was missing and has been written: look at the paper, then commit it"
            ));
            continue;
        }
        let wanted = std::fs::read_to_string(&file).unwrap();
        if text.trim() != wanted.trim() {
            let differs = text
                .lines()
                .zip(wanted.lines())
                .find(|(now, then)| now != then);
            complaints.push(format!(
                "{golden} says something else than the golden paper: {differs:?}"
            ));
        }
    }
    assert!(complaints.is_empty(), "{}", complaints.join("\n"));
}
