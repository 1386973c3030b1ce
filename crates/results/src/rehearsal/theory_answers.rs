//! What a simulated candidate writes under a theory question.
//!
//! Model: the candidate knows the matter with probability logistic(ability − difficulty), the
//! author's guess of difficulty being −1 (easy), 0 (medium) or 1 (hard) where answers have shown
//! nothing yet, and the curve that answers gave where they have; who does not know guesses
//! among what is printed, so that a best-answer question is right with probability
//! c + (1 − c) · logistic(ability − difficulty), c = 1 / options (Birnbaum 1968 with a = 1). Kinds
//! with partial credit answer part by part in the same way.

use base::Stream;
use question_bank::printed_order::letter;
use question_bank::question::Difficulty;
use question_bank::question_kind::AnswerOption;
use question_bank::{PrintedOrder, Question, Shape};

use super::draws::{any_of, happens, normal};

/// The difficulty of an author's guess on the scale of ability.
pub(super) const fn difficulty(guess: Difficulty) -> f64 {
    match guess {
        Difficulty::Easy => -1.0,
        Difficulty::Medium => 0.0,
        Difficulty::Hard => 1.0,
    }
}

/// The answer of a candidate who knows it with this chance, with the letters of the form.
pub(super) fn answer(
    stream: &mut Stream,
    question: &Question,
    order: &PrintedOrder,
    knows: f64,
) -> String {
    written(stream, question, order, knows)
}

/// The answer of somebody who knows nothing.
pub(super) fn guess(stream: &mut Stream, question: &Question, order: &PrintedOrder) -> String {
    written(stream, question, order, 0.0)
}

fn written(stream: &mut Stream, question: &Question, order: &PrintedOrder, knows: f64) -> String {
    match question.kind.shape() {
        Shape::Choice { options, one: true } => one_letter(stream, options, order, knows),
        Shape::Choice {
            options,
            one: false,
        } => several_letters(stream, options, order, knows),
        Shape::Number {
            answer,
            written,
            tolerance,
            half_within,
            ..
        } => number(stream, (answer, written), tolerance, half_within, knows),
        Shape::Order { steps } => in_order(stream, steps.len(), order, knows),
        Shape::Columns { left, right } => matched(stream, left.len(), right.len(), order, knows),
        // Who does not know a word leaves the line open: a wrong word would wait for a person.
        Shape::Words { lines, entries } => {
            let known = entries.iter().take(lines).filter_map(|forms| {
                let known = happens(stream, knows);
                forms.first().filter(|_| known).cloned()
            });
            known.collect::<Vec<_>>().join("; ")
        }
        // An essay is marked by a person: what it is worth is simulated, and no words are.
        Shape::Space { .. } => String::new(),
    }
}

fn printed_letter(order: &PrintedOrder, written: usize) -> Option<char> {
    order.printed_at(written).map(letter)
}

fn one_letter(
    stream: &mut Stream,
    options: &[AnswerOption],
    order: &PrintedOrder,
    knows: f64,
) -> String {
    let chosen = if happens(stream, knows) {
        options.iter().position(|option| option.key)
    } else {
        Some(stream.index(options.len()))
    };
    chosen
        .and_then(|written| printed_letter(order, written))
        .map(String::from)
        .unwrap_or_default()
}

/// Each option is judged rightly with probability 1/2 + knows/2; somebody who would mark nothing
/// marks one at random.
fn several_letters(
    stream: &mut Stream,
    options: &[AnswerOption],
    order: &PrintedOrder,
    knows: f64,
) -> String {
    let mut letters: Vec<char> = Vec::new();
    for (written, option) in options.iter().enumerate() {
        let judged_rightly = happens(stream, 0.5 + knows / 2.0);
        if judged_rightly == option.key {
            letters.extend(printed_letter(order, written));
        }
    }
    if letters.is_empty() {
        let any = stream.index(options.len());
        letters.extend(printed_letter(order, any));
    }
    letters.sort_unstable();
    letters.into_iter().collect()
}

/// Right, or off: a third of the wrong answers within the half-marks distance where there is one.
fn number(
    stream: &mut Stream,
    (answer, written): (f64, &str),
    tolerance: f64,
    half_within: Option<f64>,
    knows: f64,
) -> String {
    if happens(stream, knows) {
        return written.to_owned();
    }
    if knows == 0.0 {
        return String::new();
    }
    let side = if happens(stream, 0.5) { 1.0 } else { -1.0 };
    let near = happens(stream, 1.0 / 3.0);
    let off = match half_within {
        Some(half) if near => (tolerance + half) / 2.0,
        Some(half) => half * (1.5 + stream.unit()),
        None => tolerance.max(answer.abs() / 100.0) * (1.5 + 3.0 * stream.unit()),
    };
    format!("{:.4}", answer + side * off)
}

/// Each step is placed by its true rank with a normal error of 2 (1 − knows) places (Thurstone
/// 1927, case V); somebody who knows nothing shuffles.
fn in_order(stream: &mut Stream, count: usize, order: &PrintedOrder, knows: f64) -> String {
    let mut steps: Vec<(f64, usize)> = (0..count).map(|step| (0.0, step)).collect();
    if knows == 0.0 {
        stream.shuffle(&mut steps);
    } else {
        for (sensed, step) in &mut steps {
            *sensed = *step as f64 + 2.0 * (1.0 - knows) * normal(stream);
        }
        steps.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    }
    let letters = steps
        .iter()
        .filter_map(|(_, step)| printed_letter(order, *step));
    letters.collect()
}

/// Each pair is known with its probability; what is left is joined at random, each entry once.
fn matched(
    stream: &mut Stream,
    left: usize,
    right: usize,
    order: &PrintedOrder,
    knows: f64,
) -> String {
    let known: Vec<bool> = (0..left).map(|_| happens(stream, knows)).collect();
    let mut left_over: Vec<usize> = (0..right)
        .filter(|right| known.get(*right) != Some(&true))
        .collect();
    stream.shuffle(&mut left_over);
    let mut left_over = left_over.into_iter();
    let mut words = Vec::new();
    for (left, known) in known.iter().enumerate() {
        let right = if *known { Some(left) } else { left_over.next() };
        if let Some(printed) = right.and_then(|right| printed_letter(order, right)) {
            words.push(format!("{}{printed}", left + 1));
        }
    }
    words.join(" ")
}

/// Draws one text of several; empty from nothing.
pub(super) fn any_text(stream: &mut Stream, texts: &[String]) -> String {
    any_of(stream, texts).cloned().unwrap_or_default()
}
