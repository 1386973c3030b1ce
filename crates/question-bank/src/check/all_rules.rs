//! Runs every rule on every question and leaves out what the author waived.

use std::collections::{BTreeMap, BTreeSet};

use base::{Fault, QuestionId, SampleId};
use rayon::prelude::*;

use super::item_rule::ItemRule;
use super::{
    absolute_word, all_of_the_above, article_cue, convergence, duplicate_options, empty_stem,
    hard_to_read, hedged_key, idle_rationale, key_in_other_stem, key_position,
    longest_option_is_key, negative_stem, none_of_the_above, number_of_options,
    numbers_out_of_order, opinion, options_named_in_option, question_without_clause,
    repeated_opening, sample_named, similar_stem, stem_word_in_one_option, unlike_options,
};
use crate::bank::Bank;
use crate::question::{Question, ReviewState};
use crate::sample_record::SampleRecord;

/// What a look at all questions of a bank found.
#[derive(Debug, Clone, PartialEq)]
pub struct Examined {
    /// The weaknesses, in the order of their places.
    pub weaknesses: Vec<Fault>,
    /// Pairs that should not stand on one form, in the order of their ids.
    pub enemies: Vec<ProposedEnemies>,
}

/// Two questions that should be named as enemies of each other.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct ProposedEnemies {
    /// The one with the earlier id.
    pub one: QuestionId,
    /// The other.
    pub other: QuestionId,
    /// The rule that found them.
    pub because: ItemRule,
}

/// The weaknesses of all questions that are not retired, in the order of their places: those of
/// each question by itself, then those that show only beside the others. What a question waives is
/// left out; a waiver of a rule that finds nothing is a weakness itself.
#[must_use]
pub fn check_questions(bank: &Bank) -> Vec<Fault> {
    examine(bank, &BTreeMap::new()).weaknesses
}

/// The weaknesses as [`check_questions`] finds them, and the enemies to be named. `own_samples` are
/// the records that an exam brings beside those of the bank.
#[must_use]
pub fn examine(bank: &Bank, own_samples: &BTreeMap<SampleId, SampleRecord>) -> Examined {
    let live: Vec<&Question> = bank
        .questions
        .values()
        .filter(|question| question.state != ReviewState::Retired)
        .collect();
    let mut weaknesses: Vec<Fault> = live
        .par_iter()
        .flat_map_iter(|question| check_question(question))
        .collect();
    let mut enemies = BTreeSet::new();
    for rule in ItemRule::ALL {
        let (found, pairs) = match finder(rule) {
            Finder::Alone(_) => continue,
            Finder::InBank(find) => (not_waived(&live, rule, find(&live)), Vec::new()),
            Finder::BesideSamples(find) => {
                let found = find(&live, &[&bank.samples, own_samples]);
                (not_waived(&live, rule, found), Vec::new())
            }
            Finder::AmongOthers(find) => check_among_others(&live, rule, find),
        };
        weaknesses.extend(found);
        enemies.extend(pairs);
    }
    weaknesses.extend(key_position::find(&live));
    weaknesses.sort();
    Examined {
        weaknesses,
        enemies: enemies.into_iter().collect(),
    }
}

/// The weaknesses of one question by itself: at most one for each rule, waived rules left out. A
/// waiver of a rule that finds nothing is a weakness itself.
#[must_use]
pub fn check_question(question: &Question) -> Vec<Fault> {
    let mut found = Vec::new();
    for rule in ItemRule::ALL {
        let Finder::Alone(find) = finder(rule) else {
            continue;
        };
        match (find(question), waives(question, rule)) {
            (Some(weakness), false) => found.push(weakness),
            (None, true) => found.push(idle_waiver(question, rule)),
            (Some(_), true) | (None, false) => {}
        }
    }
    found
}

/// What a rule found in single questions, without what they waive, and with their idle waivers.
fn not_waived(
    questions: &[&Question],
    rule: ItemRule,
    weaknesses: Vec<(&Question, Fault)>,
) -> Vec<Fault> {
    let mut found = Vec::new();
    let mut effective: BTreeSet<&QuestionId> = BTreeSet::new();
    for (question, weakness) in weaknesses {
        if waives(question, rule) {
            effective.insert(&question.id);
        } else {
            found.push(weakness);
        }
    }
    found.extend(idle_waivers(questions, rule, &effective));
    found
}

/// The weaknesses that a rule finds among questions, and the pairs; a waiver of either of the two
/// sets one aside.
fn check_among_others(
    questions: &[&Question],
    rule: ItemRule,
    find: FindPairs,
) -> (Vec<Fault>, Vec<ProposedEnemies>) {
    let mut found = Vec::new();
    let mut pairs = Vec::new();
    let mut effective: BTreeSet<&QuestionId> = BTreeSet::new();
    for (one, other, weakness) in find(questions) {
        let waiving: Vec<&QuestionId> = [one, other]
            .into_iter()
            .filter(|question| waives(question, rule))
            .map(|question| &question.id)
            .collect();
        if waiving.is_empty() {
            found.push(weakness);
            pairs.push(ProposedEnemies {
                one: (&one.id).min(&other.id).clone(),
                other: (&one.id).max(&other.id).clone(),
                because: rule,
            });
        }
        effective.extend(waiving);
    }
    found.extend(idle_waivers(questions, rule, &effective));
    (found, pairs)
}

