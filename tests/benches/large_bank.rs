//! Large banks made of the shipped one.

use std::collections::BTreeSet;

use base::SourceText;
use question_bank::read::{BankTexts, SampleTexts};
use workflow::texts::Texts;

/// The shipped bank with its questions repeated under other names until there are so many: the
/// worst case for what looks at questions side by side.
pub(crate) fn repeated(questions: usize) -> BankTexts {
    grown(questions, &|line, _| line.to_owned())
}

/// The shipped bank with as many questions, whose words of five letters and more are others in each
/// copy, so that the copies ask different things, as questions of one bank do.
pub(crate) fn varied(questions: usize) -> BankTexts {
    let fields: BTreeSet<&str> = KEPT.into_iter().collect();
    grown(questions, &|line, copy| other_words(line, copy, &fields))
}

/// Words that belong to the format, and lines that hold what must not change.
const KEPT: [&str; 40] = [
    "best_answer",
    "multiple_response",
    "numeric",
    "ordering",
    "matching",
    "short_answer",
    "options",
    "answer",
    "pairs",
    "steps",
    "accept",
    "distractors",
    "right",
    "tolerance",
    "half_within",
    "keep_order",
    "level",
    "recall",
    "application",
    "judgement",
    "difficulty",
    "medium",
    "state",
    "operational",
    "pretest",
    "reviewed",
    "draft",
    "retired",
    "source",
    "clause",
    "evidence",
    "computed",
    "common-practice",
    "memory",
    "verified",
    "marks",
    "enemies",
    "anchor",
    "waive",
    "because",
];

fn other_words(line: &str, copy: usize, kept: &BTreeSet<&str>) -> String {
    let trimmed = line.trim_start();
    let asks = ["stem:", "- { text:", "- text:", "why:", "accept:"]
        .iter()
        .any(|start| trimmed.starts_with(start));
    if !asks || copy == 0 {
        return line.to_owned();
    }
    let mut text = String::with_capacity(line.len() + 32);
    let mut word = String::new();
    // Four letters from the number of the copy, so that no two copies share the word.
    let ending: String = (0..4_u32)
        .map(|place| char::from(b'a' + u8::try_from(copy / 26_usize.pow(place) % 26).unwrap()))
        .collect();
    for letter in line.chars().chain([' ']) {
        if letter.is_alphanumeric() || letter == '_' || letter == '-' {
            word.push(letter);
        } else {
            let other = word.chars().count() >= 5
                && word.chars().all(char::is_alphabetic)
                // "{volume}" stands for a number that is drawn.
                && !text.ends_with('{')
                && !kept.contains(word.as_str());
            if other {
                text.push_str(&word);
                text.push_str(&ending);
            } else {
                text.push_str(&word);
            }
            word.clear();
            text.push(letter);
        }
    }
    text.pop();
    text
}

fn grown(questions: usize, change: &dyn Fn(&str, usize) -> String) -> BankTexts {
    let mut faults = Vec::new();
    let folder = super::top().join("question-banks/foundation");
    let texts = Texts::of_bank(&workflow::Disk, &folder, &mut faults).unwrap();
    let mut bank = texts.bank(&mut faults).unwrap();
    let one: usize = bank
        .questions
        .iter()
        .map(|t| t.text.matches("\n  - id: ").count())
        .sum();
    let shipped = bank.questions.clone();
    for copy in 1..questions.div_ceil(one.max(1)) {
        bank.questions
            .extend(shipped.iter().map(|source| renamed(source, copy, change)));
    }
    let keep = bank.samples.split_off(bank.samples.len().min(1));
    drop::<Vec<SampleTexts>>(keep);
    bank
}

/// A file of questions whose ids have a number appended, enemies included.
fn renamed(source: &SourceText, copy: usize, change: &dyn Fn(&str, usize) -> String) -> SourceText {
    let mut text = String::with_capacity(source.text.len() + 4096);
    for line in source.text.lines() {
        let trimmed = line.trim_start();
        if let Some(id) = trimmed.strip_prefix("- id: ") {
            text.push_str(&format!("  - id: {}.c{copy}\n", id.trim()));
        } else if let Some(list) = trimmed.strip_prefix("enemies: [") {
            let names = list.split(']').next().unwrap_or("");
            let names: Vec<String> = names
                .split(',')
                .map(|n| format!("{}.c{copy}", n.trim()))
                .collect();
            text.push_str(&format!("    enemies: [{}]\n", names.join(", ")));
        } else {
            text.push_str(&change(line, copy));
            text.push('\n');
        }
    }
    SourceText::new(&format!("{}-{copy}", source.name), &text)
}
