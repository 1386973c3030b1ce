//! Checks plan, bank, roster and room against each other.

use base::{Fault, Severity};
use question_bank::sample_record::Age;
use question_bank::{Bank, SampleRecord};

use super::flight_check::check_flight;
use super::sitting_rules_check::check_sitting_rules;
use crate::confidence::NoSingleTruth;
use crate::exam::Exam;
use crate::flight_rules::AromaOf;
use crate::plan::{AgeAnswer, Asked, CodeSharing, TastingPart};
use crate::roster::{Service, TastingWay};

/// Every fault and weakness that shows only when the checked texts are put together; names that
/// lead nowhere are found by [`check_names`](super::check_names()), and whether the bank fills the
/// plan's cells by the draw itself.
#[must_use]
pub fn check_exam(exam: &Exam) -> Vec<Fault> {
    let mut faults = Vec::new();
    if let Some(part) = &exam.plan.tasting {
        samples(exam, part, &mut faults);
    }
    drawings(exam, &mut faults);
    faults.extend(kits_that_can_be_matched(exam));
    seats(exam, &mut faults);
    check_sitting_rules(exam, &mut faults);
    faults.extend(more_forms_than_needed(exam));
    faults
}

/// Questions with drawn numbers whose ranges leave fewer fit drawings than twice the forms.
fn drawings(exam: &Exam, faults: &mut Vec<Fault>) {
    let Some(theory) = &exam.plan.theory else {
        return;
    };
    let wanted = theory.forms as usize * 2;
    for question in exam.bank.questions.values() {
        let drawable = question.state.counts()
            && !question.practice_only
            && theory.cells.iter().any(|quota| quota.cell == question.cell);
        if !drawable {
            continue;
        }
        if let Some(fit) = question.kind.drawings(wanted).filter(|fit| *fit < wanted) {
            faults.push(
                Fault::new(
                    "too-few-drawings",
                    question.place.clone(),
                    format!(
                        "\"{}\" has {fit} fit drawings, and the plan has {} forms",
                        question.id, theory.forms
                    ),
                )
                .allowed(format!("{wanted} or more, two for each form"))
                .hint("widen its ranges, or plan fewer forms"),
            );
        }
    }
}

fn samples(exam: &Exam, part: &TastingPart, faults: &mut Vec<Fault>) {
    for (id, place) in &part.samples {
        // A sample without a record has its fault from the names of the plan.
        let Some(sample) = exam.sample(id) else {
            continue;
        };
        for question in &part.ask {
            if let Some(fault) = cannot_be_asked(&question.asked, sample, (part, &exam.bank)) {
                let severity = if matches!(question.asked, Asked::Producer { .. }) {
                    Severity::Weakness
                } else {
                    Severity::Fault
                };
                faults.push(
                    Fault {
                        severity,
                        ..Fault::new(
                            "cannot-be-asked",
                            place.clone(),
                            format!(
                                "the plan asks for the {} of \"{id}\", but {fault}",
                                question.asked.name()
                            ),
                        )
                    }
                    .hint("complete the sample record, ask something else, or pour another sample"),
                );
            }
        }
    }
    check_flight(exam, part, faults);
}

