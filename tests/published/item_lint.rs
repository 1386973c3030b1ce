//! Rules of item writing against assessment-standards/item-lint.json: its ten items by name, and
//! every word of its lists.

use crate::record::reference_json;
use base::{CellId, Marks, QuestionId, SourceText};
use question_bank::check::check_question;
use question_bank::question::{Difficulty, Evidence, Level, Question, ReviewState, Source};
use question_bank::question_kind::{AnswerOption, BestAnswer, QuestionKind};
use serde_json::Value;

pub(crate) fn question(stem: &str, options: &[&str], key: usize) -> Question {
    Question {
        id: QuestionId::parse("item").unwrap(),
        place: SourceText::new("item-lint.json", "").place(0..0),
        cell: CellId::parse("any").unwrap(),
        level: Level::Recall,
        difficulty: Difficulty::Medium,
        state: ReviewState::Operational,
        reviewed_by: None,
        source: Source {
            work: "item-lint.json".into(),
            clause: Some("items".into()),
            evidence: Evidence::Read,
        },
        verified: "2026-11-25".into(),
        marks: Marks::ONE,
        enemies: Vec::new(),
        anchor: false,
        practice_only: false,
        live: false,
        waived: Vec::new(),
        set: None,
        picture: None,
        translations: std::collections::BTreeMap::new(),
        kind: QuestionKind::BestAnswer(BestAnswer {
            stem: stem.into(),
            options: options
                .iter()
                .enumerate()
                .map(|(place, text)| AnswerOption {
                    text: (*text).into(),
                    key: place == key,
                    why: format!("an illustration of {text}, number {place}").into(),
                })
                .collect(),
            keep_order: true,
        }),
    }
}

/// The names of what was found, as the reference file writes them.
pub(crate) fn names(question: &Question) -> Vec<String> {
    let mut names: Vec<String> = check_question(question)
        .iter()
        .map(|weakness| weakness.rule.replace('-', "_"))
        .collect();
    names.sort();
    names
}

pub(crate) fn texts(value: &Value) -> Vec<&str> {
    let list = value.as_array().unwrap();
    list.iter().map(|text| text.as_str().unwrap()).collect()
}

#[test]
fn all_ten_items_are_flagged_by_name() {
    let file = reference_json("assessment-standards/item-lint.json");
    let items = file["items"].as_array().unwrap();
    assert_eq!(items.len(), 10);
    for item in items {
        let stem = item["stem"].as_str().unwrap();
        let key = usize::try_from(item["key"].as_u64().unwrap()).unwrap();
        let mut expected = texts(&item["expected"]);
        expected.sort_unstable();
        let found = names(&question(stem, &texts(&item["options"]), key));
        assert_eq!(found, expected, "{stem}");
    }
}

#[test]
fn every_word_of_the_lists_works() {
    let file = reference_json("assessment-standards/item-lint.json");
    let definitions = &file["definitions"];
    for word in texts(&definitions["NEG"]) {
        let found = names(&question(
            &format!("Which is {word} rum?"),
            &["Gin", "Ron"],
            0,
        ));
        assert_eq!(found, ["L01_negative"], "{word}");
    }
    for word in texts(&definitions["ABS"]) {
        let found = names(&question("Which?", &["Gin", &format!("{word} ron")], 0));
        assert_eq!(found, ["L06_absolute_in_distractor"], "{word}");
    }
    for word in texts(&definitions["STOP"]) {
        let found = names(&question(
            &format!("{word} it?"),
            &["Gin", &format!("{word} ron")],
            0,
        ));
        assert!(found.is_empty(), "{word}: {found:?}");
    }
    assert_eq!(
        names(&question("Whisky, gin?", &["Gin", "Whisky ron"], 0)),
        ["L07_stem_word_in_one_option"]
    );
}
