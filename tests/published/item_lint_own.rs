//! Rules of item writing against assessment-standards/item-lint-own.json: own definitions and own
//! cases for the numbers that item-lint.json leaves out.

use crate::item_lint::{names, question, texts};
use crate::record::reference_json;
use base::{QuestionId, SourceText};
use question_bank::check::{ItemRule, Waiver, check_question, check_questions};
use question_bank::question_kind::QuestionKind;
use question_bank::read::{BankTexts, SampleTexts};
use question_bank::{Bank, Question, read_bank};
use serde_json::Value;

const FILE: &str = "assessment-standards/item-lint-own.json";

fn question_of(item: &Value) -> Question {
    let stem = item["stem"].as_str().unwrap();
    let key = usize::try_from(item["key"].as_u64().unwrap()).unwrap();
    let mut question = question(stem, &texts(&item["options"]), key);
    if let (QuestionKind::BestAnswer(kind), Some(whys)) =
        (&mut question.kind, item["whys"].as_array())
    {
        assert_eq!(whys.len(), kind.options.len());
        for (option, why) in kind.options.iter_mut().zip(whys) {
            option.why = why.as_str().unwrap().into();
        }
    }
    question
}

fn expected(item: &Value) -> Vec<&str> {
    let mut expected = texts(&item["expected"]);
    expected.sort_unstable();
    expected
}

/// A bank without questions, with one sample.
fn bank() -> Bank {
    let text = |name: &str, text: &str| SourceText::new(name, text);
    let checked = read_bank(&BankTexts {
        pictures: Vec::new(),
        calibration: None,
        bank: text(
            "bank.yaml",
            "title: T\nlanguage: en\nlicence: CC0-1.0\ncells: { any: Any }\n",
        ),
        lexicon: text(
            "lexicon.yaml",
            "families: { f: { name: F, groups: { g: { name: G, reason: r, words: { oak: [] } } } } }\n",
        ),
        categories: text(
            "categories.yaml",
            "scheme: own\nnodes: [{ id: rum, name: Rum }]\n",
        ),
        regions: text(
            "regions.yaml",
            "scheme: own\nnodes: [{ id: world, name: World }]\n",
        ),
        questions: Vec::new(),
        samples: vec![SampleTexts {
            record: text(
                "samples/copper-8.yaml",
                "sample: { id: copper-8, name: Copper Bay Eight Years, producer: Copper Bay Estate, category: rum, region: world, age: none, strength: 43, bottle: 700, source: invented, describe: Invented. }\n",
            ),
            panel: None,
        }],
    });
    checked
        .value
        .unwrap_or_else(|| panic!("{:?}", checked.faults))
}

/// What is found in a bank of these questions, by the names of the reference file.
fn found_among(questions: Vec<Question>) -> Vec<String> {
    let mut bank = bank();
    for (number, mut question) in questions.into_iter().enumerate() {
        question.id = QuestionId::parse(&format!("q{number}")).unwrap();
        bank.questions.insert(question);
    }
    let found = check_questions(&bank);
    found.iter().map(|f| f.rule.replace('-', "_")).collect()
}

#[test]
fn all_own_items_are_flagged_by_name() {
    let file = reference_json(FILE);
    for item in file["items"].as_array().unwrap() {
        assert_eq!(names(&question_of(item)), expected(item), "{item}");
    }
}

#[test]
fn every_own_word_works() {
    let file = reference_json(FILE);
    for word in texts(&file["definitions"]["HEDGE"]) {
        let found = names(&question(
            "What happens then?",
            &[&format!("It {word} clouds"), "It clears with time"],
            0,
        ));
        assert_eq!(found, ["L12_hedged_key"], "{word}");
    }
    for phrase in texts(&file["definitions"]["OPINION"]) {
        let found = names(&question(
            &format!("Which rum is it, {phrase}, of all?"),
            &["Rhum", "Gin"],
            0,
        ));
        assert_eq!(found, ["L17_opinion"], "{phrase}");
    }
}

#[test]
fn what_needs_the_bank_is_found_in_it() {
    let file = reference_json(FILE);
    for case in file["banks"].as_array().unwrap() {
        // Each with a stem and options of its own.
        let questions = case["numbers_of_options"]
            .as_array()
            .unwrap()
            .iter()
            .enumerate();
        let questions = questions
            .map(|(number, options)| {
                let letters: Vec<String> = (0..options.as_u64().unwrap())
                    .map(|at| {
                        format!(
                            "{}{number}",
                            ["oak", "ash", "elm", "fir"][usize::try_from(at).unwrap()]
                        )
                    })
                    .collect();
                let letters: Vec<&str> = letters.iter().map(String::as_str).collect();
                question(&format!("Which wood is number{number}?"), &letters, 0)
            })
            .collect();
        assert_eq!(found_among(questions), expected(case), "{case}");
    }
    for item in file["beside_samples"].as_array().unwrap() {
        assert_eq!(
            found_among(vec![question_of(item)]),
            expected(item),
            "{item}"
        );
    }
}

/// Each own rule can be waived in the question, and says what to do.
#[test]
fn every_own_rule_can_be_waived_and_says_what_to_do() {
    let file = reference_json(FILE);
    let items = file["items"].as_array().unwrap().iter();
    let beside = file["beside_samples"].as_array().unwrap().iter();
    let mut waived = Vec::new();
    for item in items.chain(beside) {
        for name in texts(&item["expected"]) {
            let number = name.split('_').next().unwrap();
            let rule = ItemRule::ALL
                .into_iter()
                .find(|rule| rule.number() == number)
                .unwrap();
            let mut question = question_of(item);
            assert!(
                check_question(&question).iter().all(|f| f.hint.is_some()),
                "{item}"
            );
            question.waived = vec![Waiver {
                rule,
                because: "a case".into(),
            }];
            let left = found_among(vec![question]);
            assert!(!left.contains(&name.to_owned()), "{name}: {left:?}");
            assert!(
                !left.contains(&"waiver_without_effect".to_owned()),
                "{name}: {left:?}"
            );
            waived.push(number.to_owned());
        }
    }
    for number in ["L11", "L12", "L13", "L15", "L16", "L17", "L19"] {
        assert!(waived.contains(&number.to_owned()), "{number} has no case");
    }
}

/// Together the two files define every number from L01 to L19, and the program knows the same.
#[test]
fn both_files_define_what_the_program_knows() {
    let mut defined: Vec<String> = ["assessment-standards/item-lint.json", FILE]
        .iter()
        .flat_map(|file| {
            let file = reference_json(file);
            let names = file["definitions"].as_object().unwrap().keys();
            names
                .filter(|name| name.starts_with('L'))
                .cloned()
                .collect::<Vec<_>>()
        })
        .collect();
    defined.sort();
    let all: Vec<String> = (1..=19).map(|number| format!("L{number:02}")).collect();
    assert_eq!(defined, all);
    let known: Vec<&str> = ItemRule::ALL
        .iter()
        .map(|rule| rule.number())
        .filter(|number| number.starts_with('L'))
        .collect();
    assert_eq!(known, all);
}
