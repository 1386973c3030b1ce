//! What is sealed: every question with its key, every sample, every candidate's codes, the texts
//! from which all of it was made, and the seed.

use assembler::candidate_view::{LetteredText, PrintedBody, printed_questions};
use assembler::examiner_view::key_of;
use exam_plan::TastingWay;
use question_bank::TastingKey;
use question_bank::sample_record::Age;
use register::Digests;
use serde_json::{Value, json};

use crate::open_sitting::DrawnSitting;

/// Names and messages in their order. Numbers are whole or stand as text, so that every reader
/// writes them alike.
pub(super) fn messages(open: &DrawnSitting, texts: &Digests) -> Vec<(String, Value)> {
    let mut all = vec![("seed".to_owned(), json!({ "seed": *open.seed.to_hex() }))];
    questions(open, &mut all);
    samples(open, &mut all);
    for place in &open.sitting.places {
        let glasses: Vec<Value> = place
            .glasses
            .iter()
            .map(|glass| json!({ "code": glass.code, "sample": glass.sample.to_string() }))
            .collect();
        let number = place.candidate.to_string();
        all.push((
            format!("codes {number}"),
            json!({ "candidate": number, "glasses": glasses }),
        ));
    }
    for (name, digest) in texts {
        all.push((format!("text {name}"), json!({ "sha256": digest })));
    }
    all
}

fn questions(open: &DrawnSitting, all: &mut Vec<(String, Value)>) {
    for form in &open.sitting.forms {
        let printed = printed_questions(&open.exam.bank, form);
        for (line, question) in key_of(&open.exam.bank, form).into_iter().zip(printed) {
            all.push((
                format!("question {} {}", form.name, line.number),
                json!({
                    "form": form.name.to_string(),
                    "number": line.number,
                    "question": line.question.to_string(),
                    "stem": question.stem,
                    "printed": printed_lines(&question.body),
                    "right": line.answer_text,
                    "marks": line.marks.to_string(),
                    "counts": line.counts,
                }),
            ));
        }
    }
}

/// What stands below a stem, line by line.
fn printed_lines(body: &PrintedBody) -> Vec<String> {
    let lettered = |texts: &[LetteredText]| -> Vec<String> {
        let line = |text: &LetteredText| format!("{} {}", text.letter, text.text);
        texts.iter().map(line).collect()
    };
    match body {
        PrintedBody::Options { options, .. } => lettered(options),
        PrintedBody::Steps { steps } => lettered(steps),
        PrintedBody::Columns { left, right } => {
            let left = left.iter().enumerate();
            let mut lines: Vec<String> = left
                .map(|(place, text)| format!("{} {}", place + 1, text.text))
                .collect();
            lines.extend(lettered(right));
            lines
        }
        PrintedBody::Number { unit } => vec![unit.clone()],
        PrintedBody::Words { .. } | PrintedBody::Space { .. } => Vec::new(),
    }
}

fn samples(open: &DrawnSitting, all: &mut Vec<(String, Value)>) {
    let Some(part) = &open.exam.plan.tasting else {
        return;
    };
    let mut candidates = open.exam.roster.candidates.iter();
    let any_nose_only = candidates.any(|candidate| candidate.way == TastingWay::NosingOnly);
    for (id, _) in &part.samples {
        let Some(record) = open.exam.sample(id) else {
            continue;
        };
        let key = part.aroma_key(record, TastingWay::Full);
        let words = weighed(&key);
        let accepted: Vec<&str> = key.accepted.iter().map(|word| word.word.as_str()).collect();
        let mut message = json!({
                "sample": id.to_string(),
                "name": record.name,
                "producer": record.producer,
                "category": record.category.to_string(),
                "region": record.region.to_string(),
                "age": match record.age {
                    Age::Stated(years) => format!("{years} years"),
                    Age::NotStated => "not stated".to_owned(),
                    Age::Unknown => "not known".to_owned(),
                },
                "strength": record.strength.to_string(),
                "required": words,
                "accepted": accepted,
                "contradicting": key.contradicting,
        });
        if any_nose_only && let Some(fields) = message.as_object_mut() {
            let key = part.aroma_key(record, TastingWay::NosingOnly);
            fields.insert("required_by_nose".to_owned(), weighed(&key).into());
        }
        all.push((format!("sample {id}"), message));
    }
}

/// The words of a key with their weights.
fn weighed(key: &TastingKey) -> Vec<Value> {
    key.required
        .iter()
        .map(|word| json!({ "word": word.word, "weight": format!("{:.6}", word.weight) }))
        .collect()
}
