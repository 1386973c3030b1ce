//! Whole-program cases, and what is shipped with the program.
// A test may stop at the first surprise: these lints guard the program, not its checks.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub
)]

mod adversary;
mod analysis;
mod any_text;
mod appeals;
mod bad_flights;
mod bad_input;
mod bad_marking;
mod check;
mod class;
mod confidence;
mod custody;
mod decisions;
mod dilute;
mod exchange;
mod figures;
mod first_author;
mod forecasts;
mod forms;
mod gamed_answers;
mod groups;
mod help;
mod hostile;
mod incidents;
mod moderate;
mod moderate_class;
mod odd_candidates;
mod origins;
mod own_sentences;
mod panel;
mod personal_data;
mod practice;
mod public_draw;
mod question_kinds;
mod release;
mod result_rules;
mod same_bytes;
mod shipped_bank;
mod standards;
mod warm_up;
mod whole_way;
mod word_phrases;
