//! Checks who noses only and who brings a part along against the plan.

use base::Fault;
use question_bank::TastingKey;
use question_bank::reference_tasting::Stage;

use crate::Part;
use crate::exam::Exam;
use crate::plan::{Asked, Join, TastingPart};
use crate::result_rules::lasts_until;
use crate::roster::{BroughtPart, Candidate, TastingWay};

/// Everything that shows only when roster, plan and samples are put together.
pub(super) fn check_sitting_rules(exam: &Exam, faults: &mut Vec<Fault>) {
    let candidates = &exam.roster.candidates;
    for candidate in candidates {
        if let Some(brought) = &candidate.brings {
            faults.extend(brought_part(exam, candidate, brought));
        }
    }
    let nosing = candidates
        .iter()
        .find(|candidate| candidate.way == TastingWay::NosingOnly);
    if let Some(first) = nosing {
        nosing_only(exam, first, faults);
    }
}

/// Why this part cannot be brought along, or what is odd about it.
fn brought_part(exam: &Exam, candidate: &Candidate, brought: &BroughtPart) -> Option<Fault> {
    let (part, number) = (brought.part, &candidate.number);
    let fault = |rule, what: String| Fault::new(rule, candidate.place.clone(), what);
    if exam.plan.theory.is_none() || exam.plan.tasting.is_none() {
        return Some(
            fault(
                "brought-part",
                format!("candidate {number} brings the {part} part, and this exam has one part"),
            )
            .hint("nothing would be left to sit: take \"brings\" out"),
        );
    }
    let Some(months) = exam.plan.results.resit.months(part) else {
        return Some(
            fault(
                "no-resit-rule",
                format!(
                    "candidate {number} brings the {part} part, and the plan does not say how long one lasts"
                ),
            )
            .hint(format!("add to \"pass:\": resit: {{ {part}: MONTHS }}")),
        );
    };
    if brought.passed_on >= exam.plan.date {
        return Some(fault(
            "brought-part",
            format!(
                "candidate {number} brings a part of {}, and this sitting is on {}",
                brought.passed_on, exam.plan.date
            ),
        ));
    }
    let last = lasts_until(&brought.passed_on, months);
    if last.as_ref().is_none_or(|last| *last < exam.plan.date) {
        return Some(
            fault(
                "lapsed-part",
                format!(
                    "candidate {number} passed the {part} part on {}, and it lasted until {}",
                    brought.passed_on,
                    last.unwrap_or_default()
                ),
            )
            .allowed(format!("{months} months, as the plan says"))
            .hint("the part must be sat again: take \"brings\" out"),
        );
    }
    let cut = match (exam.plan.pass_rule(candidate.way).join, part) {
        (Join::Conjunctive { theory, .. }, Part::Theory) => theory,
        (Join::Conjunctive { tasting, .. }, Part::Tasting) => tasting,
        (Join::Compensatory { .. }, Part::Theory | Part::Tasting) => 0,
    };
    (brought.per_mille < cut).then(|| {
        Fault::weakness(
            "below-this-cut",
            candidate.place.clone(),
            format!(
                "candidate {number} brings {}, below this plan's cut of {}.{} %",
                brought.in_words(),
                cut / 10,
                cut % 10
            ),
        )
        .hint("it counts as passed, by the cut of its own sitting")
    })
}

/// Whether anybody can nose this exam; told once, at the first who does.
fn nosing_only(exam: &Exam, first: &Candidate, faults: &mut Vec<Fault>) {
    let fault = |rule, what: String| Fault::new(rule, first.place.clone(), what);
    let Some(tasting) = &exam.plan.tasting else {
        faults.push(fault(
            "nosing-without-glasses",
            format!(
                "candidate {} noses only, and the plan has no glasses",
                first.number
            ),
        ));
        return;
    };
    if exam.plan.results.nosing.is_none() {
        faults.push(
            fault(
                "no-nosing-cut",
                format!(
                    "candidate {} noses only, and the plan has no cut for that",
                    first.number
                ),
            )
            .hint(
                "nosing is another form with a cut of its own; add to \"pass:\": nosing: PER CENT",
            ),
        );
    }
    let mut asked = tasting.asked_of(TastingWay::NosingOnly);
    if !asked.any(|question| !question.asked.is_extra_credit()) {
        faults.push(
            fault(
                "nothing-to-nose",
                "nothing is asked of the glasses that a nose could answer".to_owned(),
            )
            .allowed("aroma, category, region, age, colour, fault"),
        );
    }
    nose_keys(exam, tasting, first, faults);
}

/// Samples of which the panel found nothing by the nose.
fn nose_keys(exam: &Exam, tasting: &TastingPart, first: &Candidate, faults: &mut Vec<Fault>) {
    let wanted =
        |question: &crate::plan::TastingQuestion| matches!(question.asked, Asked::Aroma { .. });
    if !tasting.ask.iter().any(wanted) {
        return;
    }
    for (id, place) in &tasting.samples {
        let Some(record) = exam.sample(id) else {
            continue;
        };
        let key = TastingKey::of_stage(record, tasting.threshold, Stage::Nose);
        if key.required.is_empty() {
            faults.push(
                Fault::new(
                    "no-nose-key",
                    place.clone(),
                    format!(
                        "candidate {} noses only, and the panel of \"{id}\" has no word of the nose above the threshold",
                        first.number
                    ),
                )
                .hint("pour another sample, or let the panel nose it again"),
            );
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_lapsed_day_is_compared_as_a_day() {
        // Days are written year first, so that their order is that of their letters.
        assert!(lasts_until("2026-06-12", 12).unwrap().as_str() >= "2027-06-12");
        assert!(lasts_until("2026-06-11", 12).unwrap().as_str() < "2027-06-12");
    }
}
