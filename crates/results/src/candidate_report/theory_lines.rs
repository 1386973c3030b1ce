//! The theory part of a report: what was asked, answered and right, question by question.

use assembler::Sitting;
use base::{Marks, Text};
use exam_plan::Exam;
use grader::printed_letters::{is_blank, read_letters};
use grader::{Item, Outcome};
use question_bank::printed_order::{letter, place_of};
use question_bank::question_kind::AnswerOption;
use question_bank::{PrintedOrder, Shape};
use serde::Serialize;

use crate::script::Script;

/// One question in a report.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TheoryLine {
    /// Its printed number.
    pub number: u32,
    /// What was asked, shortened.
    pub asked: String,
    /// What was answered: printed letters with their words; "no answer" for none.
    pub answered: String,
    /// What was right, with letters as printed on this candidate's form.
    pub right: String,
    /// The marks so far.
    pub marks: Marks,
    /// Full marks.
    pub of: Marks,
    /// Why.
    pub reason: String,
    /// Whether it counts; pretest questions do not.
    pub counts: bool,
    /// Whether a person must still decide.
    pub waiting: bool,
}

/// The questions of a script in printed order.
pub(super) fn theory_lines(exam: &Exam, sitting: &Sitting, script: &Script<'_>) -> Vec<TheoryLine> {
    let form = script
        .place
        .form
        .as_ref()
        .and_then(|name| sitting.form(name));
    let mut lines = Vec::new();
    for award in &script.awards {
        let Item::Theory { number, question } = &award.item else {
            continue;
        };
        let on_form = form.and_then(|form| form.questions.iter().find(|q| q.question == *question));
        let known = on_form.and_then(|on_form| on_form.in_bank(&exam.bank));
        let (answered, right) = match (&known, on_form) {
            (Some(known), Some(on_form)) => {
                let shape = known.kind.shape();
                (
                    answer_in_words(&shape, &on_form.order, &award.answer),
                    key_in_words(&shape, &on_form.order),
                )
            }
            (Some(_) | None, _) => (award.answer.clone(), String::new()),
        };
        lines.push(TheoryLine {
            number: *number,
            asked: known
                .as_ref()
                .map_or_else(String::new, |q| base::walk::shortened(q.kind.stem())),
            answered: if is_blank(&award.answer) {
                "no answer".to_owned()
            } else {
                answered
            },
            right,
            marks: award.marks(),
            of: award.of,
            reason: reason(&award.outcome),
            counts: award.counts,
            waiting: award.outcome.waits(),
        });
    }
    lines
}

/// The sentence of an outcome.
pub(super) fn reason(outcome: &Outcome) -> String {
    match outcome {
        Outcome::Marked { reason, .. } => reason.clone(),
        Outcome::ForAPerson { why, .. } => format!("A person will decide: {why}."),
    }
}

fn lettered(place: usize, text: &str) -> String {
    format!("{}: {text}", letter(place))
}

fn answer_in_words(shape: &Shape<'_>, order: &PrintedOrder, answer: &str) -> String {
    let written = answer.trim().to_owned();
    let (texts, between): (Vec<&str>, &str) = match shape {
        Shape::Choice { options, .. } => (texts_of(options), "; "),
        Shape::Order { steps } => (steps.iter().map(Text::as_str).collect(), " → "),
        Shape::Columns { left, right } => {
            return columns_in_words(left, right, order, &written).unwrap_or(written);
        }
        Shape::Number { unit, .. } => {
            let bare = written
                .bytes()
                .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b',' | b'-'));
            return if bare {
                format!("{written} {unit}").trim_end().to_owned()
            } else {
                written
            };
        }
        Shape::Words { .. } | Shape::Space { .. } => return written,
    };
    let Ok(places) = read_letters(answer, texts.len()) else {
        return written;
    };
    let words: Vec<String> = places
        .iter()
        .filter_map(|place| Some(lettered(*place, texts.get(order.written_at(*place)?)?)))
        .collect();
    words.join(between)
}

fn texts_of(options: &[AnswerOption]) -> Vec<&str> {
    options.iter().map(|option| option.text.as_str()).collect()
}

/// "1B 2A" or "B A" as "Cognac – Ugni blanc; …"; none where it is written otherwise.
fn columns_in_words(
    left_column: &[&str],
    right: &[&str],
    order: &PrintedOrder,
    written: &str,
) -> Option<String> {
    let mut words = Vec::new();
    let mut left = None;
    let mut in_order = 0;
    for c in written.chars() {
        if let Some(digit) = c.to_digit(10) {
            left = usize::try_from(digit).ok()?.checked_sub(1);
        } else if let Some(place) = place_of(c) {
            let entry_left = left_column.get(left.take().unwrap_or(in_order))?;
            in_order += 1;
            let entry = right.get(order.written_at(place)?)?;
            words.push(format!("{entry_left} – {entry}"));
        } else if matches!(c, '–' | '_') {
            in_order += 1;
        }
    }
    (!words.is_empty()).then(|| words.join("; "))
}

fn key_in_words(shape: &Shape<'_>, order: &PrintedOrder) -> String {
    let printed = |written: usize, text: &str| {
        order
            .printed_at(written)
            .map_or_else(|| text.to_owned(), |place| lettered(place, text))
    };
    match shape {
        Shape::Choice { options, .. } => {
            let mut keys: Vec<String> = options
                .iter()
                .enumerate()
                .filter(|(_, option)| option.key)
                .map(|(place, option)| printed(place, &option.text))
                .collect();
            keys.sort();
            keys.join("; ")
        }
        Shape::Number { written, unit, .. } => format!("{written} {unit}").trim_end().to_owned(),
        Shape::Order { steps } => steps
            .iter()
            .enumerate()
            .map(|(place, step)| printed(place, step))
            .collect::<Vec<_>>()
            .join(" → "),
        Shape::Words { lines: 1, entries } => entries
            .first()
            .and_then(|forms| forms.first())
            .map(Text::to_string)
            .unwrap_or_default(),
        Shape::Words { lines, entries } => {
            let mains = entries.iter().filter_map(|forms| forms.first());
            let mains: Vec<&str> = mains.map(Text::as_str).collect();
            format!("any {lines} of {}", mains.join(", "))
        }
        Shape::Space { model, .. } => (*model).to_owned(),
        Shape::Columns { .. } => shape.key_in_words(),
    }
}
