//! What a changed key, rule or decision changes: every mark that differs, every candidate whose
//! total or decision does, worst first for whoever must answer for it.

use std::collections::BTreeMap;

use assembler::Sitting;
use base::{CandidateNumber, Marks};
use exam_plan::Exam;
use grader::{Award, Item};
use serde::Serialize;

use crate::decide::Outcome;
use crate::script::scripts;

/// One mark that differs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct MarkChange {
    /// Who.
    pub candidate: CandidateNumber,
    /// What was asked: `theory 7`, `tasting 417 aroma`.
    pub item: String,
    /// The marks before.
    pub before: Marks,
    /// The marks after.
    pub after: Marks,
    /// The most marks, after.
    pub of: Marks,
    /// Whether a person still must decide, after.
    pub waits: bool,
    /// Why the mark is what it is, after.
    pub why: String,
}

/// One candidate whose total or decision differs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CandidateChange {
    /// Who.
    pub candidate: CandidateNumber,
    /// The total before.
    pub before: Marks,
    /// The total after.
    pub after: Marks,
    /// The decision before.
    pub decision_before: Outcome,
    /// The decision after.
    pub decision_after: Outcome,
    /// The grade before; none for a plain pass or no pass.
    pub grade_before: Option<String>,
    /// The grade after.
    pub grade_after: Option<String>,
}

impl CandidateChange {
    /// Whether the decision turned, or its grade.
    #[must_use]
    pub fn turned(&self) -> bool {
        self.decision_before != self.decision_after || self.grade_before != self.grade_after
    }
    /// The decision before with its grade: "pass, with merit".
    #[must_use]
    pub fn before_in_words(&self) -> String {
        with_grade(self.decision_before, self.grade_before.as_deref())
    }
    /// The decision after with its grade.
    #[must_use]
    pub fn after_in_words(&self) -> String {
        with_grade(self.decision_after, self.grade_after.as_deref())
    }
}

/// A decision with its grade.
fn with_grade(decision: Outcome, grade: Option<&str>) -> String {
    match grade {
        Some(grade) => format!("{decision}, {grade}"),
        None => decision.to_string(),
    }
}

/// The difference between two markings of the same answers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RegradeDifference {
    /// Marks that differ, in the order of the papers.
    pub marks: Vec<MarkChange>,
    /// Candidates whose total or decision differs: turned decisions first, then by how much the
    /// total moved, then by number.
    pub candidates: Vec<CandidateChange>,
    /// Candidates of the sitting.
    pub of: usize,
}

/// Sets two markings of one sitting against each other. Each is decided by the exam it was marked
/// with, since a changed pass rule changes decisions without changing a mark.
#[must_use]
pub fn regrade_difference(
    sitting: &Sitting,
    (exam_before, before): (&Exam, &[Award]),
    (exam_after, after): (&Exam, &[Award]),
) -> RegradeDifference {
    let earlier: BTreeMap<(&CandidateNumber, &Item), &Award> = before
        .iter()
        .map(|award| ((&award.candidate, &award.item), award))
        .collect();
    let marks = after
        .iter()
        .filter_map(|award| {
            let then = earlier.get(&(&award.candidate, &award.item));
            let marks_then = then.map_or(Marks::ZERO, |award| award.marks());
            let waited = then.is_some_and(|award| award.outcome.waits());
            let counted = then.is_some_and(|award| award.counts);
            let same = marks_then == award.marks()
                && waited == award.outcome.waits()
                && counted == award.counts;
            (!same).then(|| MarkChange {
                candidate: award.candidate.clone(),
                item: item_name(&award.item),
                before: marks_then,
                after: award.marks(),
                of: award.of,
                waits: award.outcome.waits(),
                why: match &award.outcome {
                    grader::Outcome::Marked { reason, .. } => reason.clone(),
                    grader::Outcome::ForAPerson { why, .. } => why.clone(),
                },
            })
        })
        .collect();
    let (then, now) = (
        scripts(exam_before, sitting, before),
        scripts(exam_after, sitting, after),
    );
    let mut candidates: Vec<CandidateChange> = then
        .iter()
        .zip(&now)
        .map(|(then, now)| CandidateChange {
            candidate: now.place.candidate.clone(),
            before: then.decision.total.marks,
            after: now.decision.total.marks,
            decision_before: then.decision.outcome,
            decision_after: now.decision.outcome,
            grade_before: then.decision.grade.clone(),
            grade_after: now.decision.grade.clone(),
        })
        .filter(|change| change.before != change.after || change.turned())
        .collect();
    candidates.sort_by_key(|change| {
        (
            !change.turned(),
            -(change.after - change.before).thousandths().abs(),
            change.candidate.clone(),
        )
    });
    RegradeDifference {
        marks,
        candidates,
        of: sitting.places.len(),
    }
}

