//! Marks of the parts and the plan's pass rule make one decision, with its sentence.
//!
//! Cuts are thousandths of a part's maximum and are compared without rounding, by
//! [`base::Marks::reaches`] and whole-number products. Shown percentages are rounded down to one
//! decimal place, so that a shown percentage reaches a cut exactly when the marks do.
//!
//! A part brought along from an earlier sitting counts as passed where each part has its own cut, and
//! with its share where both are weighed; it has no marks in this sitting's total. Grades: see
//! [`exam_plan::result_rules`].

use std::fmt;

use base::Marks;
use exam_plan::BroughtPart;
pub use exam_plan::Part;
use exam_plan::plan::{Join, PassRule};
use exam_plan::result_rules::GradeBand;
use grader::{Award, Item};
use serde::Serialize;

/// What one candidate has in one part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct PartMarks {
    /// Marks so far, extra credit left out; of answers that wait for a person what is certain.
    pub marks: Marks,
    /// Marks for a full part.
    pub of: Marks,
    /// Marks that a person may still give, beyond those.
    pub waiting: Marks,
    /// How many answers wait for a person.
    pub waiting_answers: u32,
    /// How many questions were answered at all.
    pub answered: u32,
    /// How many questions count.
    pub asked: u32,
}

/// What one candidate has in all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct CandidateMarks {
    /// The theory part; none where the candidate has no counted theory question.
    pub theory: Option<PartMarks>,
    /// The tasting part; none where nothing counted is asked of a glass.
    pub tasting: Option<PartMarks>,
    /// Extra credit earned, before the plan's ceiling.
    pub extra: Marks,
    /// Extra credit that a person may still give.
    pub extra_waiting: Marks,
    /// Extra credit that could be earned, before the plan's ceiling.
    pub extra_of: Marks,
    /// Whether anything at all was answered, pretest and extra credit included.
    pub answered_anything: bool,
}

impl CandidateMarks {
    /// Adds up one candidate's awards. Awards that do not count (pretest) are left out of the
    /// parts; extra credit is kept apart.
    #[must_use]
    pub fn of<'a>(awards: impl IntoIterator<Item = &'a Award>) -> Self {
        let mut made = Self::default();
        for award in awards {
            let part = match award.item {
                Item::Theory { .. } => Part::Theory,
                Item::Tasting { .. } => Part::Tasting,
            };
            made.add(&Added {
                part,
                marks: award.marks(),
                of: award.of,
                waits: award.outcome.waits(),
                answered: !award.answer.trim().is_empty(),
                counts: award.counts,
                extra: award.extra,
            });
        }
        made
    }
    /// Adds one award.
    pub(crate) fn add(&mut self, added: &Added) {
        self.answered_anything |= added.answered;
        if !added.counts {
            return;
        }
        let waiting = if added.waits {
            added.of - added.marks
        } else {
            Marks::ZERO
        };
        if added.extra {
            self.extra += added.marks;
            self.extra_of += added.of;
            self.extra_waiting += waiting;
            return;
        }
        let part = match added.part {
            Part::Theory => self.theory.get_or_insert_default(),
            Part::Tasting => self.tasting.get_or_insert_default(),
        };
        part.marks += added.marks;
        part.of += added.of;
        part.waiting += waiting;
        part.waiting_answers += u32::from(added.waits);
        part.answered += u32::from(added.answered);
        part.asked += 1;
    }
    /// The marks of one part.
    #[must_use]
    pub const fn part(&self, part: Part) -> Option<PartMarks> {
        match part {
            Part::Theory => self.theory,
            Part::Tasting => self.tasting,
        }
    }
}

/// What adding up needs to know of one award.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Added {
    pub(crate) part: Part,
    pub(crate) marks: Marks,
    pub(crate) of: Marks,
    pub(crate) waits: bool,
    pub(crate) answered: bool,
    pub(crate) counts: bool,
    pub(crate) extra: bool,
}

