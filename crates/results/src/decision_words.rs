//! A decision in one or two plain sentences.

use base::Marks;

use exam_plan::BroughtPart;

use crate::decide::{Decision, ExtraCredit, Outcome, PartDecision, Reached};

/// Thousandths as a percentage with one decimal place: `62.5 %`, `60 %`.
#[must_use]
pub fn percent(per_mille: u32) -> String {
    match per_mille % 10 {
        0 => format!("{} %", per_mille / 10),
        tenth => format!("{}.{tenth} %", per_mille / 10),
    }
}

/// "1 answer", "3 answers".
#[must_use]
pub fn count_of(number: u32, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// "1 mark", "2.5 marks".
#[must_use]
pub fn marks_in_words(marks: Marks) -> String {
    format!(
        "{marks} {}",
        if marks == Marks::ONE { "mark" } else { "marks" }
    )
}

/// The least marks that reach a cut, less the marks there are.
fn missing(marks: Marks, of: Marks, cut: u32) -> Marks {
    let wanted = i128::from(of.thousandths()) * i128::from(cut);
    let least = wanted.div_euclid(1000) + i128::from(wanted.rem_euclid(1000) != 0);
    Marks::from_thousandths(i64::try_from(least).unwrap_or(i64::MAX)) - marks
}

fn part_in_words(part: &PartDecision) -> String {
    let score = format!(
        "{} {} of {} ({})",
        part.part,
        part.marks.marks,
        part.marks.of,
        percent(part.per_mille)
    );
    match (part.cut, part.reached) {
        (Some(cut), Some(Reached::Yes)) => {
            format!("{score}, at or above its cut of {}", percent(cut))
        }
        (Some(cut), Some(Reached::No)) => format!(
            "{score}, {} short of its cut of {}",
            marks_in_words(missing(part.marks.marks, part.marks.of, cut)),
            percent(cut)
        ),
        (Some(cut), Some(Reached::Open)) => format!(
            "{score} so far, cut {}, {} waiting",
            percent(cut),
            count_of(part.marks.waiting_answers, "answer", "answers")
        ),
        (Some(_) | None, None) | (None, Some(_)) => score,
    }
}

/// The sentence of a decision.
pub(crate) fn sentence(decision: &Decision) -> String {
    let Decision {
        outcome,
        parts,
        total,
        extra,
        brought,
        grade,
        ..
    } = decision;
    let outcome = *outcome;
    if outcome == Outcome::Absent {
        return "Absent: no answer was handed in, so nothing was decided.".to_owned();
    }
    if parts.is_empty() {
        return "Still open: nothing that counts was asked, so a person must decide.".to_owned();
    }
    let start = match (outcome, grade) {
        (Outcome::Pass, Some(grade)) => format!("Passed, {grade}"),
        (Outcome::Pass, None) => "Passed".to_owned(),
        (Outcome::Fail, _) => "Not passed".to_owned(),
        (Outcome::Waiting | Outcome::Absent, _) => "Still open".to_owned(),
    };
    let listed = parts
        .iter()
        .map(part_in_words)
        .chain(brought.as_ref().map(brought_in_words))
        .collect::<Vec<_>>()
        .join("; ");
    let mut words = format!("{start}: {listed}");
    if let Some(cut) = total.cut {
        let relation = match outcome {
            Outcome::Pass => "at or above",
            Outcome::Fail => "below",
            Outcome::Waiting | Outcome::Absent => "so far, beside",
        };
        let share = percent(total.per_mille);
        words.push_str(&format!(
            "; together {share}, {relation} the cut of {}",
            percent(cut)
        ));
    }
    words.push('.');
    let waiting: u32 = parts.iter().map(|part| part.marks.waiting_answers).sum();
    if waiting > 0 {
        let worth: Marks = parts.iter().map(|part| part.marks.waiting).sum();
        let effect = match outcome {
            Outcome::Waiting => "and can still turn the result",
            Outcome::Pass | Outcome::Fail | Outcome::Absent => "and cannot turn the result",
        };
        let (answers, verb) = (
            count_of(waiting, "answer", "answers"),
            if waiting == 1 { "waits" } else { "wait" },
        );
        words.push_str(&format!(
            " {answers} worth up to {} {verb} for a person {effect}.",
            marks_in_words(worth)
        ));
    }
    if let Some(extra) = extra {
        words.push_str(&extra_in_words(extra));
    }
    words
}

/// "theory brought along from 2026-06-12 (68.5 %)".
fn brought_in_words(brought: &BroughtPart) -> String {
    format!(
        "{} brought along from {} ({})",
        brought.part,
        brought.passed_on,
        percent(brought.per_mille)
    )
}

fn extra_in_words(extra: &ExtraCredit) -> String {
    if extra.earned == Marks::ZERO {
        return String::new();
    }
    let earned = marks_in_words(extra.earned);
    let added = if extra.added == extra.earned {
        format!(" Extra credit adds {earned}")
    } else {
        format!(
            " Of {earned} of extra credit, {} counted (ceiling {})",
            extra.added, extra.at_most
        )
    };
    let effect = if extra.turned_fail_into_pass {
        "; without it the exam would not have been passed."
    } else if extra.would_have_turned {
        "; the plan does not let it turn a fail into a pass."
    } else {
        "; it does not change the result."
    };
    format!("{added}{effect}")
}
