//! Any text for the reader `leaf`.
#![no_main]

#[path = "../readers.rs"]
// Each target calls one of them.
#[allow(dead_code)]
mod readers;

libfuzzer_sys::fuzz_target!(|words: &str| readers::leaf(words));
