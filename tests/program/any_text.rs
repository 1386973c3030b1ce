//! The functions of the fuzz targets, called with shipped texts that were cut, doubled and mixed.
//!
//! What is drawn here is the same each time; `cargo fuzz` below `tests/fuzz` draws anew.

#[path = "../fuzz/readers.rs"]
mod readers;

use readers::READERS;

/// How many changed texts each reader gets.
const TIMES: usize = 150;

/// A plain stream of numbers (Marsaglia 2003, xorshift64): enough to cut texts by.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % bound.max(1) as u64) as usize
    }
}

/// A small key.
fn key() -> register::seal::Key {
    let holds = |right: &str| serde_json::json!({ "right": right, "number": 1 });
    let messages = ["A", "B", "C"]
        .iter()
        .enumerate()
        .map(|(n, right)| (format!("question A {}", n + 1), holds(right)))
        .collect();
    register::seal::Key::new(&base::ExamSeed::from_bytes([5; 32]), messages)
}

/// The ledger and the bytes of a small register.
fn small_register() -> (Vec<String>, Vec<u8>) {
    use register::{Act, By, Details, Register, Role};
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sitting.register");
    let sitting = assembler::Sitting {
        forms: Vec::new(),
        places: Vec::new(),
        shortfalls: Vec::new(),
    };
    let by = By::new(Role::Proctor, None);
    let seed = base::ExamSeed::from_bytes([5; 32]);
    let mut made = Register::create(&path, &[], &seed, &sitting, &[], &by).unwrap();
    for number in 0..4_u32 {
        let details = Details::from([("incident".to_owned(), format!("number {number}"))]);
        made.note(Act::Incident, &by, details).unwrap();
    }
    let texts = made.ledger().unwrap();
    made.close().unwrap();
    (texts, std::fs::read(path).unwrap())
}

/// A short sound text for each reader.
fn sound(reader: &str) -> String {
    let file = |name: &str| std::fs::read_to_string(tests::top().join(name)).unwrap();
    let block = |paper: &str, name: &str| {
        let text = file(paper);
        let from = text.find(&format!(" {name}\n")).unwrap() + name.len() + 2;
        text[from..].split("```").next().unwrap().to_owned()
    };
    let bank = |name: &str| block("question-banks/README.md", name);
    let exam = |name: &str| block("examples/README.md", name);
    match reader {
        "bank" => bank("bank.yaml"),
        "questions" => bank("questions/all-kinds.yaml"),
        "lexicon" => bank("lexicon.yaml"),
        "trees" => bank("categories.yaml"),
        "samples" => bank("samples/cane-copper-8.yaml"),
        "panel" => bank("samples/cane-copper-8.panel.csv"),
        "plan" => exam("plan-with-everything.yaml"),
        "room" => exam("room.yaml"),
        "roster" => exam("roster.csv"),
        "class" => exam("class-with-everything.yaml"),
        "class_notes" => exam("notes/wide.csv"),
        "words" => "not quite fresh apple, notes of stewed oak; no smoke".to_owned(),
        "table_in" => {
            "id,kind,cell,level,state,work,evidence,verified,stem,answer,why\none,short_answer,law,recall,draft,W,read,2026-11-25,What?,rum; ron,So.\n".to_owned()
        }
        "review_in" => "## one\nState: draft\nReviewed by: CE\nComments:\n".to_owned(),
        "pictures" => bank("pictures/still.svg"),
        "calibration" => bank("calibration.csv"),
        "history" => bank("history/2026-06.csv"),
        "seal" => key().to_json().unwrap(),
        "share" => {
            let shares = register::seal::split(b"a secret of some length", 2, 3).unwrap();
            shares[1].to_text().to_string()
        }
        "leaf" => key().prove("question A 1").unwrap().unwrap().to_json().to_string(),
        "proof" => {
            let (texts, _) = small_register();
            let proof = register::ledger::InclusionProof::of(&texts, 2).unwrap();
            proof.to_json().to_string()
        }
        "ledger" => small_register().0.join("\n"),
        "register" => register::hex::to_hex(&small_register().1),
        other => panic!("{other} has no sound text here"),
    }
}

const ODD: [&str; 18] = [
    "",
    "\0",
    "\u{feff}",
    "\t",
    "\r\n",
    "\"",
    "'",
    "{",
    "[",
    "}",
    ": ",
    "- ",
    "&a ",
    "*a",
    "é\u{301}",
    "99999999999999999999",
    "-",
    "\u{2028}",
];

#[test]
fn no_reader_panics_at_what_was_cut_and_mixed() {
    let mut numbers = Numbers(0x9e37_79b9_7f4a_7c15);
    for (name, reader) in READERS {
        let whole: Vec<char> = sound(name).chars().collect();
        reader(&whole.iter().collect::<String>());
        for _ in 0..TIMES {
            let mut text = whole.clone();
            for _ in 0..=numbers.below(3) {
                let at = numbers.below(text.len());
                let to = (at + numbers.below(40)).min(text.len());
                match numbers.below(4) {
                    0 => text.truncate(at),
                    1 => drop(text.drain(at..to)),
                    2 => {
                        let part: Vec<char> = text[at..to].to_vec();
                        let there = numbers.below(text.len());
                        text.splice(there..there, part);
                    }
                    _ => {
                        let odd: Vec<char> = ODD[numbers.below(ODD.len())].chars().collect();
                        text.splice(at..to.min(at + 1), odd);
                    }
                }
                if text.is_empty() {
                    break;
                }
            }
            reader(&text.into_iter().collect::<String>());
        }
    }
}

#[test]
fn every_reader_has_a_fuzz_target() {
    let manifest = std::fs::read_to_string(tests::top().join("tests/fuzz/Cargo.toml")).unwrap();
    for (name, _) in READERS {
        assert!(
            manifest.contains(&format!("name = \"{name}\"")),
            "{name} is not in the manifest"
        );
        assert!(
            tests::top()
                .join(format!("tests/fuzz/targets/{name}.rs"))
                .is_file(),
            "{name} has no target"
        );
    }
}
