//! Answers, key and rubric make marks, each with its reason.

pub mod assignment;
pub mod award;
pub mod chance_score;
pub mod combined_marks;
#[cfg(test)]
mod example;
pub mod for_a_person;
pub mod printed_letters;
pub mod reason;
pub mod rules;
pub mod ruling;
pub mod ruling_table;
pub mod sample_key;
pub mod script_sharing;
pub mod sentences;
pub mod share;
pub mod spelling;
pub mod tasting;
pub mod tasting_rule;
pub mod theory;
pub mod theory_rule;
pub mod total;
pub mod verdict;
pub mod word_overlap;
pub mod written_number;

pub use award::{Award, Item, Outcome, UnknownWord};
pub use chance_score::{ChanceScore, tasting_chance_score, theory_chance_score};
pub use for_a_person::{Subject, ToDecide, to_decide};
pub use ruling::{Judgement, Ruling, Rulings};
pub use sample_key::{KnownWords, SampleKey};
pub use sentences::Sentences;
pub use tasting::mark_tasting;
pub use theory::mark_theory;
pub use total::{PartTotal, Totals, totals};
pub use verdict::Verdict;
