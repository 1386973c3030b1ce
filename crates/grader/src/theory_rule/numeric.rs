//! A number with tolerance: full marks within it, half within the wider distance if one is stated.
//!
//! Source: common practice, no source. Chance score: 0 by agreement, since there is no list to
//! guess from.

use base::Marks;
use question_bank::question_kind::Numeric;

use crate::award::Outcome;
use crate::reason::{Earned, Limit, Reason};
use crate::share::Share;
use crate::written_number::{is_unit, read_number};

/// The rule's stable name.
pub const RULE: &str = "numeric";

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(kind: &Numeric, answer: &str, of: Marks) -> Outcome {
    mark_number(
        &Wanted {
            answer: kind.answer,
            written: &kind.answer_as_written,
            unit: &kind.unit,
            tolerance: kind.tolerance,
            half_within: kind.half_within,
        },
        answer,
        of,
        RULE,
    )
}

/// A number asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted<'a> {
    /// The right number.
    pub answer: f64,
    /// The right number as a person wrote it.
    pub written: &'a str,
    /// The unit printed beside the box.
    pub unit: &'a str,
    /// Full marks within this distance.
    pub tolerance: f64,
    /// Half marks within this distance.
    pub half_within: Option<f64>,
}

/// Marks a written number, for theory and tasting alike.
#[must_use]
pub fn mark_number(wanted: &Wanted<'_>, answer: &str, of: Marks, rule: &'static str) -> Outcome {
    let shown = base::walk::shortened(answer.trim());
    let Some(read) = read_number(answer) else {
        return Outcome::for_a_person(
            format!("\"{shown}\" cannot be read as a number"),
            Vec::new(),
        );
    };
    if !is_unit(&read.rest, wanted.unit) {
        return Outcome::for_a_person(
            format!(
                "\"{shown}\" is not a plain number of {}",
                if wanted.unit.is_empty() {
                    "no unit"
                } else {
                    wanted.unit
                }
            ),
            Vec::new(),
        );
    }
    let mut judged = read
        .readings
        .iter()
        .map(|&number| (number, judge(wanted, number)));
    let Some((number, limit)) = judged.next() else {
        return Outcome::for_a_person(
            format!("\"{shown}\" cannot be read as a number"),
            Vec::new(),
        );
    };
    // A comma may part thousands: only where it matters must a person say what was meant.
    if let Some((other, _)) = judged.find(|(_, other)| share(*other) != share(limit)) {
        return Outcome::for_a_person(
            format!("\"{shown}\" may mean {number} or {other}"),
            Vec::new(),
        );
    }
    let marks = share(limit).of(of);
    Reason::Number {
        given: number,
        right: wanted.written.to_owned(),
        unit: wanted.unit.to_owned(),
        limit,
        earned: Earned { marks, of },
    }
    .outcome(marks, rule)
}

const fn share(limit: Limit) -> Share {
    match limit {
        Limit::Within(_) => Share::FULL,
        Limit::HalfWithin(_) => Share::HALF,
        Limit::Beyond(_) => Share::NONE,
    }
}

/// How far a number lies from the right one. A billionth of its size is allowed for, because
/// decimal numbers such as 0.1 have no exact binary form.
fn judge(wanted: &Wanted<'_>, number: f64) -> Limit {
    let distance = (number - wanted.answer).abs();
    let dust = 1e-9 * wanted.answer.abs().max(1.0);
    if distance <= wanted.tolerance + dust {
        return Limit::Within(wanted.tolerance);
    }
    match wanted.half_within {
        Some(half) if distance <= half + dust => Limit::HalfWithin(half),
        Some(half) => Limit::Beyond(half.max(wanted.tolerance)),
        None => Limit::Beyond(wanted.tolerance),
    }
}