/// Why this cannot be asked of this sample.
fn cannot_be_asked(
    asked: &Asked,
    sample: &SampleRecord,
    (part, bank): (&TastingPart, &Bank),
) -> Option<String> {
    let missing = |there: bool, what: &str| (!there).then(|| format!("its record has no {what}"));
    match asked {
        Asked::Age(answer) => match (sample.age, answer) {
            (Age::Unknown, _) => Some("its age is not known".to_owned()),
            (Age::NotStated, AgeAnswer::Range) => {
                Some("no age is stated, and a range needs one".to_owned())
            }
            (Age::NotStated, AgeAnswer::Band { .. }) | (Age::Stated(_), _) => None,
        },
        Asked::Colour => missing(sample.colour.is_some(), "\"colour\""),
        Asked::Body => missing(sample.body.is_some(), "\"body\""),
        Asked::Finish => missing(sample.finish.is_some(), "\"finish\""),
        Asked::Quality => missing(
            !sample.tasting.quality.is_empty(),
            "quality ratings by the panel",
        ),
        Asked::Water { .. } => missing(
            sample.tasting.notes.iter().any(|note| !note.stage.neat()),
            "notes of the panel with water",
        ),
        Asked::Producer { from } => {
            let listed = from
                .iter()
                .any(|name| name.eq_ignore_ascii_case(&sample.producer));
            (!listed).then(|| format!("\"{}\" is not on the printed list", sample.producer))
        }
        Asked::Fault { from } => match &sample.fault {
            Some(fault) if !from.iter().any(|name| name.eq_ignore_ascii_case(fault)) => {
                Some(format!("\"{fault}\" is not on the printed list"))
            }
            Some(_) | None => None,
        },
        Asked::Confidence(asked) => {
            let right = asked.right(sample, &bank.categories, &bank.regions);
            right.err().map(|why| match why {
                NoSingleTruth::Unknown(name) => format!("\"{name}\" stands in no tree"),
                NoSingleTruth::None => "no name of the printed list is right for it".to_owned(),
                NoSingleTruth::Several(names) => {
                    format!("more than one name is right for it: {}", names.join(", "))
                }
            })
        }
        // Of all stages together the floor of the key says more.
        Asked::Aroma { .. } => match part.rules.aroma_of {
            AromaOf::Together => None,
            AromaOf::Nose | AromaOf::Palate => missing(
                !part.aroma_key(sample, TastingWay::Full).required.is_empty(),
                "word of that stage on which its panel agrees",
            ),
        },
        Asked::Category | Asked::Region | Asked::Strength { .. } => None,
    }
}

/// More forms than people: some would be nobody's.
fn more_forms_than_needed(exam: &Exam) -> Option<Fault> {
    let theory = exam.plan.theory.as_ref()?;
    let people = exam.roster.candidates.len();
    let forms = usize::try_from(theory.forms).unwrap_or(usize::MAX);
    (forms > people.max(1)).then(|| {
        let place = theory.cells.first().map(|quota| quota.place.clone());
        let what = format!("{forms} forms are planned for {people} candidates: some are nobody's");
        Fault::weakness("more-forms-than-needed", place, what)
            .allowed(format!("forms: 1 to {}", people.max(1)))
            .hint("neighbours need different forms: two in a row of seats, four where diagonals count")
    })
}

/// Kits whose bottles bear the codes of other kits: two candidates who write to each other could
/// tell which bottles hold the same.
fn kits_that_can_be_matched(exam: &Exam) -> Option<Fault> {
    let part = exam.plan.tasting.as_ref()?;
    let mut kits = exam
        .roster
        .candidates
        .iter()
        .filter(|candidate| candidate.service == Service::Kit);
    let (_, second) = (kits.next()?, kits.next()?);
    let shared = match part.codes {
        CodeSharing::Room | CodeSharing::Table => !part.rules.kits_have_own_codes,
        CodeSharing::Candidate => false,
    };
    shared.then(|| {
        Fault::weakness(
            "kits-share-codes",
            second.place.clone(),
            format!(
                "the kit of \"{}\" bears the same glass codes as another: who has both can match the bottles",
                second.number
            ),
        )
        .allowed("kit_codes: own, or codes: candidate")
        .hint("take kit_codes: shared out of plan.yaml, where own is the default")
    })
}

fn seats(exam: &Exam, faults: &mut Vec<Fault>) {
    let seats = exam.room.seats().len();
    let seated: Vec<_> = exam
        .roster
        .candidates
        .iter()
        .filter(|c| c.service == Service::Room)
        .collect();
    if let Some(first) = seated.get(seats) {
        faults.push(
            Fault::new(
                "too-few-seats",
                first.place.clone(),
                format!(
                    "{} candidates sit in the room, which has {seats} seats",
                    seated.len()
                ),
            )
            .hint("add tables to room.yaml, or let candidates sit by kit"),
        );
    }
}
