//! Questions as a paper for reviewers: each with its key, why, source, and room for a verdict.

use crate::bank::Bank;
use crate::question::{Question, ReviewState};
use crate::question_kind::QuestionKind;
use crate::shape::Shape;

/// How a heading names a question, and how the lines begin that are read back.
pub(super) const HEADING: &str = "## ";
pub(super) const STATE: &str = "State:";
pub(super) const REVIEWED_BY: &str = "Reviewed by:";

/// All questions of a bank as Markdown, in the order of its cells. Holds every key.
#[must_use]
pub fn to_review(bank: &Bank) -> String {
    let states: Vec<&str> = ReviewState::ALL.iter().map(|state| state.word()).collect();
    let mut text = format!(
        "# For review: {}\n\nThis paper holds every key. Look each question up in its source, and change what stands\nbehind \"{STATE}\" ({}) and \"{REVIEWED_BY}\"\n(a role or initials). Only these two lines are read back; write anything below \"Comments:\".\n",
        one_line(&bank.title),
        states.join(", ")
    );
    for (cell, name) in &bank.cells {
        for question in bank.questions.values().filter(|q| q.cell == *cell) {
            text.push('\n');
            text.push_str(&one(question, name));
        }
    }
    text
}

fn one(question: &Question, cell: &str) -> String {
    let mut lines = vec![format!("{HEADING}{}", question.id), String::new()];
    lines.push(format!(
        "{} · {} · {} · {} · marks: {}",
        one_line(cell),
        question.level.word(),
        question.difficulty.word(),
        question.kind.name(),
        question.marks
    ));
    lines.push(String::new());
    lines.push(format!(
        "Source: {} · last verified {}",
        one_line(&question.source.to_string()),
        question.verified
    ));
    lines.push(String::new());
    if let Some(picture) = &question.picture {
        lines.push(format!(
            "Picture {}: {}",
            picture.file,
            one_line(&picture.alternative)
        ));
        lines.push(String::new());
    }
    for line in question.with_its_text().lines() {
        lines.push(format!("> {line}"));
    }
    lines.push(">".to_owned());
    for line in key(&question.kind) {
        lines.push(format!("> {}", one_line(&line)));
    }
    lines.push(String::new());
    lines.push(format!("{STATE} {}", question.state.word()));
    lines.push(
        format!(
            "{REVIEWED_BY} {}",
            one_line(question.reviewed_by.as_deref().unwrap_or(""))
        )
        .trim_end()
        .to_owned(),
    );
    lines.push("Comments:".to_owned());
    lines.push("\n".to_owned());
    lines.join("\n")
}

/// What is right and why, a line each.
fn key(kind: &QuestionKind) -> Vec<String> {
    let shape = kind.shape();
    let mut lines: Vec<String> = match &shape {
        Shape::Choice { options, .. } => options
            .iter()
            .map(|option| {
                let mark = if option.key { "right" } else { "wrong" };
                format!("- {mark}: {} ({})", option.text, option.why)
            })
            .collect(),
        Shape::Number { .. }
        | Shape::Order { .. }
        | Shape::Columns { .. }
        | Shape::Words { .. }
        | Shape::Space { .. } => vec![
            format!("- right: {}", shape.key_in_words()),
            format!("- why: {}", kind.why()),
        ],
    };
    if kind.drawings(1).is_some() {
        lines.insert(
            0,
            "- with the numbers of one drawing, as an example:".to_owned(),
        );
    }
    lines
}

/// A text in one line, so that nothing within it can be taken for a line that is read back.
fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
