//! Sittings assembled from invented banks, checked from outside through the public functions.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub
)]

mod codes;
mod exposure;
mod forms;
mod near_best;
mod pour;
mod room;
mod rules;
mod synthetic;
mod verifier;
mod views;
