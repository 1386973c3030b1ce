//! Checks against sources outside the project: every record of the reference files is compared,
//! or listed by id as not yet built.
// A test may stop at the first surprise: these lints guard the program, not its checks.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub
)]

mod agreement;
mod alcohol;
mod data;
mod decision;
mod discrimination;
mod equating;
mod equating_by_curves;
mod expected;
mod fairness;
mod generalisability;
mod item_analysis;
mod item_lint;
mod item_lint_own;
mod item_response;
mod law_rows;
mod lexicon_words;
mod panel;
mod ranking;
mod rasch_equating;
mod record;
mod reliability;
mod scoring_rules;
mod serving_designs;
mod similarity;
mod standard_setting;
mod stream_vectors;
mod taxonomy_similarity;
