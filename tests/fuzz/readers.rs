//! One function for each reader: hostile text in, no panic. Called by the fuzz targets and, with
//! changed shipped texts, by `tests/program/any_text.rs`.

use std::collections::BTreeMap;

use base::SourceText;
use question_bank::read::{BankTexts, SampleTexts, read_bank, read_samples};
use question_bank::{Lexicon, Taxonomy, exchange, resolve};
use register::ledger::{ConsistencyProof, InclusionProof, check};
use register::seal::{Key, LeafProof, Share, recombine};
use register::{Act, By, Details, Entry, Head, Register, Role};

const BANK: &str = "title: T\nlanguage: en\nlicence: CC0\ncells: { law: Law }\n";
const LEXICON: &str = "families:\n  f:\n    name: F\n    groups:\n      g:\n        name: G\n        reason: r\n        words: { apple: [fresh apple], oak: [oaky], smoke: [], pear drop: [] }\n";
const CATEGORIES: &str = "scheme: own\nnodes:\n  - { id: spirit, name: Spirit }\n  - { id: rum, name: Rum, parent: spirit }\n";
const REGIONS: &str = "scheme: own\nnodes:\n  - { id: world, name: World }\n  - { id: jamaica, name: Jamaica, parent: world }\n";
const SAMPLE: &str = "sample:\n  id: copper-8\n  name: Copper Bay Eight Years\n  producer: Copper Bay Estate\n  category: rum\n  region: jamaica\n  age: { stated: 8 }\n  strength: 43\n  bottle: 700\n  source: common practice\n  describe: Invented.\n";
const QUESTION: &str = "questions:\n  - id: one\n    cell: law\n    level: recall\n    state: draft\n    source: { work: W, clause: \"1\", evidence: read }\n    verified: 2026-11-25\n    short_answer: { stem: What?, accept: [rum], why: So. }\n";

/// A reader of one text.
pub type Reader = fn(&str);

/// All readers by name; each name is a fuzz target.
pub const READERS: [(&str, Reader); 23] = [
    ("bank", bank),
    ("questions", questions),
    ("lexicon", lexicon),
    ("trees", trees),
    ("samples", samples),
    ("panel", panel),
    ("plan", plan),
    ("room", room),
    ("roster", roster),
    ("class", class),
    ("class_notes", class_notes),
    ("words", words),
    ("table_in", table_in),
    ("review_in", review_in),
    ("pictures", pictures),
    ("calibration", calibration),
    ("history", history),
    ("seal", seal),
    ("share", share),
    ("leaf", leaf),
    ("proof", proof),
    ("ledger", ledger),
    ("register", register),
];

fn text(name: &str, text: &str) -> SourceText {
    SourceText::new(name, text)
}

/// A small sound bank.
fn texts() -> BankTexts {
    BankTexts {
        bank: text("bank.yaml", BANK),
        lexicon: text("lexicon.yaml", LEXICON),
        categories: text("categories.yaml", CATEGORIES),
        regions: text("regions.yaml", REGIONS),
        questions: vec![text("questions/q.yaml", QUESTION)],
        samples: Vec::new(),
        pictures: Vec::new(),
        calibration: None,
    }
}

fn read(texts: &BankTexts) {
    let checked = read_bank(texts);
    let faulty = checked.faults.iter().any(|fault| !fault.is_weakness());
    assert_eq!(checked.value.is_none(), faulty, "a bank or faults");
    if let Some(bank) = &checked.value {
        let _ = question_bank::check_questions(bank);
        let _ = exchange::to_review(bank);
        // What goes out as a table comes back as it was.
        let table = exchange::to_table(bank.questions.values());
        let back = exchange::from_table(&text("t.csv", &table.text));
        assert!(back.value.is_some(), "{:?}", back.faults);
    }
}

pub fn bank(words: &str) {
    read(&BankTexts {
        bank: text("bank.yaml", words),
        ..texts()
    });
}
pub fn questions(words: &str) {
    read(&BankTexts {
        questions: vec![text("questions/q.yaml", words)],
        ..texts()
    });
}
pub fn lexicon(words: &str) {
    read(&BankTexts {
        lexicon: text("lexicon.yaml", words),
        ..texts()
    });
}
pub fn trees(words: &str) {
    read(&BankTexts {
        categories: text("categories.yaml", words),
        regions: text("regions.yaml", words),
        ..texts()
    });
}

fn around() -> (Lexicon, Taxonomy, Taxonomy) {
    let bank = read_bank(&texts()).value.expect("the small bank is sound");
    (bank.lexicon, bank.categories, bank.regions)
}

