//! Rules of item writing, one a file. The list of rules is [`ItemRule::ALL`]; definitions are
//! those of the reference file item-lint.json, after the guidelines of Haladyna, Downing and
//! Rodriguez 2002 (HDR; their numbers from memory).

mod absolute_word;
mod all_of_the_above;
mod all_rules;
mod article_cue;
mod choice;
mod duplicate_options;
mod hard_to_read;
mod item_rule;
mod key_in_other_stem;
mod key_position;
mod longest_option_is_key;
mod negative_stem;
mod none_of_the_above;
mod numbers_out_of_order;
mod options_named_in_option;
mod question_without_clause;
mod repeated_opening;
mod similar_stem;
mod stale_source;
mod stem_word_in_one_option;
mod word_weight;

pub use all_rules::{check_question, check_questions};
pub use item_rule::{ItemRule, Waiver};
pub use similar_stem::SIMILAR_FROM;
pub use stale_source::check_sources;
