//! An exam with every kind of question goes the whole way: drawn, printed, marked and reported.

use register::Register;
use tests::Room;

const FORMATS: &str = include_str!("../../question-banks/README.md");

/// A block of the page that shows the text forms.
fn block(name: &str) -> &'static str {
    let language = if name.ends_with(".svg") {
        "svg"
    } else {
        "yaml"
    };
    let start = FORMATS
        .split_once(&format!("```{language} {name}\n"))
        .unwrap_or_else(|| panic!("no block {name}"))
        .1;
    start.split_once("```").unwrap().0
}

/// Puts the bank that the page shows into a room. What was only reviewed is not drawn; here every
/// kind is wanted.
pub(crate) fn put_every_kind(room: &Room) {
    for name in [
        "bank.yaml",
        "lexicon.yaml",
        "categories.yaml",
        "regions.yaml",
        "questions/all-kinds.yaml",
        "pictures/still.svg",
    ] {
        let text = block(name).replace("state: reviewed", "state: operational");
        room.put(&format!("bank/{name}"), text);
    }
}

/// An exam on that bank, all its questions on both forms.
fn exam_with_every_kind() -> Room {
    let room = Room::empty();
    put_every_kind(&room);
    room.put(
        "exam/plan.yaml",
        "title: Every kind of question
school: Harbour Weir School
date: 2027-06-12
bank: ../bank
theory:
  forms: 2
  minutes: 60
  cells: { law-and-labels: 4, distillation: 5 }
",
    );
    room.put(
        "exam/roster.csv",
        "candidate,name\nC-1,Ada Weir\nC-2,Ben Holm\n",
    );
    room.put(
        "exam/room.yaml",
        "room: Library\ntables:\n  - { id: a, seats: 2 }\n",
    );
    room
}

#[test]
fn every_kind_is_drawn_printed_marked_and_reported() {
    let room = exam_with_every_kind();
    room.run(&["check", "exam"]).exits(0);
    room.run(&["assemble", "exam", "--seed", &"4d".repeat(32)])
        .exits(0);
    room.run(&["print", "exam"]).exits(0);
    let papers = room.files("exam/papers");
    assert!(
        papers.keys().any(|name| name.contains("theory-booklet")),
        "{:?}",
        papers.keys()
    );
    let register = Register::open(&room.path("exam/sitting.register")).unwrap();
    let sitting = register.sitting().unwrap();
    let drawn: Vec<String> = sitting
        .forms
        .iter()
        .flat_map(|form| &form.questions)
        .filter(|question| question.question.as_str() == "water-to-reduce")
        .map(|question| question.drawn.to_string())
        .collect();
    assert_eq!(drawn.len(), 2);
    assert_ne!(drawn[0], drawn[1], "each form has its own numbers");
    a_picture_is_drawn_and_named(&room.path("exam/papers"));
    // One candidate makes the mistake of the rule of three, lists a grain twice and writes an essay.
    let place = &sitting.places[0];
    let form = sitting.form(place.form.as_ref().unwrap()).unwrap();
    let mut answers = String::from("candidate,part,question,answer\n");
    for (question, number) in form.questions.iter().zip(1..) {
        let answer = match question.question.as_str() {
            "water-to-reduce" => {
                let numbers = question.drawn.values();
                let by_three = numbers["volume"] * (numbers["strength"] / numbers["target"] - 1.0);
                format!("{by_three:.1}")
            }
            "three-raw-materials" => "rye; malted barley; barley".to_owned(),
            "why-copper" => "Copper takes sulphur out of the vapour.".to_owned(),
            _ => continue,
        };
        answers.push_str(&format!("{},theory,{number},{answer}\n", place.candidate));
    }
    drop(register);
    room.put("exam/answers/theory.csv", answers);
    room.run(&["mark", "exam"]);
    let register = Register::open(&room.path("exam/sitting.register")).unwrap();
    let told = |question: &str| {
        let awards = register.marks().unwrap();
        let award = awards
            .into_iter()
            .find(|award| {
                award.candidate == place.candidate
                    && matches!(&award.item, grader::Item::Theory { question: of, .. } if of.as_str() == question)
            })
            .unwrap();
        match &award.outcome {
            grader::Outcome::Marked { marks, reason, .. } => format!("{marks}: {reason}"),
            grader::Outcome::ForAPerson { why, .. } => format!("person: {why}"),
        }
    };
    let three = told("water-to-reduce");
    assert!(
        three.starts_with("0: ") && three.contains("The rule of three forgets"),
        "{three}"
    );
    assert_eq!(
        told("three-raw-materials"),
        "2: 2 of 3 wanted entries are right, 1 named again: 2 of 3 marks"
    );
    assert_eq!(
        told("why-copper"),
        "person: an essay is marked by its rubric: matter (up to 3), structure (up to 1)"
    );
    room.run(&["results", "exam"]).exits(0);
    let reports = room.files("exam/results/reports");
    // Two candidates, each with a sheet and a page.
    assert_eq!(reports.len(), 4);
}