/// How a candidate's exam ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Outcome {
    /// The cut is reached, whatever a person still decides.
    Pass,
    /// The cut is missed, whatever a person still decides.
    Fail,
    /// Answers wait for a person, and they can still turn the result.
    Waiting,
    /// Nothing was answered.
    Absent,
}

impl Outcome {
    /// All outcomes, in the order of a class list's last lines.
    pub const ALL: [Self; 4] = [Self::Pass, Self::Fail, Self::Waiting, Self::Absent];
    /// The word in lists.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::Fail => "fail",
            Self::Waiting => "waiting",
            Self::Absent => "absent",
        }
    }
}

impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// Whether a cut is reached.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Reached {
    /// Yes, whatever a person still decides.
    Yes,
    /// No, whatever a person still decides.
    No,
    /// It depends on answers that wait for a person.
    Open,
}

impl Reached {
    const fn from(surely: bool, possibly: bool) -> Self {
        match (surely, possibly) {
            (true, _) => Self::Yes,
            (false, true) => Self::Open,
            (false, false) => Self::No,
        }
    }
}

/// One part in the decision.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct PartDecision {
    /// Which part.
    pub part: Part,
    /// Its marks, extra credit left out.
    pub marks: PartMarks,
    /// Thousandths of the maximum, rounded down.
    pub per_mille: u32,
    /// Its own cut in thousandths; none where only the weighted total has one.
    pub cut: Option<u32>,
    /// Whether its own cut is reached, extra credit left out.
    pub reached: Option<Reached>,
}

/// What extra credit did.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct ExtraCredit {
    /// Earned, before the ceiling.
    pub earned: Marks,
    /// Could be earned, before the ceiling.
    pub of: Marks,
    /// The plan's ceiling.
    pub at_most: Marks,
    /// Really added to the shown total: never above the ceiling, nor beyond full marks.
    pub added: Marks,
    /// Whether it turned a fail into a pass, which the plan must allow.
    pub turned_fail_into_pass: bool,
    /// Whether it would have, had the plan allowed it.
    pub would_have_turned: bool,
}

/// The total as shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Total {
    /// Theory, tasting and added extra credit; adds up exactly.
    pub marks: Marks,
    /// Full marks of both parts.
    pub of: Marks,
    /// Thousandths, rounded down; weighted by part where the plan weighs, and without extra credit
    /// unless it may turn a fail into a pass.
    pub per_mille: u32,
    /// The cut of the weighted total; none where each part has its own.
    pub cut: Option<u32>,
}

/// A decision with everything it rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Decision {
    /// How it ended.
    pub outcome: Outcome,
    /// The parts that were asked, theory first.
    pub parts: Vec<PartDecision>,
    /// The total as shown.
    pub total: Total,
    /// What extra credit did; none where none could be earned.
    pub extra: Option<ExtraCredit>,
    /// The part that was brought along from an earlier sitting.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub brought: Option<BroughtPart>,
    /// The grade above a plain pass; none for a plain pass, and where nothing was passed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub grade: Option<String>,
    /// Why, in one or two plain sentences.
    pub sentence: String,
}

/// Marks of the parts at one end of what a person may still decide.
#[derive(Debug, Clone, Copy)]
struct Standing {
    theory: Option<(Marks, Marks)>,
    tasting: Option<(Marks, Marks)>,
}

/// What the plan and an earlier sitting say beyond the marks.
#[derive(Debug, Clone, Copy, Default)]
pub struct Terms<'t> {
    /// Grades above a plain pass, the highest first.
    pub grades: &'t [GradeBand],
    /// The part that was brought along.
    pub brought: Option<&'t BroughtPart>,
}

/// The part that was brought along as a standing: its share of a thousand.
fn as_standing(brought: Option<&BroughtPart>, part: Part) -> Option<(Marks, Marks)> {
    let brought = brought.filter(|brought| brought.part == part)?;
    let share = Marks::from_thousandths(i64::from(brought.per_mille.min(1000)));
    Some((share, Marks::ONE))
}

