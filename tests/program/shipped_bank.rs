//! The shipped banks are read without a fault, and their panels carry their keys.

use std::path::{Path, PathBuf};

use base::{Fault, SourceText};
use question_bank::{
    Bank, BankTexts, SampleTexts, TastingKey, check_questions, panel_support, read_bank,
};

/// The threshold that a plan has when it names none.
const THRESHOLD: f64 = 0.25;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../question-banks/foundation")
}

/// A text of the bank, named by its path below the bank folder.
fn text(name: &str) -> SourceText {
    let path = folder().join(name);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    SourceText::new(name, &text)
}

/// The files of a folder with this ending, in name order.
fn names(below: &str, ending: &str) -> Vec<String> {
    let entries = std::fs::read_dir(folder().join(below)).unwrap();
    let mut names: Vec<String> = entries
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.ends_with(ending))
        .map(|name| format!("{below}/{name}"))
        .collect();
    names.sort();
    names
}

fn texts() -> BankTexts {
    let panels = names("samples", ".panel.csv");
    BankTexts {
        bank: text("bank.yaml"),
        lexicon: text("lexicon.yaml"),
        categories: text("categories.yaml"),
        regions: text("regions.yaml"),
        questions: names("questions", ".yaml")
            .iter()
            .map(|name| text(name))
            .collect(),
        samples: names("samples", ".yaml")
            .iter()
            .map(|name| {
                let panel = format!("{}.panel.csv", name.trim_end_matches(".yaml"));
                SampleTexts {
                    record: text(name),
                    panel: panels.contains(&panel).then(|| text(&panel)),
                }
            })
            .collect(),
    }
}

fn listed(faults: &[Fault]) -> String {
    faults
        .iter()
        .map(|fault| format!("{}: {fault}\n", fault.rule))
        .collect()
}

fn bank() -> Bank {
    let checked = read_bank(&texts());
    checked
        .value
        .unwrap_or_else(|| panic!("\n{}", listed(&checked.faults)))
}

#[test]
fn the_foundation_bank_is_read_without_a_word_against_it() {
    let checked = read_bank(&texts());
    assert!(checked.faults.is_empty(), "\n{}", listed(&checked.faults));
    let bank = checked.value.unwrap();
    assert!(
        bank.questions.len() >= 80,
        "{} questions",
        bank.questions.len()
    );
    assert!(bank.samples.len() >= 6, "{} samples", bank.samples.len());
    for (cell, _) in &bank.cells {
        assert!(
            bank.questions.values().any(|q| q.cell == *cell),
            "no question in {cell}"
        );
    }
}

#[test]
fn the_questions_of_the_foundation_bank_keep_the_rules_of_item_writing() {
    let weak = check_questions(&bank());
    assert!(weak.is_empty(), "\n{}", listed(&weak));
}

#[test]
fn every_panel_of_the_foundation_bank_carries_its_key() {
    for record in bank().samples.values() {
        let support = panel_support(record, THRESHOLD);
        assert!(support.faults.is_empty(), "\n{}", listed(&support.faults));
        assert!(support.assessors >= 8);
        let water = TastingKey::with_water(record, THRESHOLD);
        assert!(
            !water.required.is_empty(),
            "{}: nothing shows with water",
            record.id
        );
    }
}
