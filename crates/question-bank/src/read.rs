//! Texts become checked values here, one reader a file. Every reader goes on after a fault.

mod answer_options;
mod bank_folder;
mod bank_text;
mod calendar_date;
mod calibration_table;
mod doubled;
mod lexicon_text;
mod panel_table;
mod panel_wide;
mod picture_field;
mod question_text;
mod references;
mod sample_text;
mod set_text;
mod shapes;
mod translations;
mod tree_text;
mod waivers;

pub(crate) use answer_options::{MOST_ENTRIES, read_options};
pub use bank_folder::{BankTexts, SampleTexts, read_bank, read_samples};
pub(crate) use calendar_date::{day_number, is_date};
pub(crate) use doubled::{note_doubled, texts_with_bytes, without_bytes};
pub use lexicon_text::read_lexicon;
#[cfg(test)]
pub(crate) use question_text::tests as question_tests;
pub(crate) use question_text::{evidence_word, read_question_text};
pub use shapes::{BankFormat, shape_of};
pub(crate) use translations::{aligned, aligned_texts, entries, translated_choice};
pub use tree_text::read_tree_of_nodes;