impl Standing {
    /// With the part that was brought along, where both are weighed.
    fn with(self, brought: Option<&BroughtPart>, join: Join) -> Self {
        match join {
            // It counts as passed: a part that is not there misses no cut.
            Join::Conjunctive { .. } => self,
            Join::Compensatory { .. } => Self {
                theory: self.theory.or_else(|| as_standing(brought, Part::Theory)),
                tasting: self.tasting.or_else(|| as_standing(brought, Part::Tasting)),
            },
        }
    }

    /// `full`: as if a person gave full marks to all that waits. Extra credit goes into the tasting
    /// part, where it is asked, and never lifts a part above its maximum.
    fn new(marks: &CandidateMarks, full: bool, extra: Marks) -> Self {
        let of = |part: PartMarks, extra: Marks| {
            let waiting = if full { part.waiting } else { Marks::ZERO };
            ((part.marks + waiting + extra).at_most(part.of), part.of)
        };
        let counted = |part: Option<PartMarks>| part.filter(|part| part.of > Marks::ZERO);
        Self {
            theory: counted(marks.theory).map(|part| of(part, Marks::ZERO)),
            tasting: counted(marks.tasting).map(|part| of(part, extra)),
        }
    }

    fn passes(self, join: Join) -> bool {
        match join {
            Join::Conjunctive { theory, tasting } => {
                let reaches = |part: Option<(Marks, Marks)>, cut| {
                    part.is_none_or(|(marks, of)| marks.reaches(cut, of))
                };
                reaches(self.theory, theory) && reaches(self.tasting, tasting)
            }
            Join::Compensatory {
                total,
                theory_weight,
            } => {
                let (have, whole) = self.weighed(theory_weight);
                have * 1000 >= whole * i128::from(total)
            }
        }
    }

    /// The weighted total as an exact fraction: each part's share of its maximum times its weight.
    /// A part that was not asked leaves its weight to the other.
    fn weighed(self, theory_weight: u32) -> (i128, i128) {
        let number = |marks: Marks| i128::from(marks.thousandths());
        let weight = i128::from(theory_weight.min(1000));
        match (self.theory, self.tasting) {
            (Some((theory, of_theory)), Some((tasting, of_tasting))) => {
                let theory = weight * number(theory) * number(of_tasting);
                let tasting = (1000 - weight) * number(tasting) * number(of_theory);
                (
                    theory + tasting,
                    1000 * number(of_theory) * number(of_tasting),
                )
            }
            (Some((marks, of)), None) | (None, Some((marks, of))) => (number(marks), number(of)),
            (None, None) => (0, 0),
        }
    }

    fn per_mille(self, join: Join) -> u32 {
        let (have, whole) = match join {
            Join::Compensatory { theory_weight, .. } => self.weighed(theory_weight),
            Join::Conjunctive { .. } => {
                let parts = [self.theory, self.tasting];
                let parts = || parts.iter().flatten();
                let have: Marks = parts().map(|(marks, _)| marks).sum();
                let whole: Marks = parts().map(|(_, of)| of).sum();
                (
                    i128::from(have.thousandths()),
                    i128::from(whole.thousandths()),
                )
            }
        };
        floor_per_mille(have, whole)
    }
}

fn floor_per_mille(have: i128, whole: i128) -> u32 {
    if whole <= 0 {
        return 0;
    }
    u32::try_from((have * 1000).div_euclid(whole)).unwrap_or(0)
}

/// Thousandths of the maximum, rounded down: reaches a cut exactly when the marks do.
#[must_use]
pub fn per_mille(marks: Marks, of: Marks) -> u32 {
    floor_per_mille(
        i128::from(marks.thousandths()),
        i128::from(of.thousandths()),
    )
}

/// Decides one candidate's exam.
///
/// A pass or a fail stands only when no answer that waits for a person can turn it. Extra credit
/// counts up to the plan's ceiling; it raises the shown total, and turns a fail into a pass only
/// where the plan says so (it then goes into the tasting part, where it was asked).
#[must_use]
pub fn decide(pass: &PassRule, marks: &CandidateMarks) -> Decision {
    decide_with(pass, Terms::default(), marks)
}

