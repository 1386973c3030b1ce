//! The shipped trees and the shipped bank against sensory/categories.csv, regions.csv and ages.csv:
//! each row stands in a tree as it is, and what questions give as right agrees with the rows.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use crate::record::reference_text;
use base::SourceText;
use question_bank::question::Evidence;
use question_bank::read::{BankTexts, read_tree_of_nodes};
use question_bank::scheme::scheme_names;
use question_bank::{Bank, Question, QuestionKind, Taxonomy, fold, read_bank};

type Row = BTreeMap<String, String>;

fn rows(file: &str) -> Vec<Row> {
    let text = reference_text(file);
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    reader.deserialize().map(|row| row.unwrap()).collect()
}

fn trees() -> Vec<Taxonomy> {
    scheme_names()
        .map(|name| {
            let source = SourceText::new(name, &format!("scheme: {name}\n"));
            read_tree_of_nodes(&source).value.unwrap()
        })
        .collect()
}

fn bank() -> Bank {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../question-banks/foundation");
    let text = |path: PathBuf| {
        SourceText::new(
            &path.to_string_lossy(),
            &std::fs::read_to_string(&path).unwrap(),
        )
    };
    let sorted = |below: &str| {
        let mut found: Vec<PathBuf> = std::fs::read_dir(folder.join(below))
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .collect();
        found.sort();
        found
    };
    let checked = read_bank(&BankTexts {
        pictures: sorted("pictures").into_iter().map(text).collect(),
        calibration: None,
        bank: text(folder.join("bank.yaml")),
        lexicon: text(folder.join("lexicon.yaml")),
        categories: text(folder.join("categories.yaml")),
        regions: text(folder.join("regions.yaml")),
        questions: sorted("questions").into_iter().map(text).collect(),
        samples: Vec::new(),
    });
    checked
        .value
        .unwrap_or_else(|| panic!("{:?}", checked.faults))
}

fn evidence(row: &Row) -> Evidence {
    match row["status"].as_str() {
        "verified" => Evidence::Read,
        "memory" => Evidence::Memory,
        other => panic!("{other}"),
    }
}

fn source(row: &Row) -> String {
    match row["clause"].trim() {
        "" => row["source"].trim().to_owned(),
        clause => format!("{}, {clause}", row["source"].trim()),
    }
}

#[test]
fn every_category_stands_in_a_tree_with_its_strength_age_and_clause() {
    let trees = trees();
    let rows = rows("sensory/categories.csv");
    assert_eq!(rows.len(), 226);
    for row in &rows {
        let id = row["code"].to_lowercase();
        let nodes: Vec<_> = trees.iter().filter_map(|tree| tree.find(&id)).collect();
        let [node] = nodes.as_slice() else {
            panic!("{id} stands in {} trees", nodes.len());
        };
        let number = |text: &str| (!text.is_empty()).then(|| text.parse::<f64>().unwrap());
        assert_eq!(node.law.minimum_strength, number(&row["min_abv"]), "{id}");
        let months = node.law.minimum_age_months.map(f64::from);
        assert_eq!(months, number(&row["min_age_months"]), "{id}");
        assert_eq!(node.evidence, Some(evidence(row)), "{id}");
        assert_eq!(node.source.as_deref(), Some(source(row).as_str()), "{id}");
    }
}

#[test]
fn every_origin_stands_in_a_tree_and_says_how_it_is_known() {
    let trees = trees();
    let rows = rows("sensory/regions.csv");
    assert_eq!(rows.len(), 270);
    for row in &rows {
        // What stands in brackets is a remark.
        let mut name = String::new();
        let mut open = 0;
        for letter in row["name"].chars() {
            match letter {
                '(' => open += 1,
                ')' => open -= 1,
                _ if open == 0 => name.push(letter),
                _ => {}
            }
        }
        let nodes: Vec<_> = trees
            .iter()
            .filter(|tree| tree.scheme().ends_with("-origins"))
            .filter_map(|tree| tree.find(&name))
            .collect();
        assert!(!nodes.is_empty(), "{name}");
        let told = nodes.iter().any(|node| {
            let remark = node.law.remark.as_deref().unwrap_or("");
            node.source.as_deref() == Some(source(row).as_str())
                && node.evidence == Some(evidence(row))
                || remark.contains(&format!("also {}", source(row)))
        });
        assert!(told, "{name}: {}", source(row));
    }
    let uk = trees
        .iter()
        .find(|tree| tree.scheme() == "uk-origins")
        .unwrap();
    let speyside = uk.find("Speyside").unwrap();
    assert_eq!(speyside.inside, [uk.find("Highland").unwrap().id.clone()]);
}

