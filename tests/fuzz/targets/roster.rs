//! Any text for the reader `roster`.
#![no_main]

#[path = "../readers.rs"]
mod readers;

libfuzzer_sys::fuzz_target!(|words: &str| readers::roster(words));
