//! Questions, sample records, panels, lexicon, category and region trees: read and checked.

pub mod bank;
pub mod lexicon;
pub mod printed_order;
pub mod question;
pub mod question_kind;
pub mod reference_tasting;
pub mod sample_record;
pub mod tasting_key;
pub mod taxonomy;

pub use bank::Bank;
pub use lexicon::Lexicon;
pub use printed_order::PrintedOrder;
pub use question::{Question, ReviewState};
pub use question_kind::QuestionKind;
pub use sample_record::SampleRecord;
pub use taxonomy::Taxonomy;
