//! Checks the flight against the plan's rules: keys, lots, twins, smoky first glasses, what was taught.

use base::{Fault, SampleId, Severity};
use question_bank::SampleRecord;
use question_bank::flight_care::{heavy_by_its_notes, twin_pairs};
use question_bank::lots::lot_faults;
use question_bank::panel_support::{RELEASABLE, panel_support_at};
use question_bank::sample_record::CarryOver;

use crate::exam::Exam;
use crate::flight_rules::TaughtRule;
use crate::plan::{ServingStrength, TastingPart};

/// What is against the flight, or wants a look, on the day of the exam.
pub(super) fn check_flight(exam: &Exam, part: &TastingPart, faults: &mut Vec<Fault>) {
    let records: Vec<&SampleRecord> = part
        .samples
        .iter()
        .filter_map(|(id, _)| exam.sample(id))
        .collect();
    for record in &records {
        let support = panel_support_at(record, part.threshold, &part.rules.floor);
        faults.extend(
            support
                .faults
                .into_iter()
                .map(|fault| released(part, &record.id, fault)),
        );
        faults.extend(lot_faults(record, &exam.plan.date, part.rules.days_open));
        faults.extend(weaker_than_asked(part, record));
        if records.len() > 1
            && record.carry_over == CarryOver::Ordinary
            && let Some(reason) = heavy_by_its_notes(
                record,
                &exam.bank.lexicon,
                part.pour.served(record.strength),
            )
        {
            faults.push(
                Fault::weakness(
                    "heavy-first-glass",
                    record.place.clone(),
                    format!(
                        "{} may come as the first glass of some candidates: {reason}",
                        record.id
                    ),
                )
                .hint("write \"carry_over: heavy\" in its record, and it comes after the others"),
            );
        }
    }
    if records.len() > 1 && records.iter().all(|r| r.carry_over == CarryOver::Heavy) {
        faults.push(
            Fault::weakness(
                "heavy-first-glass",
                part.samples.first().map(|(_, place)| place.clone()),
                "every sample of this flight carries over heavily: so does the first glass",
            )
            .hint("begin with a milder sample, or let candidates rest between the glasses"),
        );
    }
    for pair in twin_pairs(&records) {
        faults.push(
            Fault::weakness(
                "twin-pair",
                part.samples
                    .iter()
                    .find(|(id, _)| *id == pair.second)
                    .map(|(_, place)| place.clone()),
                format!(
                    "{} and {} are a twin pair: by their panels' notes they lie d′ {:.1} apart, and would be told apart in {:.0} of 100 pairs",
                    pair.first,
                    pair.second,
                    pair.distance.d_prime,
                    pair.distance.share_told_apart * 100.0
                ),
            )
            .allowed("d′ 1 or more (76 of 100 pairs); common practice, no source")
            .hint("pour another sample in place of one of them"),
        );
    }
    warm_up(exam, part, faults);
    taught(part, faults);
    for (id, place) in &part.rules.taught.samples {
        if exam.sample(id).is_none() {
            faults.push(
                Fault::weakness(
                    "unknown-taught-sample",
                    place.clone(),
                    format!(
                        "\"{id}\" was taught, and neither exam nor bank has such a sample record"
                    ),
                )
                .hint("is the name right? A misspelt name bars nothing"),
            );
        }
    }
    for release in &part.rules.released {
        if !part.samples.iter().any(|(id, _)| *id == release.sample) {
            faults.push(
                Fault::weakness(
                    "idle-release",
                    release.place.clone(),
                    format!(
                        "\"{}\" is released and is not in the flight",
                        release.sample
                    ),
                )
                .hint("is the name right?"),
            );
        }
    }
}

