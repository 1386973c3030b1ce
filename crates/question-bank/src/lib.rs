//! Questions, sample records, panels, lexicon, category and region trees: read and checked.

pub mod bank;
pub mod check;
pub mod coverage;
pub mod drawn_numbers;
pub mod exchange;
mod folded_text;
pub mod formula;
pub mod history;
pub mod lexicon;
pub mod panel_support;
pub mod printed_order;
pub mod question;
pub mod question_kind;
pub mod read;
pub mod reference_tasting;
pub mod sample_record;
pub mod shape;
pub mod similarity;
pub mod tasting_key;
pub mod taxonomy;
pub mod word_match;

pub use bank::Bank;
pub use check::{check_questions, check_sources};
pub use coverage::{CellCoverage, Quota, coverage};
pub use drawn_numbers::DrawnNumbers;
pub use lexicon::Lexicon;
pub use panel_support::{PanelSupport, panel_support};
pub use printed_order::PrintedOrder;
pub use question::{Question, ReviewState};
pub use question_kind::QuestionKind;
pub use read::{BankTexts, SampleTexts, read_bank, read_samples};
pub use sample_record::SampleRecord;
pub use shape::Shape;
pub use tasting_key::TastingKey;
pub use taxonomy::Taxonomy;
pub use word_match::{Resolved, fold, resolve};