/// The drawing stands in each booklet as a figure whose alternative a screen reader says.
fn a_picture_is_drawn_and_named(papers: &std::path::Path) {
    let booklets: Vec<_> = std::fs::read_dir(papers)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.to_string_lossy().contains("theory-booklet"))
        .collect();
    assert!(!booklets.is_empty());
    for booklet in booklets {
        let unpacked = std::process::Command::new("qpdf")
            .args(["--qdf", "--object-streams=disable"])
            .arg(&booklet)
            .arg("-")
            .output()
            .unwrap();
        let told = String::from_utf8_lossy(&unpacked.stdout);
        let figure = told
            .split("\nendobj")
            .find(|object| object.contains("/S /Figure"))
            .unwrap_or_else(|| panic!("{}: no figure", booklet.display()));
        assert!(
            figure.contains("/Alt (A vessel with a neck that bends into an arm sloping down.)"),
            "{}: {figure}",
            booklet.display()
        );
    }
}

#[test]
fn an_exam_in_german_is_drawn_from_what_is_translated() {
    let room = exam_with_every_kind();
    let plan = |language: &str, questions: u32| {
        format!(
            "title: Prüfung\nschool: Harbour Weir School\ndate: 2027-06-12\nbank: ../bank\nlanguage: {language}\ntheory:\n  forms: 1\n  minutes: 60\n  cells: {{ law-and-labels: {questions} }}\n"
        )
    };
    room.put("exam/plan.yaml", plan("de", 2));
    room.run(&["check", "exam"]).exits(1).says("law-and-labels");
    room.put("exam/plan.yaml", plan("dee", 1));
    room.run(&["check", "exam"])
        .exits(1)
        .says("no question of the bank is translated to \"dee\"");
    room.put("exam/plan.yaml", plan("de", 1));
    room.run(&["check", "exam"]).exits(0);
    room.run(&["assemble", "exam", "--seed", &"4d".repeat(32)])
        .exits(0);
    room.run(&["print", "exam"]).exits(0);
    let booklet = room
        .files("exam/papers")
        .into_keys()
        .find(|name| name.contains("theory-booklet"))
        .unwrap();
    let told = std::process::Command::new("pdftotext")
        .arg(room.path(&format!("exam/papers/{booklet}")))
        .arg("-")
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&told.stdout).into_owned();
    assert!(told.contains("Mit welchem Alkoholgehalt"), "{told}");
    assert!(told.contains("40 % vol oder mehr"), "{told}");
    assert!(!told.contains("40 % vol or more"), "{told}");
}

#[test]
fn what_became_of_questions_is_shown_with_the_bank() {
    let room = exam_with_every_kind();
    room.put(
        "bank/history/2026-06.csv",
        "sitting,question,form,n,difficulty,discrimination
2026-06 certificate,eu-rum-strength,A,24,0.7917,0.3120
2026-06 certificate,eu-rum-strength,B,23,0.7391,
2026-06 certificate,gone-since,A,24,0.5,0.1
",
    );
    room.run(&["check", "bank"])
        .gives("weakest discrimination first")
        .says("the bank does not hold gone-since");
    let told = room.run(&["check", "bank", "--json"]);
    let report = told.json();
    let lines = report["history"].as_array().unwrap();
    let rum = lines
        .iter()
        .find(|line| line["question"] == "eu-rum-strength")
        .unwrap();
    assert_eq!(rum["n"], 47);
    assert_eq!(rum["sittings"], 1);
}

#[test]
fn every_kind_can_be_practised_and_rehearsed() {
    let room = exam_with_every_kind();
    room.run(&["rehearse", "exam", "--sittings", "10"]).exits(0);
    room.run_with(
        &["practise", "bank", "--questions", "9"],
        &"A\n".repeat(9),
        &[],
    )
    .exits(0);
}
