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
