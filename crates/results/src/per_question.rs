//! One page for each question: what it asked, how it was answered, and by whom.

use std::collections::BTreeMap;

use assembler::Sitting;
use base::{QuestionId, Text};
use exam_plan::Exam;
use grader::printed_letters::{is_blank, read_letters};
use grader::{Award, Item};
use question_bank::question_kind::AnswerOption;
use question_bank::{PrintedOrder, Shape};
use serde::Serialize;

use crate::answer_counts::{AnswerCount, Counts};
use crate::decide::{Outcome, per_mille};
use crate::script::Script;
use crate::summary::{QuestionFigure, SittingSummary};

/// So many different answers are shown at most.
const MOST_ANSWERS: usize = 8;

/// One question of a sitting. Holds the key.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QuestionPage {
    /// Which.
    pub question: QuestionId,
    /// What it asks, in full.
    pub stem: String,
    /// The name of its cell.
    pub cell: String,
    /// Where it was printed: "A 7".
    pub printed_as: Vec<String>,
    /// Whether its numbers are drawn for each form.
    pub numbers_drawn: bool,
    /// The figure of the summary.
    pub figure: QuestionFigure,
    /// The answers, most frequent first.
    pub answers: Vec<AnswerCount>,
    /// Where its key comes from.
    pub source: String,
}

/// Every question that was printed, the hardest first; ties in the order of their ids.
#[must_use]
pub fn per_question(
    exam: &Exam,
    sitting: &Sitting,
    scripts: &[Script<'_>],
    summary: &SittingSummary,
) -> Vec<QuestionPage> {
    let mut pages: Vec<QuestionPage> = summary
        .questions
        .iter()
        .filter_map(|figure| page(exam, sitting, scripts, figure))
        .collect();
    // No figure: nobody answered it, which comes last.
    pages.sort_by(|a, b| credit(a).total_cmp(&credit(b)));
    pages
}

fn credit(page: &QuestionPage) -> f64 {
    page.figure.credit.value.as_ref().copied().unwrap_or(2.0)
}

fn page(
    exam: &Exam,
    sitting: &Sitting,
    scripts: &[Script<'_>],
    figure: &QuestionFigure,
) -> Option<QuestionPage> {
    let known = exam.bank.questions.get(&figure.question)?;
    let mut printed_as = Vec::new();
    let mut numbers_drawn = false;
    let mut orders: BTreeMap<&str, &PrintedOrder> = BTreeMap::new();
    for form in &sitting.forms {
        for (printed, number) in form.questions.iter().zip(1..) {
            if printed.question == figure.question {
                printed_as.push(format!("{} {number}", form.name));
                numbers_drawn |= !printed.drawn.is_empty();
                orders.insert(form.name.as_str(), &printed.order);
            }
        }
    }
    let mut counts = Counts::default();
    let shape = known.kind.shape();
    if let Shape::Choice { options, one: true } = &shape {
        for option in *options {
            counts.expect(&option.text, option.key);
        }
    }
    for script in scripts {
        if script.decision.outcome == Outcome::Absent {
            continue;
        }
        let order = script
            .place
            .form
            .as_ref()
            .and_then(|f| orders.get(f.as_str()));
        let total = &script.decision.total;
        let share = f64::from(per_mille(total.marks, total.of)) / 1000.0;
        for award in asked(script, &figure.question) {
            let words = in_words(&shape, order.copied(), &award.answer);
            counts.add(&words, award.marks() == award.of, share);
        }
    }
    let cell = exam.bank.cells.iter().find(|(id, _)| *id == known.cell);
    Some(QuestionPage {
        question: figure.question.clone(),
        stem: known.kind.stem().to_owned(),
        cell: cell.map_or_else(|| known.cell.to_string(), |(_, name)| name.clone()),
        printed_as,
        numbers_drawn,
        figure: figure.clone(),
        answers: counts.most(MOST_ANSWERS),
        source: known.source.to_string(),
    })
}

fn asked<'s>(script: &'s Script<'_>, wanted: &QuestionId) -> impl Iterator<Item = &'s Award> {
    script.awards.iter().copied().filter(
        move |award| matches!(&award.item, Item::Theory { question, .. } if question == wanted),
    )
}

/// An answer in words that are the same on every form.
fn in_words(shape: &Shape<'_>, order: Option<&PrintedOrder>, answer: &str) -> String {
    let written = answer.trim();
    if is_blank(answer) {
        return "no answer".to_owned();
    }
    let texts: Vec<&str> = match shape {
        Shape::Choice { options, .. } => texts_of(options),
        Shape::Order { steps } => steps.iter().map(Text::as_str).collect(),
        // Joined columns have too many answers to be told in words.
        Shape::Columns { .. } => return written.to_uppercase(),
        Shape::Number { .. } | Shape::Words { .. } => return written.to_lowercase(),
        Shape::Space { .. } => return "an essay".to_owned(),
    };
    let words = order.and_then(|order| {
        let places = read_letters(answer, texts.len()).ok()?;
        let mut chosen: Vec<usize> = places
            .iter()
            .filter_map(|place| order.written_at(*place))
            .collect();
        if matches!(shape, Shape::Choice { .. }) {
            chosen.sort_unstable();
        }
        let words: Vec<&str> = chosen
            .iter()
            .filter_map(|place| texts.get(*place).copied())
            .collect();
        (!words.is_empty()).then(|| {
            words.join(match shape {
                Shape::Order { .. } => " → ",
                Shape::Choice { .. }
                | Shape::Columns { .. }
                | Shape::Number { .. }
                | Shape::Words { .. }
                | Shape::Space { .. } => "; ",
            })
        })
    });
    words.unwrap_or_else(|| written.to_owned())
}

fn texts_of(options: &[AnswerOption]) -> Vec<&str> {
    options.iter().map(|option| option.text.as_str()).collect()
}
