//! Adding a kind of question stays local: outside its own files a kind is named in three places at
//! most, and every kind has a reader, a rule with source and chance score, an example and a printed
//! body.

use std::path::{Path, PathBuf};

use assembler::candidate_view::printed_body;
use base::{ExamSeed, Purpose, Stream};
use question_bank::{PrintedOrder, Question, QuestionKind};
use tests::top;

use crate::papers_read::bank_of_the_paper;

/// The files of kinds: one may be made of others.
fn is_of_kinds(file: &str) -> bool {
    QuestionKind::NAMES.iter().any(|name| is_own(file, name))
}

/// The files of one kind.
fn is_own(file: &str, name: &str) -> bool {
    ["question-bank/src/question_kind", "grader/src/theory_rule"]
        .iter()
        .any(|folder| {
            file == format!("crates/{folder}/{name}.rs")
                || file.starts_with(&format!("crates/{folder}/{name}/"))
        })
}

/// `best_answer` as `BestAnswer`.
fn type_name(name: &str) -> String {
    name.split('_')
        .map(|word| word[..1].to_uppercase() + &word[1..])
        .collect()
}

/// Whether a text holds this as a whole word.
fn has_word(text: &str, word: &str) -> bool {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    text.match_indices(word).any(|(place, _)| {
        let before = text[..place].chars().next_back();
        let after = text[place + word.len()..].chars().next();
        !before.is_some_and(part) && !after.is_some_and(part)
    })
}

/// Whether a source names the kind: its member of the enum, its module, or a type from either
/// module of kinds.
fn names(source: &str, name: &str) -> bool {
    let member = type_name(name);
    let qualified = [
        format!("QuestionKind::{member}"),
        format!("question_kind::{member}"),
        format!("question_kind::{name}"),
        format!("theory_rule::{name}"),
        format!("mod {name}"),
    ];
    // Inside the enum's own file it is called Self.
    let is_enum = source.contains("pub enum QuestionKind");
    qualified.iter().any(|words| has_word(source, words))
        || (is_enum && has_word(source, &format!("Self::{member}")))
        || ["question_kind::{", "theory_rule::{"].iter().any(|group| {
            source.split(group).skip(1).any(|behind| {
                let list = behind.split('}').next().unwrap_or("");
                has_word(list, &member) || has_word(list, name)
            })
        })
}

/// All source files of the rooms without their tests, with the names they have from the top.
fn sources() -> Vec<(String, String)> {
    fn walk(folder: &Path, found: &mut Vec<PathBuf>) {
        let mut entries: Vec<_> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .collect();
        entries.sort();
        for path in entries {
            if path.is_dir() {
                walk(&path, found);
            } else if path.extension().is_some_and(|end| end == "rs") {
                found.push(path);
            }
        }
    }
    let mut files = Vec::new();
    walk(&top().join("crates"), &mut files);
    files
        .into_iter()
        .map(|path| {
            let name = path.strip_prefix(top()).unwrap().to_string_lossy();
            (
                name.replace('\\', "/"),
                std::fs::read_to_string(&path).unwrap(),
            )
        })
        // Tests name what they test: whole files of them, and the module at the end of others.
        .filter(|(name, _)| {
            name.contains("/src/") && !name.ends_with("/tests.rs") && !name.ends_with("/example.rs")
        })
        .map(|(name, text)| {
            let code = text.split("#[cfg(test)]\n#[allow").next().unwrap_or("");
            let code = code.split("#[cfg(test)]\nmod tests {").next().unwrap_or("");
            (name, code.to_owned())
        })
        .collect()
}

#[test]
fn a_kind_is_named_in_three_places_at_most_outside_its_own_files() {
    let sources = sources();
    for name in QuestionKind::NAMES {
        let own = sources
            .iter()
            .filter(|(file, _)| is_own(file, name))
            .count();
        assert!(
            own >= 2,
            "{name} has a file in question_kind and one in theory_rule"
        );
        let elsewhere: Vec<&String> = sources
            .iter()
            .filter(|(file, source)| !is_of_kinds(file) && names(source, name))
            .map(|(file, _)| file)
            .collect();
        assert!(elsewhere.len() <= 3, "{name} is named in {elsewhere:#?}");
        // The search itself is sound: these two must name every kind.
        for must in [
            "crates/question-bank/src/question_kind.rs",
            "crates/grader/src/theory_rule.rs",
        ] {
            assert!(
                elsewhere.iter().any(|file| *file == must),
                "{name} in {must}"
            );
        }
    }
}

fn example(questions: &[Question], name: &str) -> Question {
    questions
        .iter()
        .find(|question| question.kind.name() == name)
        .unwrap_or_else(|| panic!("no example of {name} in question-banks/README.md"))
        .clone()
}

#[test]
fn every_kind_has_reader_rule_example_and_printed_body() {
    let bank = bank_of_the_paper();
    let questions: Vec<Question> = bank.questions.values().cloned().collect();
    let mut bodies = Vec::new();
    for name in QuestionKind::NAMES {
        // That it was read shows that there is a reader.
        let question = example(&questions, name);
        let rule = grader::rules::rule_named(grader::theory::rule_name(&question.kind))
            .unwrap_or_else(|| panic!("{name} has no rule in the list"));
        assert_eq!(rule.marks, name);
        assert!(
            !rule.source.is_empty() && !rule.guesser.is_empty(),
            "{name}"
        );
        let chance = grader::theory_chance_score(&question);
        assert!((0.0..1.0).contains(&chance), "{name}: {chance}");
        let mut stream = Stream::new(&ExamSeed::from_bytes([1; 32]), Purpose::VariantNumbers, 0);
        let drawn = question.kind.draw(&mut stream, &[]).unwrap();
        let on_form = question.realised(&drawn).unwrap();
        let order = PrintedOrder::as_written(on_form.kind.lettered());
        let body = serde_json::to_string(&printed_body(&on_form.kind, &order)).unwrap();
        assert!(
            !on_form.kind.stem().contains('{'),
            "{name}: numbers filled in"
        );
        assert!(!on_form.kind.why().is_empty() && !on_form.kind.shape().key_in_words().is_empty());
        bodies.push(body);
    }
    assert_eq!(bodies.len(), QuestionKind::NAMES.len());
}
