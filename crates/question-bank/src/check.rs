//! Rules of item writing, one a file. The list of rules is [`ItemRule::ALL`]; definitions are
//! those of the reference files item-lint.json (L01 to L10, L18) and item-lint-own.json (the
//! others), after the guidelines of Haladyna, Downing and Rodriguez 2002 (HDR; their numbers from
//! memory).

mod absolute_word;
mod all_of_the_above;
mod all_rules;
mod article_cue;
pub(crate) mod choice;
mod convergence;
mod duplicate_options;
mod empty_stem;
mod hard_to_read;
mod hedged_key;
mod idle_rationale;
mod item_rule;
mod key_in_other_stem;
mod key_position;
mod longest_option_is_key;
mod negative_stem;
mod none_of_the_above;
mod number_of_options;
mod numbers_out_of_order;
mod opinion;
mod options_named_in_option;
mod question_without_clause;
mod repeated_opening;
mod sample_named;
mod similar_stem;
mod stale_source;
mod stem_word_in_one_option;
mod unlike_options;
mod word_weight;

pub use all_rules::{Examined, ProposedEnemies, check_question, check_questions, examine};
pub use item_rule::{ItemRule, Waiver};
pub use key_position::key_balance;
pub use similar_stem::SIMILAR_FROM;
pub use stale_source::check_sources;
