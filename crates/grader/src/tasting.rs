//! Marks one answer about one glass by the rule for what was asked.

use base::Marks;
use exam_plan::Asked;
use exam_plan::plan::{AgeAnswer, TastingQuestion};

use crate::printed_letters::is_blank;
use crate::reason::Reason;
use crate::sample_key::{KnownWords, SampleKey};
use crate::tasting_rule::{
    age_band, age_range, confidence, descriptor_assignment, fault_exact, measured_number,
    ordered_scale, producer_extra_credit, quality_from_panel, tree_ancestry,
};
use crate::verdict::Verdict;

/// Marks an answer as it stands on the sheet. A blank answer earns nothing; what cannot be read
/// and words that nobody knows go to a person.
#[must_use]
pub fn mark_tasting(
    key: &SampleKey,
    words: KnownWords<'_>,
    question: &TastingQuestion,
    answer: &str,
) -> Verdict {
    let of = question.marks;
    let rule = rule_name(&question.asked);
    if is_blank(answer) {
        return Reason::NoAnswer.verdict(Marks::ZERO, rule);
    }
    match &question.asked {
        Asked::Aroma { words: most } => {
            descriptor_assignment::mark(&key.neat, words.lexicon, *most, answer, of, rule)
        }
        Asked::Water { words: most } => {
            descriptor_assignment::mark(&key.with_water, words.lexicon, *most, answer, of, rule)
        }
        Asked::Category => tree_ancestry::mark(&key.category, words.categories, answer, of, rule),
        Asked::Region => tree_ancestry::mark(&key.region, words.regions, answer, of, rule),
        Asked::Age(AgeAnswer::Band { from }) => age_band::mark(key.age, from, answer, of),
        Asked::Age(AgeAnswer::Range) => age_range::mark(key.age, answer, of),
        Asked::Strength { tolerance } => {
            measured_number::mark(key.strength, *tolerance, answer, of)
        }
        Asked::Colour => ordered_scale::mark(ordered_scale::COLOUR, key.colour, answer, of),
        Asked::Body => ordered_scale::mark(ordered_scale::BODY, key.body, answer, of),
        Asked::Finish => ordered_scale::mark(ordered_scale::FINISH, key.finish, answer, of),
        Asked::Quality => quality_from_panel::mark(key.quality, answer, of),
        Asked::Fault { from } => fault_exact::mark(key.fault.as_deref(), from, answer, of),
        Asked::Confidence(asked) => confidence::mark(key.right_belief, asked, answer, of),
        Asked::Producer { from } => producer_extra_credit::mark(&key.producer, from, answer, of),
    }
}

/// The stable name of the rule by which a thing asked is marked.
#[must_use]
pub const fn rule_name(asked: &Asked) -> &'static str {
    match asked {
        Asked::Aroma { .. } => descriptor_assignment::AROMA_RULE,
        Asked::Water { .. } => descriptor_assignment::WATER_RULE,
        Asked::Category => tree_ancestry::CATEGORY_RULE,
        Asked::Region => tree_ancestry::REGION_RULE,
        Asked::Age(AgeAnswer::Band { .. }) => age_band::RULE,
        Asked::Age(AgeAnswer::Range) => age_range::RULE,
        Asked::Strength { .. } => measured_number::RULE,
        Asked::Colour => ordered_scale::COLOUR.rule,
        Asked::Body => ordered_scale::BODY.rule,
        Asked::Finish => ordered_scale::FINISH.rule,
        Asked::Quality => quality_from_panel::RULE,
        Asked::Fault { .. } => fault_exact::RULE,
        Asked::Confidence(asked) => confidence::rule_name(asked.score),
        Asked::Producer { .. } => producer_extra_credit::RULE,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used)]
mod tests {
    use super::*;
    use crate::example::{Glass, every_asked, marks, told};
    use crate::rules::rule_named;
    use proptest::prelude::*;

    #[test]
    fn everything_asked_has_a_rule_in_the_list() {
        let mut names: Vec<&str> = every_asked().iter().map(Asked::name).collect();
        names.sort_unstable();
        names.dedup();
        let mut all = Asked::NAMES;
        all.sort_unstable();
        assert_eq!(names, all, "an example of everything that can be asked");
        for asked in every_asked() {
            let rule = rule_named(rule_name(&asked)).expect("a rule in the list");
            assert_eq!(rule.marks, asked.name());
        }
    }

    #[test]
    fn blank_answers_earn_nothing() {
        let glass = Glass::new();
        for asked in every_asked() {
            let outcome = glass.mark(asked, "2", " - ");
            assert_eq!(told(&outcome), ("0".to_owned(), "no answer".to_owned()));
        }
    }

    proptest! {
        #[test]
        fn any_answer_is_marked_within_bounds(
            which in 0_usize..every_asked().len(),
            answer in prop_oneof![
                ".{0,40}",
                "[0-9., -]{0,8}",
                "(banana|oak|peat|mint|rum|none|8 to 12|[a-z]{3,8})(; (oak|raisin|peat|[a-z]{3,8})){0,6}",
            ],
        ) {
            let asked = every_asked().swap_remove(which);
            let outcome = Glass::new().mark(asked, "2", &answer);
            prop_assert!(Marks::ZERO <= outcome.marks() && outcome.marks() <= marks("2"));
            prop_assert!(!told(&outcome).1.is_empty());
        }
    }
}
