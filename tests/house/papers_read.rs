//! The examples in the papers about formats are read by the program's own readers without a fault.

use std::collections::BTreeMap;

use base::{Fault, SourceText};
use exam_plan::read::{read_class, read_class_notes, read_plan, read_room, read_roster};
use question_bank::{BankTexts, SampleTexts, read_bank};

use crate::project;

/// The blocks of a paper that are whole files: their heading line is ```` ```yaml name ````.
fn files_in(paper: &str) -> BTreeMap<String, String> {
    let text = project::text(paper);
    let mut found = BTreeMap::new();
    let mut lines = text.lines();
    while let Some(line) = lines.next() {
        let Some(head) = line.strip_prefix("```").filter(|head| !head.is_empty()) else {
            continue;
        };
        let body: String = lines
            .by_ref()
            .take_while(|line| !line.starts_with("```"))
            .map(|line| format!("{line}\n"))
            .collect();
        if let Some((_, name)) = head.split_once(' ') {
            assert!(
                found.insert(name.to_owned(), body).is_none(),
                "{paper}: {name} stands twice"
            );
        }
    }
    found
}

fn take(files: &mut BTreeMap<String, String>, name: &str) -> SourceText {
    let text = files.remove(name);
    SourceText::new(
        name,
        &text.unwrap_or_else(|| panic!("there is no block {name}")),
    )
}

fn take_all(files: &mut BTreeMap<String, String>, start: &str, end: &str) -> Vec<SourceText> {
    let names: Vec<String> = files
        .keys()
        .filter(|name| name.starts_with(start) && name.ends_with(end))
        .cloned()
        .collect();
    names.iter().map(|name| take(files, name)).collect()
}

fn told(faults: &[Fault]) -> Vec<String> {
    faults
        .iter()
        .map(|fault| format!("{:?}: {}", fault.place, fault.what))
        .collect()
}

/// The bank that the paper shows, block by block.
pub fn bank_of_the_paper() -> question_bank::Bank {
    let mut files = files_in("question-banks/README.md");
    let mut panels: BTreeMap<String, SourceText> = take_all(&mut files, "samples/", ".panel.csv")
        .into_iter()
        .map(|text| (text.name.as_str().replace(".panel.csv", ".yaml"), text))
        .collect();
    let samples = take_all(&mut files, "samples/", ".yaml")
        .into_iter()
        .map(|record| SampleTexts {
            panel: panels.remove(record.name.as_str()),
            record,
        })
        .collect::<Vec<_>>();
    assert!(panels.is_empty(), "a panel without a record: {panels:?}");
    let texts = BankTexts {
        bank: take(&mut files, "bank.yaml"),
        lexicon: take(&mut files, "lexicon.yaml"),
        categories: take(&mut files, "categories.yaml"),
        regions: take(&mut files, "regions.yaml"),
        questions: take_all(&mut files, "questions/", ".yaml"),
        samples,
        pictures: take_all(&mut files, "pictures/", ".svg"),
        calibration: Some(take(&mut files, "calibration.csv")),
    };
    let history = question_bank::history::read_history(&take(&mut files, "history/2026-06.csv"));
    assert_eq!(told(&history.faults), [""; 0]);
    assert!(files.is_empty(), "blocks that no reader reads: {files:?}");
    let read = read_bank(&texts);
    assert_eq!(told(&read.faults), [""; 0]);
    read.value.unwrap()
}

#[test]
fn the_bank_of_the_paper_is_sound() {
    let bank = bank_of_the_paper();
    let kinds: std::collections::BTreeSet<_> = bank
        .questions
        .values()
        .map(|question| question.kind.name())
        .collect();
    for name in question_bank::QuestionKind::NAMES {
        assert!(kinds.contains(name), "the paper has no example of {name}");
    }
    let weaknesses = question_bank::check_questions(&bank);
    assert_eq!(told(&weaknesses), [""; 0]);
}

#[test]
fn the_exam_of_the_readme_is_sound() {
    let mut files = files_in("README.md");
    let plan = read_plan(&take(&mut files, "plan.yaml"));
    assert_eq!(told(&plan.faults), [""; 0]);
    let roster = read_roster(&take(&mut files, "roster.csv"));
    assert_eq!(told(&roster.faults), [""; 0]);
    let room = read_room(&take(&mut files, "room.yaml"));
    assert_eq!(told(&room.faults), [""; 0]);
    assert!(files.is_empty(), "blocks that no reader reads: {files:?}");
}

#[test]
fn the_exam_of_the_paper_is_sound() {
    let mut files = files_in("examples/README.md");
    let plan = read_plan(&take(&mut files, "plan.yaml"));
    assert_eq!(told(&plan.faults), [""; 0]);
    let roster = read_roster(&take(&mut files, "roster.csv"));
    assert_eq!(told(&roster.faults), [""; 0]);
    let more = read_roster(&take(&mut files, "roster-with-more.csv"));
    assert_eq!(told(&more.faults), [""; 0]);
    let room = read_room(&take(&mut files, "room.yaml"));
    assert_eq!(told(&room.faults), [""; 0]);
    let (named, room) = (roster.value.unwrap(), room.value.unwrap());
    let roster = &named.roster;
    assert!(!roster.candidates.is_empty() && !room.tables.is_empty());
    // Everything that can be asked of a glass is in the plan that shows all.
    let whole = read_plan(&take(&mut files, "plan-with-everything.yaml"));
    assert_eq!(told(&whole.faults), [""; 0]);
    let asked: std::collections::BTreeSet<_> = whole
        .value
        .unwrap()
        .tasting
        .unwrap()
        .ask
        .iter()
        .map(|question| question.asked.name())
        .collect();
    for name in exam_plan::Asked::NAMES {
        assert!(asked.contains(name), "the paper does not ask for {name}");
    }
    let class = read_class(&take(&mut files, "class-with-everything.yaml"));
    assert_eq!(told(&class.faults), [""; 0]);
    let glasses = class.value.unwrap().samples.len();
    let notes = take_all(&mut files, "notes/", ".csv");
    assert_eq!(notes.len(), 2, "both shapes are shown");
    let notes = read_class_notes(&notes, glasses, Some(&named));
    assert_eq!(told(&notes.faults), [""; 0]);
    // Answer tables: both shapes have a candidate of the roster in each row.
    for table in take_all(&mut files, "answers/", ".csv") {
        let table_text = table.text.to_string();
        let mut rows = csv::Reader::from_reader(table_text.as_bytes());
        assert_eq!(rows.headers().unwrap().get(0), Some("candidate"));
        for row in rows.records() {
            let row = row.unwrap();
            let number = row.get(0).unwrap();
            assert!(
                roster
                    .candidates
                    .iter()
                    .any(|c| c.number.as_str() == number),
                "{number} is not in the roster"
            );
        }
    }
    assert!(files.is_empty(), "blocks that no reader reads: {files:?}");
}
