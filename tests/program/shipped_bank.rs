//! The shipped banks are read without a fault, and their panels carry their keys.

use std::path::{Path, PathBuf};

use base::{Fault, SourceText};
use question_bank::{
    Bank, BankTexts, QuestionKind, Quota, SampleTexts, TastingKey, check_questions, check_sources,
    coverage, panel_support, read_bank,
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
        pictures: names("pictures", ".svg")
            .iter()
            .map(|name| text(name))
            .collect(),
        calibration: None,
    }
}

fn listed(faults: &[Fault]) -> String {
    faults
        .iter()
        .map(|fault| format!("{}: {fault}\n", fault.rule))
        .collect()
}

pub(crate) fn bank() -> Bank {
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

/// The threshold of likeness, on both sides: nothing shipped reaches it, and a stem with each sixth
/// word struck out still does in nine of ten cases.
#[test]
fn a_stem_with_each_sixth_word_struck_out_is_found_to_be_alike() {
    let mut bank = bank();
    let originals: Vec<_> = bank.questions.values().cloned().collect();
    let mut copies = 0;
    for question in &originals {
        let mut copy = question.clone();
        let QuestionKind::BestAnswer(kind) = &mut copy.kind else {
            continue;
        };
        let words = kind.stem.split(' ').enumerate();
        let kept: Vec<&str> = words
            .filter(|(at, _)| at % 6 != 2)
            .map(|(_, w)| w)
            .collect();
        kind.stem = kept.join(" ").into();
        copy.id = base::QuestionId::parse(&format!("z-{copies}")).unwrap();
        copy.enemies.clear();
        bank.questions.insert(copy);
        copies += 1;
    }
    let found = check_questions(&bank)
        .iter()
        .filter(|fault| fault.rule == "similar-stem")
        .count();
    assert!(copies > 200, "{copies}");
    assert!(found * 10 > copies * 9, "{found} of {copies}");
}

#[test]
fn every_source_of_the_foundation_bank_grows_stale_in_its_time() {
    let bank = bank();
    assert!(check_sources(&bank, "2027-06-12", 3).is_empty());
    let live = bank.questions.len();
    assert_eq!(check_sources(&bank, "2036-06-12", 3).len(), live);
    assert_eq!(check_sources(&bank, "2036-02-30", 3)[0].rule, "bad-date");
}

#[test]
fn every_cell_of_the_foundation_bank_fills_an_exam_of_four_a_cell() {
    let bank = bank();
    let quotas: Vec<Quota> = bank
        .cells
        .iter()
        .map(|(cell, _)| Quota {
            cell: cell.clone(),
            level: None,
            questions: 4,
            kept: 1,
        })
        .collect();
    for cell in coverage(&bank, &quotas) {
        let usable = bank
            .questions
            .values()
            .filter(|q| q.cell == cell.quota.cell && q.state.counts() && !q.practice_only);
        assert_eq!(cell.available, usable.count());
        assert!(
            cell.lasts >= question_bank::coverage::Lasts::Exams(2),
            "{cell:?}"
        );
    }
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