/// What an item is, in the words of answer tables.
#[must_use]
pub fn item_name(item: &Item) -> String {
    match item {
        Item::Theory { number, .. } => format!("theory {number}"),
        Item::Tasting { code, asked, .. } => format!("tasting {code} {asked}"),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::{Shape, awards, exam, right_letter};
    use exam_plan::plan::Join;

    fn marked() -> (Exam, Sitting, Vec<Award>) {
        let shape = Shape {
            questions: 4,
            samples: 1,
            candidates: 3,
        };
        let (exam, sitting) = exam(
            shape,
            Join::Conjunctive {
                theory: 750,
                tasting: 0,
            },
        );
        let letter = |number| right_letter(&sitting, number);
        let given = awards(&exam, &sitting, |candidate, item| match item {
            // The first candidate has one wrong of four, the second two, the third none.
            Item::Theory { number, .. } if *number <= [1, 2, 0][candidate] => "?".to_owned(),
            Item::Theory { number, .. } => letter(*number),
            Item::Tasting { .. } => String::new(),
        });
        (exam, sitting, given)
    }

    #[test]
    fn the_same_marking_differs_in_nothing() {
        let (exam, sitting, awards) = marked();
        let found = regrade_difference(&sitting, (&exam, &awards), (&exam, &awards));
        assert!(found.marks.is_empty() && found.candidates.is_empty());
        assert_eq!(found.of, 3);
    }

    #[test]
    fn a_grade_that_turns_is_told_though_the_pass_stands() {
        let (mut exam, sitting, before) = marked();
        exam.plan.pass.join = Join::Conjunctive {
            theory: 0,
            tasting: 0,
        };
        exam.plan.results.grades = vec![exam_plan::result_rules::GradeBand {
            name: "with merit".to_owned(),
            // Whoever has anything at all.
            from: 1,
        }];
        let mut after = exam.clone();
        after.plan.results.grades.clear();
        let found = regrade_difference(&sitting, (&exam, &before), (&after, &before));
        assert!(found.marks.is_empty());
        assert_eq!(found.candidates.len(), 3);
        let first = &found.candidates[0];
        assert!(first.turned());
        assert_eq!(first.before_in_words(), "pass, with merit");
        assert_eq!(first.after_in_words(), "pass");
    }

    #[test]
    fn a_mark_more_turns_the_decision_of_whoever_was_one_short() {
        let (exam, sitting, before) = marked();
        let mut after = before.clone();
        for award in &mut after {
            if matches!(award.item, Item::Theory { number: 1, .. }) {
                award.outcome = grader::Outcome::Marked {
                    marks: award.of,
                    reason: "every letter counts".to_owned(),
                    rule: "decision".into(),
                };
            }
        }
        let found = regrade_difference(&sitting, (&exam, &before), (&exam, &after));
        assert_eq!(found.marks.len(), 2);
        let told: Vec<_> = found
            .candidates
            .iter()
            .map(|c| (c.candidate.as_str(), c.turned()))
            .collect();
        // Both gain a mark; only the second crosses the cut of three of four, and comes first.
        assert_eq!(told.len(), 2);
        assert!(told[0].1 && !told[1].1);
    }
}
