//! The program of forms: search, bound and feasibility against trying everything.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub
)]

mod everything;
mod explained;
mod large;
mod verifier;