/// A bottle that is weaker than what the plan wants in the glass: no water makes it stronger.
fn weaker_than_asked(part: &TastingPart, record: &SampleRecord) -> Option<Fault> {
    let asked = match part.pour.strength {
        ServingStrength::AsBottled => return None,
        ServingStrength::Reduced(asked) => asked,
    };
    (record.strength < asked).then(|| {
        Fault::weakness(
            "weaker-than-served",
            record.place.clone(),
            format!(
                "{} is bottled at {} % vol, below the {asked} % vol at which the plan serves: it is served as it is",
                record.id, record.strength
            ),
        )
        .hint("serve all samples at the strength of the weakest, or pour another bottle")
    })
}

/// The first glass of everybody: it shows what a note is, and must not get in the way of the flight.
fn warm_up(exam: &Exam, part: &TastingPart, faults: &mut Vec<Fault>) {
    let Some((id, place)) = &part.warm_up else {
        return;
    };
    if part.samples.iter().any(|(other, _)| other == id) {
        faults.push(
            Fault::new(
                "warm-up-in-flight",
                place.clone(),
                format!("\"{id}\" is the warm-up, which everybody knows, and stands in the flight too"),
            )
            .hint("a warm-up is told by name: take another sample for it, or take this one out of the flight"),
        );
    }
    // A sample without a record has its fault from the names of the plan.
    let Some(record) = exam.sample(id) else {
        return;
    };
    faults.extend(lot_faults(record, &exam.plan.date, part.rules.days_open));
    if record.tasting.notes.is_empty() {
        faults.push(
            Fault::weakness(
                "warm-up-without-key",
                place.clone(),
                format!("\"{id}\" has no panel notes: nobody can say what was to be found in the warm-up"),
            )
            .hint("take a sample that a panel has tasted"),
        );
    }
    let reason = match record.carry_over {
        CarryOver::Heavy => Some("its record says that it carries over".to_owned()),
        CarryOver::Ordinary => heavy_by_its_notes(
            record,
            &exam.bank.lexicon,
            part.pour.served(record.strength),
        ),
    };
    if let Some(reason) = reason {
        faults.push(
            Fault::weakness(
                "heavy-warm-up",
                place.clone(),
                format!(
                    "\"{id}\" is everybody's first glass and lingers into the flight: {reason}"
                ),
            )
            .hint("warm up with a mild sample"),
        );
    }
}

/// A key below the floor that somebody released is no fault any more, but stays to be seen.
fn released(part: &TastingPart, sample: &SampleId, fault: Fault) -> Fault {
    if !RELEASABLE.contains(&fault.rule) {
        return fault;
    }
    match part.rules.released.iter().find(|r| r.sample == *sample) {
        Some(release) => Fault {
            severity: Severity::Weakness,
            what: format!(
                "{}; released by {}: {}",
                fault.what, release.by, release.because
            ),
            ..fault
        },
        None => fault.hint(
            "taste it again with more assessors; or release it in the plan: released: [{ sample, by, because }]",
        ),
    }
}

fn taught(part: &TastingPart, faults: &mut Vec<Fault>) {
    let taught = &part.rules.taught;
    let in_class = |id: &SampleId| taught.samples.iter().any(|(own, _)| own == id);
    match taught.in_flight {
        TaughtRule::Allowed => {}
        TaughtRule::Barred => {
            for (id, place) in part.samples.iter().filter(|(id, _)| in_class(id)) {
                faults.push(
                    Fault::new(
                        "taught-in-class",
                        place.clone(),
                        format!("\"{id}\" was tasted in class, and the plan bars what was taught"),
                    )
                    .hint("pour another sample, or write \"in_flight: allowed\""),
                );
            }
        }
        TaughtRule::Wanted => {
            if !part.samples.iter().any(|(id, _)| in_class(id)) {
                let names: Vec<&str> = taught.samples.iter().map(|(id, _)| id.as_str()).collect();
                faults.push(
                    Fault::new(
                        "nothing-taught-in-flight",
                        part.samples.first().map(|(_, place)| place.clone()),
                        "the plan wants a sample that was tasted in class, and the flight has none",
                    )
                    .allowed(format!("at least one of: {}", names.join(", "))),
                );
            }
        }
    }
}