fn with_sample(record: &str, panel: Option<&str>) {
    let (lexicon, categories, regions) = around();
    let checked = read_samples(
        &[SampleTexts {
            record: text("samples/copper-8.yaml", record),
            panel: panel.map(|panel| text("samples/copper-8.panel.csv", panel)),
        }],
        &lexicon,
        &categories,
        &regions,
    );
    for sample in checked.value.unwrap_or_default().values() {
        let _ = question_bank::panel_support(sample, 0.25);
    }
}
pub fn samples(words: &str) {
    with_sample(words, None);
}
pub fn panel(words: &str) {
    with_sample(SAMPLE, Some(words));
}
pub fn plan(words: &str) {
    let plan = text("plan.yaml", words);
    let _ = exam_plan::read::read_plan(&plan);
    if let Some(bank) = read_bank(&texts()).value {
        let _ = exam_plan::read::check_names(&plan, &bank, &BTreeMap::new());
    }
}
pub fn room(words: &str) {
    if let Some(room) = exam_plan::read::read_room(&text("room.yaml", words)).value {
        let _ = room.neighbours();
    }
}
pub fn class(words: &str) {
    let _ = exam_plan::read::read_class(&text("class.yaml", words));
}
pub fn class_notes(words: &str) {
    let sources = [text("notes.csv", words), text("more.csv", words)];
    let _ = exam_plan::read::read_class_notes(&sources, 2, None);
}
pub fn roster(words: &str) {
    let _ = exam_plan::read::read_roster(&text("roster.csv", words));
}
/// A released key. What is read is written as it was read.
pub fn seal(words: &str) {
    if let Ok(key) = Key::read(words) {
        let _ = key.root();
        for leaf in key.leaves() {
            let _ = key.prove(&leaf.name);
        }
        if let Ok(text) = key.to_json() {
            let again = Key::read(&text).map(|key| key.root().ok());
            assert_eq!(again.ok(), Some(key.root().ok()), "a key comes back");
        }
    }
}
/// A custodian's share.
pub fn share(words: &str) {
    if let Ok(share) = Share::read(words) {
        let _ = recombine(&[share.clone(), share.clone()], share.needed);
        assert!(Share::read(&share.to_text()).is_ok(), "a share comes back");
    }
}
/// A shown leaf.
pub fn leaf(words: &str) {
    if let Ok(proof) = LeafProof::read(words) {
        let _ = proof.holds();
    }
}
/// The proofs of a ledger.
pub fn proof(words: &str) {
    if let Ok(proof) = InclusionProof::read(words) {
        let _ = proof.holds();
    }
    if let Ok(proof) = ConsistencyProof::read(words) {
        let _ = proof.holds();
    }
    let _ = words.parse::<Head>();
}
/// A ledger, one entry a line.
pub fn ledger(words: &str) {
    let lines: Vec<&str> = words.lines().collect();
    let _ = check(lines.iter(), None);
    for line in lines {
        if let Ok(entry) = Entry::read(line) {
            assert_eq!(entry.text(), line, "an entry is its own canonical form");
        }
    }
}
/// A register's file in hexadecimal digits; other letters are left out.
pub fn register(words: &str) {
    let digits: Vec<u32> = words.chars().filter_map(|c| c.to_digit(16)).collect();
    let bytes: Vec<u8> = digits
        .chunks_exact(2)
        .filter_map(|two| u8::try_from(two.first()? * 16 + two.last()?).ok())
        .collect();
    let Ok(folder) = tempfile::tempdir() else {
        return;
    };
    let path = folder.path().join("sitting.register");
    if std::fs::write(&path, bytes).is_err() {
        return;
    }
    let _ = Register::verify(&path, None);
    let _ = Register::drawn_from(&path);
    if let Ok(mut register) = Register::open(&path) {
        let _ = (register.inputs(), register.sitting(), register.identity());
        let _ = (register.answers(), register.marks(), register.acts());
        let by = By::new(Role::Proctor, None);
        let _ = register.note(Act::Incident, &by, Details::new());
    }
}
pub fn words(words: &str) {
    let _ = resolve(&around().0, words);
}
pub fn table_in(words: &str) {
    let _ = exchange::from_table(&text("t.csv", words));
}
pub fn review_in(words: &str) {
    if let Some(verdicts) = exchange::read_review(&text("r.md", words)).value {
        let _ = exchange::apply_review(&verdicts, &[text("q.yaml", QUESTION)]);
    }
    // The same words as a bank under an honest verdict.
    let verdict = "## one\nState: reviewed\nReviewed by: CE\n";
    if let Some(verdicts) = exchange::read_review(&text("r.md", verdict)).value {
        let _ = exchange::apply_review(&verdicts, &[text("q.yaml", words)]);
    }
}
pub fn pictures(words: &str) {
    let shown =
        "    picture: { file: p.svg, alternative: A still with a neck. }\n    short_answer:";
    read(&BankTexts {
        questions: vec![text(
            "questions/q.yaml",
            &QUESTION.replace("    short_answer:", shown),
        )],
        pictures: vec![text("pictures/p.svg", words)],
        ..texts()
    });
}
pub fn calibration(words: &str) {
    read(&BankTexts {
        calibration: Some(text("calibration.csv", words)),
        ..texts()
    });
}
pub fn history(words: &str) {
    let table = text("history/2026.csv", words);
    if let Some(records) = question_bank::history::read_history(&table).value {
        let _ = question_bank::history::uses(&records);
    }
}
