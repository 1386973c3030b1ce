//! Pages as a browser sees them: the report of an analysis and a class, in headless Chromium.
//!
//! The page is opened, its tree read back, its console watched, and it is printed.
// A test may stop at the first surprise: these lints guard the program, not its checks.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub
)]

use std::path::Path;
use std::process::{Command, Output};

use tests::Room;

/// Opens a page in a browser of its own; `--dump-dom`, `--print-to-pdf` and the like go before it.
fn browser(room: &Room, page: &Path, arguments: &[&str]) -> Output {
    let output = Command::new("chromium")
        .args([
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--disable-dev-shm-usage",
            "--enable-logging=stderr",
            "--virtual-time-budget=2000",
        ])
        .arg(format!(
            "--user-data-dir={}",
            room.path("profile").display()
        ))
        .args(arguments)
        .arg(format!("file://{}", page.display()))
        .output()
        .expect("the package chromium is installed");
    assert!(output.status.success(), "{output:?}");
    output
}

/// A room with an analysed table of the reference folder.
fn analysed() -> Room {
    let room = Room::empty();
    let data = tests::top().join("tests/published/reference/examination-statistics/data");
    for file in ["mc20_responses.csv", "mc20_key.csv"] {
        room.put(file, std::fs::read(data.join(file)).unwrap());
    }
    room.run(&[
        "analyse",
        "mc20_responses.csv",
        "--key",
        "mc20_key.csv",
        "--cut",
        "60%",
        "--to",
        "page.html",
    ])
    .exits(0);
    room
}

#[test]
fn the_report_of_an_analysis_opens_prints_and_has_no_word_on_the_console() {
    let room = analysed();
    let page = room.path("page.html");
    let opened = browser(&room, &page, &["--dump-dom"]);
    let tree = String::from_utf8(opened.stdout).unwrap();
    let console = String::from_utf8_lossy(&opened.stderr);
    assert!(!console.contains("CONSOLE"), "{console}");
    let count = |words: &str| tree.matches(words).count();
    assert!(tree.contains("<title>Analysis of mc20_responses</title>"));
    // Scores, questions, map, curves, precision, and the answers to each of 20 questions.
    assert_eq!(count("<figure"), 25);
    assert_eq!(count("<svg"), 25);
    assert_eq!(count("role=\"img\""), 25);
    assert!(count("<table") >= 26, "{}", count("<table"));
    assert_eq!(count("<h1"), 1);
    // Every picture is named for whoever does not see it, and every name leads somewhere.
    for piece in tree.split("aria-labelledby=\"").skip(1) {
        for id in piece.split('"').next().unwrap().split(' ') {
            assert_eq!(count(&format!("id=\"{id}\"")), 1, "{id}");
        }
    }
    let pdf = room.path("page.pdf");
    browser(
        &room,
        &page,
        &[
            &format!("--print-to-pdf={}", pdf.display()),
            "--no-pdf-header-footer",
        ],
    );
    let text = Command::new("pdftotext")
        .arg(&pdf)
        .arg("-")
        .output()
        .unwrap();
    let text = String::from_utf8_lossy(&text.stdout).into_owned();
    for words in [
        "Analysis of mc20_responses",
        "Candidates and questions on one scale",
        "Every question",
    ] {
        assert!(text.contains(words), "{words} is not printed");
    }
}

#[test]
fn the_page_of_a_class_opens_prints_and_has_no_word_on_the_console() {
    let room = Room::with_example("first-evening");
    room.run(&["practise", "class-notes", "examples/first-evening"])
        .exits(0);
    let page = room.path("examples/first-evening/pages/class.html");
    let opened = browser(&room, &page, &["--dump-dom"]);
    let tree = String::from_utf8(opened.stdout).unwrap();
    let console = String::from_utf8_lossy(&opened.stderr);
    assert!(!console.contains("CONSOLE"), "{console}");
    let count = |words: &str| tree.matches(words).count();
    // Words of each of three samples, and quality over all of them.
    assert_eq!(count("<figure"), 4);
    assert_eq!(count("role=\"img\""), 4);
    assert_eq!(count("<h1"), 1);
    for piece in tree.split("aria-labelledby=\"").skip(1) {
        for id in piece.split('"').next().unwrap().split(' ') {
            assert_eq!(count(&format!("id=\"{id}\"")), 1, "{id}");
        }
    }
    // The links at the head lead to the parts.
    for piece in tree.split("href=\"#").skip(1) {
        let id = piece.split('"').next().unwrap();
        assert_eq!(count(&format!("<section id=\"{id}\"")), 1, "{id}");
    }
    let pdf = room.path("page.pdf");
    browser(
        &room,
        &page,
        &[
            &format!("--print-to-pdf={}", pdf.display()),
            "--no-pdf-header-footer",
        ],
    );
    let text = Command::new("pdftotext")
        .arg(&pdf)
        .arg("-")
        .output()
        .unwrap();
    // A line may break between any two words.
    let text = String::from_utf8_lossy(&text.stdout);
    let text: Vec<&str> = text.split_whitespace().collect();
    let text = text.join(" ");
    for words in [
        "the class beside the panel",
        "Nothing here is a mark",
        "Nobody drives after tasting",
    ] {
        assert!(text.contains(words), "{words} is not printed");
    }
}

#[test]
fn the_pages_of_forms_and_of_a_forecast_open_and_have_no_word_on_the_console() {
    let room = Room::with_example("evening-class");
    let exam = "examples/evening-class";
    room.run(&["check", exam, "--page", "forms.html"]).exits(0);
    room.run(&["rehearse", exam, "--sittings", "10"]).exits(0);
    for (file, title, figures) in [
        ("forms.html", "forms side by side", 3),
        (
            "examples/evening-class/rehearsal/forecast.html",
            "rehearsal",
            8,
        ),
    ] {
        let page = room.path(file);
        let opened = browser(&room, &page, &["--dump-dom"]);
        let tree = String::from_utf8(opened.stdout).unwrap();
        let console = String::from_utf8_lossy(&opened.stderr);
        assert!(!console.contains("CONSOLE"), "{file}: {console}");
        let count = |words: &str| tree.matches(words).count();
        assert!(tree.contains(&format!("Evening class, end of term: {title}</title>")));
        assert_eq!(
            (count("<figure"), count("role=\"img\"")),
            (figures, figures),
            "{file}"
        );
        assert_eq!(count("<h1"), 1);
        for piece in tree.split("aria-labelledby=\"").skip(1) {
            for id in piece.split('"').next().unwrap().split(' ') {
                assert_eq!(count(&format!("id=\"{id}\"")), 1, "{file}: {id}");
            }
        }
    }
}
