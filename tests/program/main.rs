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
mod bad_input;
mod check;
mod custody;
mod decisions;
mod dilute;
mod exchange;
mod figures;
mod first_author;
mod forecasts;
mod gamed_answers;
mod groups;
mod help;
mod hostile;
mod incidents;
mod moderate;
mod panel;
mod practice;
mod public_draw;
mod question_kinds;
mod release;
mod same_bytes;
mod shipped_bank;
mod standards;
mod whole_way;
mod word_phrases;
