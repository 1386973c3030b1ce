//! Runs every rule on every question and leaves out what the author waived.

use base::Fault;

use super::item_rule::ItemRule;
use super::{
    absolute_word, all_of_the_above, article_cue, duplicate_options, longest_option_is_key,
    negative_stem, none_of_the_above, numbers_out_of_order, options_named_in_option,
    question_without_clause, repeated_opening, stem_word_in_one_option,
};
use crate::bank::Bank;
use crate::question::{Question, ReviewState};

/// The weaknesses of all questions that are not retired, in the order of their places.
#[must_use]
pub fn check_questions(bank: &Bank) -> Vec<Fault> {
    let live = |question: &&Question| question.state != ReviewState::Retired;
    let mut found: Vec<Fault> = bank
        .questions
        .values()
        .filter(live)
        .flat_map(check_question)
        .collect();
    found.sort();
    found
}

/// The weaknesses of one question: at most one for each rule, waived rules left out. A waiver of a
/// rule that finds nothing is a weakness itself.
#[must_use]
pub fn check_question(question: &Question) -> Vec<Fault> {
    let mut found = Vec::new();
    for rule in ItemRule::ALL {
        let weakness = finder(rule)(question);
        let waiver = question.waived.iter().find(|waiver| waiver.rule == rule);
        match (weakness, waiver) {
            (Some(weakness), None) => found.push(weakness),
            (None, Some(_)) => found.push(
                Fault::weakness(
                    "waiver-without-effect",
                    question.place.clone(),
                    format!(
                        "\"{}\" waives rule {}, which finds nothing",
                        question.id,
                        rule.number()
                    ),
                )
                .hint("remove the waiver"),
            ),
            (Some(_), Some(_)) | (None, None) => {}
        }
    }
    found
}

fn finder(rule: ItemRule) -> fn(&Question) -> Option<Fault> {
    match rule {
        ItemRule::QuestionWithoutClause => question_without_clause::find,
        ItemRule::NegativeStem => negative_stem::find,
        ItemRule::AllOfTheAbove => all_of_the_above::find,
        ItemRule::NoneOfTheAbove => none_of_the_above::find,
        ItemRule::OptionsNamedInOption => options_named_in_option::find,
        ItemRule::LongestOptionIsKey => longest_option_is_key::find,
        ItemRule::AbsoluteWord => absolute_word::find,
        ItemRule::StemWordInOneOption => stem_word_in_one_option::find,
        ItemRule::ArticleCue => article_cue::find,
        ItemRule::DuplicateOptions => duplicate_options::find,
        ItemRule::NumbersOutOfOrder => numbers_out_of_order::find,
        ItemRule::RepeatedOpening => repeated_opening::find,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::check::Waiver;
    use crate::check::choice::tests::best_answer;
    use proptest::prelude::*;

    #[test]
    fn what_is_waived_is_left_out_and_an_idle_waiver_shown() {
        let mut question = best_answer("Which is not rum?", &["Gin", "Ron", "Rhum"]);
        assert_eq!(check_question(&question).len(), 1);
        let waiver = |rule| Waiver {
            rule,
            because: "the law is worded so".to_owned(),
        };
        question.waived = vec![waiver(ItemRule::NegativeStem)];
        assert!(check_question(&question).is_empty());
        question.waived.push(waiver(ItemRule::ArticleCue));
        assert_eq!(check_question(&question)[0].rule, "waiver-without-effect");
    }

    proptest! {
        #[test]
        fn any_question_is_checked_without_panic_and_no_weakness_stands_twice(
            stem in "(Which|a|an|not|NOT|n't|[ -~]|é| ){0,12}",
            options in proptest::collection::vec("(all of the above|A and B|[0-9]{1,2}|a cask of|[a-z]{1,8}|[ -~]|é| ){0,5}", 0..8),
        ) {
            let options: Vec<&str> = options.iter().map(String::as_str).collect();
            let found = check_question(&best_answer(&stem, &options));
            let mut rules: Vec<_> = found.iter().map(|fault| fault.rule).collect();
            prop_assert!(found.iter().all(Fault::is_weakness));
            rules.sort_unstable();
            let before = rules.len();
            rules.dedup();
            prop_assert_eq!(rules.len(), before);
        }

        /// Shuffling the options changes nothing but what is said of their order.
        #[test]
        fn the_order_of_options_matters_to_their_order_only(order in Just((1..5).collect::<Vec<usize>>()).prop_shuffle()) {
            let options = ["Always a cask of oak", "A cask of steel", "A cask", "Steel", "steel."];
            let rules = |options: &[&str]| -> Vec<&'static str> {
                check_question(&best_answer("Which cask of oak is an", options)).iter().map(|f| f.rule).collect()
            };
            let mut shuffled = vec![options[0]];
            shuffled.extend(order.iter().map(|place| options[*place]));
            prop_assert_eq!(rules(&options), rules(&shuffled));
        }
    }
}
