//! Any text for the reader `samples`.
#![no_main]

#[path = "../readers.rs"]
mod readers;

libfuzzer_sys::fuzz_target!(|words: &str| readers::samples(words));
