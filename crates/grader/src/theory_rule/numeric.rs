//! A number with tolerance: full marks within it, half within the wider distance if one is stated.
//! A number that comes of a known mistake earns nothing, and the reason says which it was.
//!
//! Source: common practice, no source. Chance score: 0 by agreement, since there is no list to
//! guess from.

use base::Marks;
use question_bank::PrintedOrder;
use question_bank::question_kind::Numeric;
use question_bank::shape::KnownMistake;

use super::TheoryRule;
use crate::reason::{Earned, Limit, Reason};
use crate::rules::{NO_LIST, PRACTICE, Rule, rule};
use crate::share::Share;
use crate::verdict::Verdict;
use crate::written_number::{is_unit, read_number};

/// The lines in the list of rules.
pub(crate) const RULES: &[Rule] = &[rule("numeric", "numeric", PRACTICE, NO_LIST)];

impl TheoryRule for Numeric {
    fn verdict(&self, _: &PrintedOrder, answer: &str, of: Marks) -> Verdict {
        mark(self, answer, of)
    }
    fn rule(&self) -> &'static str {
        RULE
    }
}

/// The rule's stable name.
pub const RULE: &str = "numeric";

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(kind: &Numeric, answer: &str, of: Marks) -> Verdict {
    mark_number(
        &Wanted {
            answer: kind.answer,
            written: &kind.answer_as_written,
            unit: &kind.unit,
            tolerance: kind.tolerance,
            half_within: kind.half_within,
            mistakes: &kind.mistakes,
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
    /// Wrong numbers that tell which mistake was made.
    pub mistakes: &'a [KnownMistake],
}

/// Marks a written number, for theory and tasting alike.
#[must_use]
pub fn mark_number(wanted: &Wanted<'_>, answer: &str, of: Marks, rule: &'static str) -> Verdict {
    let shown = base::walk::shortened(answer.trim());
    let Some(read) = read_number(answer) else {
        return Verdict::for_a_person(
            format!("\"{shown}\" cannot be read as a number"),
            Vec::new(),
        );
    };
    if !is_unit(&read.rest, wanted.unit) {
        return Verdict::for_a_person(
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
        return Verdict::for_a_person(
            format!("\"{shown}\" cannot be read as a number"),
            Vec::new(),
        );
    };
    // A comma may part thousands: only where it matters must a person say what was meant.
    if let Some((other, _)) = judged.find(|(_, other)| share(*other) != share(limit)) {
        return Verdict::for_a_person(
            format!("\"{shown}\" may mean {number} or {other}"),
            Vec::new(),
        );
    }
    if let Some(mistake) = known_mistake(wanted, number, limit) {
        return Reason::NumberByMistake {
            given: number,
            right: wanted.written.to_owned(),
            unit: wanted.unit.to_owned(),
            why: mistake.why.to_string(),
            of,
        }
        .verdict(Marks::ZERO, rule);
    }
    let marks = share(limit).of(of);
    Reason::Number {
        given: number,
        right: wanted.written.to_owned(),
        unit: wanted.unit.to_owned(),
        limit,
        earned: Earned { marks, of },
    }
    .verdict(marks, rule)
}

/// The known mistake from which a number comes: the nearest whose result lies within the tolerance
/// of it. A number within the tolerance of the right one comes of none.
fn known_mistake<'w>(wanted: &Wanted<'w>, number: f64, limit: Limit) -> Option<&'w KnownMistake> {
    if matches!(limit, Limit::Within(_)) {
        return None;
    }
    let distance = |mistake: &KnownMistake| (mistake.value - number).abs();
    let dust = 1e-9 * number.abs().max(1.0);
    wanted
        .mistakes
        .iter()
        .filter(|mistake| distance(mistake) <= wanted.tolerance + dust)
        .min_by(|a, b| distance(a).total_cmp(&distance(b)))
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

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::{numeric, question, told};
    use crate::mark_theory;
    use question_bank::PrintedOrder;

    fn marked(answer: &str) -> (String, String) {
        told(&mark_theory(
            &question(numeric(), "2"),
            &PrintedOrder::as_written(0),
            answer,
        ))
    }

    #[test]
    fn tolerance_and_half_tolerance_hold_at_their_edges() {
        for (answer, marks) in [
            ("46.9", "2"),
            ("46,9", "2"),
            ("46.9 % vol", "2"),
            ("46.4", "2"),
            ("47.4", "2"),
            ("47.41", "1"),
            ("47.9", "1"),
            ("47.91", "0"),
            ("-46.9", "0"),
        ] {
            assert_eq!(marked(answer).0, marks, "{answer}");
        }
    }

    #[test]
    fn what_cannot_be_read_goes_to_a_person() {
        for answer in [
            "about 47",
            "NaN",
            "inf",
            "46.9 proof",
            "4.6.9",
            "1e2",
            "46,900.1.2",
        ] {
            let (marks, why) = marked(answer);
            assert!(
                marks == "0" && why.starts_with("person: "),
                "{answer}: {why}"
            );
        }
    }

    #[test]
    fn a_comma_that_may_part_thousands_matters_only_where_it_matters() {
        let wanted = Wanted {
            answer: 1200.0,
            written: "1200",
            unit: "ml",
            tolerance: 5.0,
            half_within: None,
            mistakes: &[],
        };
        let mark = |answer| mark_number(&wanted, answer, Marks::ONE, RULE);
        assert_eq!(
            told(&mark("1,200")).1,
            "person: \"1,200\" may mean 1.2 or 1200"
        );
        assert_eq!(mark("1200 ml").marks(), Marks::ONE);
        assert_eq!(told(&mark("7,100")).0, "0");
        assert!(!mark("7,100").waits());
    }
}
