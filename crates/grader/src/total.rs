//! Adds awards up: exact sums per part, extra credit apart and capped.

use base::Marks;
use exam_plan::plan::PassRule;

use crate::award::{Award, Item};

/// The marks of one part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PartTotal {
    /// The marks so far.
    pub marks: Marks,
    /// The maximum: full marks of everything that counts and is no extra credit.
    pub of: Marks,
}

/// The sums of one candidate's awards.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Totals {
    /// The theory part.
    pub theory: PartTotal,
    /// The tasting part.
    pub tasting: PartTotal,
    /// Extra credit, at most what the plan allows.
    pub extra: Marks,
    /// Extra credit before the ceiling.
    pub extra_before_ceiling: Marks,
    /// How many counted items wait for a person.
    pub waiting: usize,
}

/// Adds the awards of one candidate up. Items that do not count (pretest questions) are passed
/// over; extra credit belongs to no part and has a ceiling.
#[must_use]
pub fn totals(awards: &[Award], rule: &PassRule) -> Totals {
    let mut totals = Totals::default();
    for award in awards.iter().filter(|award| award.counts) {
        totals.waiting += usize::from(award.outcome.waits());
        if award.extra {
            totals.extra_before_ceiling += award.marks();
            continue;
        }
        let part = match award.item {
            Item::Theory { .. } => &mut totals.theory,
            Item::Tasting { .. } => &mut totals.tasting,
        };
        part.marks += award.marks();
        part.of += award.of;
    }
    totals.extra = totals.extra_before_ceiling.at_most(rule.extra_at_most);
    totals
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::Outcome;
    use base::{CandidateNumber, QuestionId, SampleId};
    use exam_plan::plan::Join;
    use proptest::prelude::*;

    fn award(theory: bool, thousandths: i64, counts: bool, extra: bool, waits: bool) -> Award {
        let marks = Marks::from_thousandths(thousandths);
        Award {
            candidate: CandidateNumber::parse("C-1").unwrap(),
            item: if theory {
                Item::Theory {
                    number: 1,
                    question: QuestionId::parse("q").unwrap(),
                }
            } else {
                Item::Tasting {
                    glass: 1,
                    code: "417".to_owned(),
                    sample: SampleId::parse("s").unwrap(),
                    asked: "aroma".to_owned(),
                }
            },
            answer: String::new(),
            outcome: if waits {
                Outcome::ForAPerson {
                    why: "a word".to_owned(),
                    near: Vec::new(),
                    provisional: marks,
                    words: Vec::new(),
                }
            } else {
                Outcome::Marked {
                    marks,
                    reason: "so".to_owned(),
                    rule: "numeric".into(),
                }
            },
            of: Marks::from_thousandths(3000),
            counts,
            extra,
        }
    }

    fn rule(extra_at_most: i64) -> PassRule {
        PassRule {
            join: Join::Conjunctive {
                theory: 600,
                tasting: 500,
            },
            extra_at_most: Marks::from_thousandths(extra_at_most),
            extra_may_turn_fail_into_pass: false,
        }
    }

    #[test]
    fn parts_extra_credit_and_pretest_are_kept_apart() {
        let awards = [
            award(true, 333, true, false, false),
            award(true, 667, true, false, false),
            award(true, 3000, false, false, false), // pretest
            award(false, 1500, true, false, true),  // provisional
            award(false, 1000, true, true, false),  // extra
            award(false, 1000, true, true, false),
        ];
        let totals = totals(&awards, &rule(1500));
        assert_eq!(totals.theory.marks.to_string(), "1");
        assert_eq!(totals.theory.of.to_string(), "6");
        assert_eq!(totals.tasting.marks.to_string(), "1.5");
        assert_eq!(totals.tasting.of.to_string(), "3");
        assert_eq!(totals.extra.to_string(), "1.5");
        assert_eq!(totals.extra_before_ceiling.to_string(), "2");
        assert_eq!(totals.waiting, 1);
    }

    proptest! {
        #[test]
        fn the_order_of_awards_changes_nothing(
            parts in prop::collection::vec((any::<bool>(), 0_i64..=3000, any::<bool>(), any::<bool>(), any::<bool>()), 0..30)
        ) {
            let mut awards: Vec<Award> = parts
                .iter()
                .map(|&(theory, marks, counts, extra, waits)| award(theory, marks, counts, extra, waits))
                .collect();
            let forwards = totals(&awards, &rule(2000));
            awards.reverse();
            prop_assert_eq!(totals(&awards, &rule(2000)), forwards);
            prop_assert!(forwards.theory.marks <= forwards.theory.of);
            prop_assert!(forwards.tasting.marks <= forwards.tasting.of);
            let counted: i64 = parts.iter().filter(|p| p.2).map(|p| p.1).sum();
            let summed = forwards.theory.marks + forwards.tasting.marks + forwards.extra_before_ceiling;
            prop_assert_eq!(summed.thousandths(), counted);
        }
    }
}