/// Waivers of a rule in questions where it finds nothing.
fn idle_waivers(
    questions: &[&Question],
    rule: ItemRule,
    effective: &BTreeSet<&QuestionId>,
) -> Vec<Fault> {
    questions
        .iter()
        .filter(|question| waives(question, rule) && !effective.contains(&question.id))
        .map(|question| idle_waiver(question, rule))
        .collect()
}

fn waives(question: &Question, rule: ItemRule) -> bool {
    question.waived.iter().any(|waiver| waiver.rule == rule)
}

fn idle_waiver(question: &Question, rule: ItemRule) -> Fault {
    Fault::weakness(
        "waiver-without-effect",
        question.place.clone(),
        format!(
            "\"{}\" waives rule {}, which finds nothing",
            question.id,
            rule.number()
        ),
    )
    .hint("remove the waiver")
}

/// Two questions and what is weak about them.
type FindPairs = for<'q> fn(&[&'q Question]) -> Vec<(&'q Question, &'q Question, Fault)>;

/// Questions and what is weak about each, seen among all.
type FindInBank = for<'q> fn(&[&'q Question]) -> Vec<(&'q Question, Fault)>;

/// The same beside the sample records.
type FindBesideSamples =
    for<'q> fn(&[&'q Question], &[&BTreeMap<SampleId, SampleRecord>]) -> Vec<(&'q Question, Fault)>;

/// How a rule looks.
enum Finder {
    /// At one question by itself.
    Alone(fn(&Question) -> Option<Fault>),
    /// At each question, knowing all of them.
    InBank(FindInBank),
    /// At each question, knowing the sample records.
    BesideSamples(FindBesideSamples),
    /// At each question beside the others.
    AmongOthers(FindPairs),
}

fn finder(rule: ItemRule) -> Finder {
    match rule {
        ItemRule::QuestionWithoutClause => Finder::Alone(question_without_clause::find),
        ItemRule::NegativeStem => Finder::Alone(negative_stem::find),
        ItemRule::AllOfTheAbove => Finder::Alone(all_of_the_above::find),
        ItemRule::NoneOfTheAbove => Finder::Alone(none_of_the_above::find),
        ItemRule::OptionsNamedInOption => Finder::Alone(options_named_in_option::find),
        ItemRule::LongestOptionIsKey => Finder::Alone(longest_option_is_key::find),
        ItemRule::AbsoluteWord => Finder::Alone(absolute_word::find),
        ItemRule::StemWordInOneOption => Finder::Alone(stem_word_in_one_option::find),
        ItemRule::ArticleCue => Finder::Alone(article_cue::find),
        ItemRule::DuplicateOptions => Finder::Alone(duplicate_options::find),
        ItemRule::NumbersOutOfOrder => Finder::Alone(numbers_out_of_order::find),
        ItemRule::Convergence => Finder::Alone(convergence::find),
        ItemRule::HedgedKey => Finder::Alone(hedged_key::find),
        ItemRule::UnlikeOptions => Finder::Alone(unlike_options::find),
        ItemRule::NumberOfOptions => Finder::InBank(number_of_options::find),
        ItemRule::EmptyStem => Finder::Alone(empty_stem::find),
        ItemRule::IdleRationale => Finder::Alone(idle_rationale::find),
        ItemRule::Opinion => Finder::Alone(opinion::find),
        ItemRule::SampleNamed => Finder::BesideSamples(sample_named::find),
        ItemRule::RepeatedOpening => Finder::Alone(repeated_opening::find),
        ItemRule::HardToRead => Finder::Alone(hard_to_read::find),
        ItemRule::SimilarStem => Finder::AmongOthers(similar_stem::find),
        ItemRule::KeyInOtherStem => Finder::AmongOthers(key_in_other_stem::find),
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
            because: "the law is worded so".into(),
        };
        question.waived = vec![waiver(ItemRule::NegativeStem)];
        assert!(check_question(&question).is_empty());
        question.waived.push(waiver(ItemRule::ArticleCue));
        assert_eq!(check_question(&question)[0].rule, "waiver-without-effect");
    }

    #[test]
    fn a_pair_is_set_aside_by_a_waiver_of_either() {
        let named = |id: &str, stem: &str, key: &str| {
            let mut question = best_answer(stem, &[key, "Something else"]);
            question.id = QuestionId::parse(id).unwrap();
            question
        };
        let one = named("one", "Which cask wood is used for Cognac?", "Limousin oak");
        let mut other = named(
            "other",
            "How long does Cognac rest in Limousin oak?",
            "2 years",
        );
        let rules = |questions: &[&Question]| -> Vec<&'static str> {
            check_among_others(questions, ItemRule::KeyInOtherStem, key_in_other_stem::find)
                .0
                .iter()
                .map(|fault| fault.rule)
                .collect()
        };
        assert_eq!(rules(&[&one, &other]), ["key-in-other-stem"]);
        other.waived = vec![Waiver {
            rule: ItemRule::KeyInOtherStem,
            because: "the forms differ in kind".into(),
        }];
        assert!(rules(&[&one, &other]).is_empty());
        assert_eq!(rules(&[&other]), ["waiver-without-effect"]);
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
