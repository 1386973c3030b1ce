//! Any text for the reader `questions`.
#![no_main]

#[path = "../readers.rs"]
mod readers;

libfuzzer_sys::fuzz_target!(|words: &str| readers::questions(words));
