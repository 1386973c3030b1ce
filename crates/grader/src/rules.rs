//! Every rule by which something is marked: its stable name, what it marks, where it comes from.
//!
//! A question kind or a thing asked is added with its rule and a line here; a test walks the list.

use crate::theory_rule;

/// A rule of marking.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rule {
    /// The stable name that stands with every mark.
    pub name: &'static str,
    /// The kind of question, or the word of the thing asked, as plans and banks name it.
    pub marks: &'static str,
    /// Where the rule comes from.
    pub source: &'static str,
    /// What a guesser does.
    pub guesser: &'static str,
}

pub(crate) const CHOICE: &str = "this project's choice, no source";
pub(crate) const PRACTICE: &str = "common practice, no source";
pub(crate) const COIN: &str = "marks each option by the toss of a coin";
pub(crate) const ANY_ORDER: &str = "any order, each equally likely";
const LIST: &str = "any of the printed list, each equally likely";
pub(crate) const NO_LIST: &str = "no list to guess from: counted as 0";
const MATCHING: &str = "best one-to-one matching (Kuhn 1955) with panel weights (ISO 11035:1994); \
                        shares for group and family are this project's choice";
const ANCESTRY: &str =
    "Wu and Palmer 1994, corrected for the mean over all leaves; nothing for the root alone";
const WORDS: &str = "so many different words of the lexicon, 2,000 draws of a fixed stream";
const LEAF: &str = "any leaf of the tree, each equally likely";
const COHEN: &str = "linear weights, Cohen 1968";
const EQUAL: &str = "states the same for each name of the list";
const STEP: &str = "any step of the scale, each equally likely";

pub(crate) const fn rule(
    name: &'static str,
    marks: &'static str,
    source: &'static str,
    guesser: &'static str,
) -> Rule {
    Rule {
        name,
        marks,
        source,
        guesser,
    }
}

/// The rules of what is asked of a glass; those of theory questions stand with their kinds.
const OF_TASTING: [Rule; 15] = [
    rule("aroma assignment", "aroma", MATCHING, WORDS),
    rule("water assignment", "water", MATCHING, WORDS),
    rule("category ancestry", "category", ANCESTRY, LEAF),
    rule("region ancestry", "region", ANCESTRY, LEAF),
    rule("age band", "age", CHOICE, LIST),
    rule(
        "age range",
        "age",
        "Gneiting and Raftery 2007, eq. 43; limits are this project's choice",
        "any two whole years from 0 to 30 in order",
    ),
    rule(
        "strength tolerance",
        "strength",
        PRACTICE,
        "any whole % vol from 35 to 65",
    ),
    rule("colour scale", "colour", COHEN, STEP),
    rule("body scale", "body", COHEN, STEP),
    rule("finish scale", "finish", COHEN, STEP),
    rule(
        "quality panel",
        "quality",
        CHOICE,
        "any whole number from 0 to 10",
    ),
    rule("fault exact", "fault", PRACTICE, LIST),
    rule("confidence quadratic", "confidence", "Brier 1950", EQUAL),
    rule("confidence logarithmic", "confidence", "Good 1952", EQUAL),
    rule("producer exact", "producer", PRACTICE, LIST),
];

/// All rules.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    theory_rule::RULES
        .into_iter()
        .flatten()
        .chain(OF_TASTING.iter())
}

/// The rule with this name.
#[must_use]
pub fn rule_named(name: &str) -> Option<&'static Rule> {
    rules().find(|rule| rule.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use exam_plan::Asked;
    use question_bank::QuestionKind;
    use question_bank::question_kind::{MultipleResponseRule, OrderingRule};
    use std::collections::BTreeSet;

    #[test]
    fn every_kind_and_everything_asked_is_in_the_list_and_nothing_else() {
        let listed: BTreeSet<&str> = rules().map(|rule| rule.marks).collect();
        let wanted: BTreeSet<&str> = QuestionKind::NAMES
            .into_iter()
            .chain(Asked::NAMES)
            .collect();
        assert_eq!(listed, wanted);
        let names: BTreeSet<&str> = rules().map(|rule| rule.name).collect();
        assert_eq!(names.len(), rules().count(), "names are unique");
    }

    #[test]
    fn every_crediting_rule_is_in_the_list() {
        for (name, rule) in MultipleResponseRule::ALL {
            let full = crate::theory_rule::multiple_response::rule_name(rule);
            assert_eq!(full, format!("multiple_response {name}"));
            assert!(rule_named(full).is_some(), "{full}");
        }
        for (name, rule) in OrderingRule::ALL {
            let full = crate::theory_rule::ordering::rule_name(rule);
            assert_eq!(full, format!("ordering {name}"));
            assert!(rule_named(full).is_some(), "{full}");
        }
        assert!(rule_named("guess").is_none());
    }
}
