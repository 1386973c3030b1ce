//! Any text for the reader `trees`.
#![no_main]

#[path = "../readers.rs"]
mod readers;

libfuzzer_sys::fuzz_target!(|words: &str| readers::trees(words));
