//! Any text for the reader `class_notes`.
#![no_main]

#[path = "../readers.rs"]
// Each target calls one of them.
#[allow(dead_code)]
mod readers;

libfuzzer_sys::fuzz_target!(|words: &str| readers::class_notes(words));
