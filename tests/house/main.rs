//! The house as DEVELOPERS.md draws it and the house as it stands are one: doors, map, manifests,
//! sources, papers.
// A test may stop at the first surprise: these lints guard the program, not its checks.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub
)]

mod cargo_knows;
mod doors;
mod estimators;
mod manifests;
mod map;
mod papers;
mod papers_read;
mod picture;
mod project;
mod purity;
mod question_kinds;
mod reference_files;
mod source_files;
mod words;