/// What a question gives as right for a thing: the key, or what a matching question pairs with it.
fn right(question: &Question, of: &str) -> String {
    match &question.kind {
        QuestionKind::BestAnswer(kind) => {
            let keys: Vec<&str> = kind
                .options
                .iter()
                .filter(|o| o.key)
                .map(|o| o.text.as_str())
                .collect();
            keys.join(" ")
        }
        QuestionKind::Numeric(kind) => format!("{} {}", kind.answer_as_written, kind.unit),
        QuestionKind::Matching(kind) => {
            let pair = kind.pairs.iter().find(|pair| pair.left == of);
            pair.unwrap_or_else(|| panic!("{of}")).right.to_string()
        }
        _ => panic!("{} has no one right text", question.id),
    }
}

/// The quantity that a text begins with: a strength in % vol, or a time in months.
fn quantity(text: &str) -> (f64, &'static str) {
    let mut words = text.split_whitespace();
    let number: f64 = words
        .next()
        .unwrap()
        .parse()
        .unwrap_or_else(|_| panic!("{text}"));
    match words.next().unwrap_or("") {
        "%" => (number, "strength"),
        "years" | "year" => (number * 12.0, "age"),
        "months" | "month" => (number, "age"),
        other => panic!("{text}: {other}"),
    }
}

/// Verified rows of categories.csv and the questions that ask for them, with the left side where
/// the question is a matching one.
const ASKED_CATEGORIES: [(&str, &str, &str); 12] = [
    ("EU-1", "law-eu-rum-strength", ""),
    ("EU-2", "law-eu-strengths", "Whisky"),
    ("EU-2", "law-eu-whisky-age", ""),
    ("EU-3", "cat-eu-grain-spirit-strength", ""),
    ("EU-5", "law-eu-strengths", "Brandy"),
    (
        "EU-19",
        "law-eu-strengths",
        "Juniper-flavoured spirit drink",
    ),
    ("EU-27", "law-eu-strengths", "Pastis de Marseille"),
    ("EU-36", "law-eu-strengths", "Sambuca"),
    ("EU-39", "cat-egg-liqueur-strength", ""),
    ("FR-CALV", "cat-calvados-wood", ""),
    ("US-STRBOURBON", "law-us-straight-age", ""),
    ("US-STRRYE", "law-us-straight-age", ""),
];

#[test]
fn what_questions_give_as_right_is_what_the_verified_rows_say() {
    let bank = bank();
    let rows = rows("sensory/categories.csv");
    for (code, id, of) in ASKED_CATEGORIES {
        let row = rows.iter().find(|row| row["code"] == code).unwrap();
        assert_eq!(row["status"], "verified", "{code}");
        let question = bank.questions.values().find(|q| q.id.as_str() == id);
        let question = question.unwrap_or_else(|| panic!("no question {id}"));
        let (number, what) = quantity(&right(question, of));
        let column = if what == "strength" {
            "min_abv"
        } else {
            "min_age_months"
        };
        assert_eq!(number, row[column].parse::<f64>().unwrap(), "{code} {id}");
    }
}

/// Whoever asks for the minimum strength of one category of Annex I gives that of its row, also in
/// questions that are written later.
#[test]
fn every_question_for_a_minimum_strength_of_annex_i_agrees_with_its_row() {
    let rows = rows("sensory/categories.csv");
    let mut seen = 0;
    for question in bank().questions.values() {
        let clause = question.source.clause.as_deref().unwrap_or("");
        let Some(category) = clause.strip_prefix("Annex I, category ") else {
            continue;
        };
        let stem = fold(question.kind.stem());
        let asks = stem.contains("minimum strength") || stem.contains("minimum bottling strength");
        let QuestionKind::BestAnswer(kind) = &question.kind else {
            continue;
        };
        if !asks || !question.source.work.contains("2019/787") {
            continue;
        }
        let Some(row) = rows
            .iter()
            .find(|row| row["code"] == format!("EU-{category}"))
        else {
            continue;
        };
        let key = kind.options.iter().find(|o| o.key).unwrap();
        let (number, what) = quantity(&key.text);
        assert_eq!(what, "strength", "{}", question.id);
        assert_eq!(
            number,
            row["min_abv"].parse::<f64>().unwrap(),
            "{}",
            question.id
        );
        seen += 1;
    }
    assert!(seen >= 3, "{seen} questions");
}