/// As [`decide`], with grades and a part that was brought along.
#[must_use]
pub fn decide_with(pass: &PassRule, terms: Terms<'_>, marks: &CandidateMarks) -> Decision {
    let none = Marks::ZERO;
    let brought = terms.brought;
    let standing = |full, extra| Standing::new(marks, full, extra).with(brought, pass.join);
    let extra_now = marks.extra.at_most(pass.extra_at_most);
    let extra_later = (marks.extra + marks.extra_waiting).at_most(pass.extra_at_most);
    let helps = pass.extra_may_turn_fail_into_pass;
    let surely_without = standing(false, none).passes(pass.join);
    let surely_with = standing(false, extra_now).passes(pass.join);
    let possibly = standing(true, if helps { extra_later } else { none }).passes(pass.join);
    let surely = if helps { surely_with } else { surely_without };
    let bare = Standing::new(marks, false, none);
    let nothing_counts = bare.theory.is_none() && bare.tasting.is_none();

    let outcome = match Reached::from(surely, possibly) {
        _ if !marks.answered_anything => Outcome::Absent,
        _ if nothing_counts => Outcome::Waiting,
        Reached::Yes => Outcome::Pass,
        Reached::No => Outcome::Fail,
        Reached::Open => Outcome::Waiting,
    };
    let parts = part_decisions(pass, marks);
    let of: Marks = parts.iter().map(|part| part.marks.of).sum();
    let plain: Marks = parts.iter().map(|part| part.marks.marks).sum();
    let added = extra_now.at_most(of - plain).max(none);
    let extra = (marks.extra_of > none).then_some(ExtraCredit {
        earned: marks.extra,
        of: marks.extra_of,
        at_most: pass.extra_at_most,
        added,
        turned_fail_into_pass: helps && outcome == Outcome::Pass && !surely_without,
        would_have_turned: !helps && outcome == Outcome::Fail && surely_with,
    });
    let counted = standing(false, if helps { extra_now } else { none });
    let total = Total {
        marks: plain + added,
        of,
        per_mille: counted.per_mille(pass.join),
        cut: match pass.join {
            Join::Compensatory { total, .. } => Some(total),
            Join::Conjunctive { .. } => None,
        },
    };
    let grade = (outcome == Outcome::Pass && brought.is_none())
        .then(|| grade(terms.grades, total.per_mille))
        .flatten();
    let mut decision = Decision {
        outcome,
        parts,
        total,
        extra,
        brought: brought.cloned(),
        grade,
        sentence: String::new(),
    };
    decision.sentence = crate::decision_words::sentence(&decision);
    decision
}

/// The grade of a pass with this share of the total.
fn grade(grades: &[GradeBand], per_mille: u32) -> Option<String> {
    let reached = grades.iter().find(|grade| per_mille >= grade.from)?;
    Some(reached.name.clone())
}

fn part_decisions(pass: &PassRule, marks: &CandidateMarks) -> Vec<PartDecision> {
    let decided = |part: Part| {
        let of_part = marks.part(part).filter(|part| part.of > Marks::ZERO)?;
        let cut = match (pass.join, part) {
            (Join::Conjunctive { theory, .. }, Part::Theory) => Some(theory),
            (Join::Conjunctive { tasting, .. }, Part::Tasting) => Some(tasting),
            (Join::Compensatory { .. }, Part::Theory | Part::Tasting) => None,
        };
        let reached = cut.map(|cut| {
            let full = of_part.marks + of_part.waiting;
            Reached::from(
                of_part.marks.reaches(cut, of_part.of),
                full.reaches(cut, of_part.of),
            )
        });
        Some(PartDecision {
            part,
            marks: of_part,
            per_mille: per_mille(of_part.marks, of_part.of),
            cut,
            reached,
        })
    };
    Part::ALL.into_iter().filter_map(decided).collect()
}

#[cfg(test)]
mod tests;
