//! The columns of a table of questions. What they hold is told in `question-banks/README.md`.

use crate::read::MOST_ENTRIES;

/// The columns that every question has, in their order.
pub(super) const COMMON: [&str; 18] = [
    "id",
    "kind",
    "cell",
    "level",
    "difficulty",
    "state",
    "reviewed_by",
    "work",
    "clause",
    "evidence",
    "verified",
    "marks",
    "enemies",
    "anchor",
    "practice_only",
    "live",
    "waive",
    "stem",
];
/// What is right, and how it is credited.
pub(super) const ANSWER: [&str; 8] = [
    "answer",
    "unit",
    "tolerance",
    "half_within",
    "wanted",
    "why",
    "rule",
    "keep_order",
];
/// For each option: its text, whether it is right, why.
pub(super) const OPTION: [[&str; 3]; MOST_ENTRIES] = [
    ["option_1", "key_1", "why_1"],
    ["option_2", "key_2", "why_2"],
    ["option_3", "key_3", "why_3"],
    ["option_4", "key_4", "why_4"],
    ["option_5", "key_5", "why_5"],
    ["option_6", "key_6", "why_6"],
    ["option_7", "key_7", "why_7"],
];
/// What stands between the forms of one answer in a cell.
pub(super) const BETWEEN_FORMS: char = ';';

/// All columns in their order.
pub(super) fn all() -> Vec<&'static str> {
    COMMON
        .into_iter()
        .chain(ANSWER)
        .chain(OPTION.into_iter().flatten())
        .collect()
}