/// Where the verified rows of ages.csv are used: by a question, or by a node of a shipped tree.
enum UsedBy {
    Question(&'static str),
    Node(&'static str),
}

const AGES: [(&str, &str, UsedBy); 20] = [
    (
        "FR-Calvados",
        "minimum wood age Calvados and Pays d'Auge",
        UsedBy::Question("cat-calvados-wood"),
    ),
    (
        "FR-Calvados",
        "minimum wood age Calvados and Pays d'Auge",
        UsedBy::Node("fr-calv-pa"),
    ),
    (
        "FR-Calvados",
        "minimum wood age Domfrontais",
        UsedBy::Node("fr-calv-d"),
    ),
    ("ES-BrandyJerez", "Solera", UsedBy::Node("es-bj-s")),
    ("ES-BrandyJerez", "Solera Reserva", UsedBy::Node("es-bj-sr")),
    (
        "ES-BrandyJerez",
        "Solera Gran Reserva",
        UsedBy::Node("es-bj-sgr"),
    ),
    (
        "EU-2019/787",
        "Whisky: casks <=700 l",
        UsedBy::Question("law-eu-whisky-age"),
    ),
    ("EU-2019/787", "Whisky: casks <=700 l", UsedBy::Node("eu-2")),
    (
        "EU-2019/787",
        "Brandy: oak casks <1000 l",
        UsedBy::Node("eu-5"),
    ),
    (
        "EU-2019/787",
        "Brandy: oak receptacles >=1000 l",
        UsedBy::Question("law-app-brandy-vat"),
    ),
    ("UK-SWR2009", "Minimum maturation", UsedBy::Node("sw-0")),
    ("IE-GI", "Minimum maturation", UsedBy::Node("ie-0")),
    ("CA-FDR", "Canadian whisky", UsedBy::Node("ca-w")),
    (
        "CA-FDR",
        "Other containers that may be claimed as age, at most",
        UsedBy::Question("law-ca-other-vessels"),
    ),
    ("CA-FDR", "Rum", UsedBy::Node("ca-rum")),
    ("JP-JSLMA", "Japanese whisky", UsedBy::Node("jp-w")),
    (
        "US-27CFR5",
        "Straight",
        UsedBy::Question("law-us-straight-age"),
    ),
    ("US-27CFR5", "Straight", UsedBy::Node("us-strbourbon")),
    (
        "US-27CFR5",
        "Age statement optional from",
        UsedBy::Question("law-us-age-optional"),
    ),
    ("ES-BrandyJerez", "Solera", UsedBy::Node("es-bj")),
];

/// Verified rows with a time for which no question asks and no node stands.
const UNUSED_AGES: [&str; 3] = [
    "Caramel allowed in fruit spirit aged in wood at least",
    "Criaderas y solera: youngest component, casks <1000 l",
    "Criaderas y solera: youngest component, >=1000 l",
];

#[test]
fn every_verified_age_is_used_by_a_question_or_a_tree() {
    let (bank, trees) = (bank(), trees());
    let rows = rows("sensory/ages.csv");
    assert_eq!(rows.len(), 66);
    for (scheme, term, used_by) in AGES {
        let row = rows
            .iter()
            .find(|row| row["scheme"] == scheme && row["term"] == term);
        let row = row.unwrap_or_else(|| panic!("{scheme} {term}"));
        assert_eq!(row["status"], "verified", "{term}");
        let months: f64 = row["min_months"].parse().unwrap();
        let used = match used_by {
            UsedBy::Question(id) => {
                let question = bank.questions.values().find(|q| q.id.as_str() == id);
                quantity(&right(
                    question.unwrap_or_else(|| panic!("no question {id}")),
                    "",
                ))
                .0
            }
            UsedBy::Node(id) => {
                let node = trees.iter().find_map(|tree| tree.find(id)).unwrap();
                f64::from(node.law.minimum_age_months.unwrap())
            }
        };
        assert_eq!(used, months, "{scheme} {term}");
    }
    let used: BTreeSet<(&str, &str)> = AGES
        .iter()
        .map(|(scheme, term, _)| (*scheme, *term))
        .collect();
    let unused: Vec<&str> = rows
        .iter()
        .filter(|row| row["status"] == "verified" && !row["min_months"].is_empty())
        .filter(|row| !used.contains(&(row["scheme"].as_str(), row["term"].as_str())))
        .map(|row| row["term"].as_str())
        .collect();
    assert_eq!(unused, UNUSED_AGES);
}
