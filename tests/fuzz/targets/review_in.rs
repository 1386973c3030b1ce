//! Any text for the reader `review_in`.
#![no_main]

#[path = "../readers.rs"]
mod readers;

libfuzzer_sys::fuzz_target!(|words: &str| readers::review_in(words));
