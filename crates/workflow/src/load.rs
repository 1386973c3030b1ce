//! Reads texts into a checked exam or bank, all faults at once.

use base::{Checked, Fault, Place, SourceName, SourceText};
use exam_plan::plan::TastingPart;
use exam_plan::read::{
    NamedRoster, check_class, check_exam, check_names, read_class, read_numbers, read_plan,
    read_room, read_roster,
};
use exam_plan::{Class, Exam, People, Room};
use question_bank::Bank;
use question_bank::read::{read_bank, read_samples};

use crate::texts::{Texts, bank_named_by, class_text};

/// A checked exam as a folder has it, with who is behind the numbers, if there are no faults.
pub fn named_exam(texts: &Texts, faults: &mut Vec<Fault>) -> Option<(Exam, People)> {
    exam_with(texts, read_roster, faults)
}

/// A checked exam in which names may be missing, as a register has it, if there are no faults.
pub fn exam(texts: &Texts, faults: &mut Vec<Fault>) -> Option<Exam> {
    exam_with(texts, read_numbers, faults).map(|(exam, _)| exam)
}

fn exam_with(
    texts: &Texts,
    roster_of: fn(&SourceText) -> Checked<NamedRoster>,
    faults: &mut Vec<Fault>,
) -> Option<(Exam, People)> {
    let missing = |name: &str, holds: &str| {
        Fault::new(
            "missing-file",
            Place::whole(&SourceName::new(name)),
            format!("the exam folder has no {name}"),
        )
        .hint(format!("{name} holds {holds}; copy one from examples/"))
    };
    let plan = match texts.get("plan.yaml") {
        Some(text) => read_plan(text).collect_into(faults),
        None => {
            faults.push(missing("plan.yaml", "what the exam consists of"));
            None
        }
    };
    let roster = match texts.get("roster.csv") {
        Some(text) => roster_of(text).collect_into(faults),
        None => {
            faults.push(missing(
                "roster.csv",
                "who sits it: candidate,name,service,note",
            ));
            None
        }
    };
    // Without a room everybody sits by kit; seats are checked when all is known.
    let room = match texts.get("room.yaml") {
        Some(text) => read_room(text).collect_into(faults),
        None => Some(Room::default()),
    };
    // A plan that cannot be read names no bank: its files are not missing, they were not looked for.
    if plan.is_none() && texts.get("bank/bank.yaml").is_none() && named_bank(texts).is_none() {
        return None;
    }
    let mut bank = bank(texts, faults)?;
    if let Some(language) = plan.as_ref().and_then(|plan| plan.language.as_deref()) {
        match in_language(bank, language, texts) {
            Ok(translated) => bank = translated,
            Err(fault) => {
                faults.push(*fault);
                return None;
            }
        }
    }
    let own_samples = read_samples(
        &texts.samples("samples/"),
        &bank.lexicon,
        &bank.categories,
        &bank.regions,
    )
    .collect_into(faults);
    if let (Some(plan), Some(own)) = (texts.get("plan.yaml"), &own_samples) {
        let found = check_names(plan, &bank, own);
        let sound = found.is_empty();
        faults.extend(found);
        if !sound {
            return None;
        }
    }
    let mut plan = plan?;
    if let Some(part) = &mut plan.tasting
        && !taught_in_classes(texts, part, faults)
    {
        return None;
    }
    let NamedRoster { roster, people } = roster?;
    let exam = Exam {
        plan,
        bank,
        own_samples: own_samples?,
        roster,
        room: room?,
    };
    let found = check_exam(&exam);
    let sound = found.iter().all(Fault::is_weakness);
    faults.extend(found);
    sound.then_some((exam, people))
}

/// Counts what the classes that a plan names tasted among what was taught; whether all were found and
/// are sound.
fn taught_in_classes(texts: &Texts, part: &mut TastingPart, faults: &mut Vec<Fault>) -> bool {
    let taught = &mut part.rules.taught;
    let mut sound = true;
    for (folder, place) in &taught.classes {
        let class = match texts.get(&class_text(folder)) {
            Some(text) => read_class(text).collect_into(faults),
            None => {
                faults.push(
                    Fault::new(
                        "missing-file",
                        place.clone(),
                        format!("there is no class.yaml in \"{folder}\""),
                    )
                    .hint("name the folder of a class as seen from the exam's folder"),
                );
                None
            }
        };
        match class {
            Some(class) => taught
                .samples
                .extend(class.samples.into_iter().map(|(id, _)| (id, place.clone()))),
            None => sound = false,
        }
    }
    sound
}

/// A checked class, if there are no faults.
pub fn class(texts: &Texts, faults: &mut Vec<Fault>) -> Option<Class> {
    let plan = match texts.get("class.yaml") {
        Some(text) => read_class(text).collect_into(faults),
        None => {
            faults.push(
                Fault::new(
                    "missing-file",
                    None,
                    "this folder has no class.yaml".to_owned(),
                )
                .hint("class.yaml says what is tasted; copy one from examples/first-evening"),
            );
            None
        }
    };
    let roster = match texts.get("roster.csv") {
        Some(text) => Some(read_roster(text).collect_into(faults)?),
        None => None,
    };
    // Without a name of the bank its files are not missing: they were not looked for.
    if plan.is_none() && texts.get("bank/bank.yaml").is_none() {
        return None;
    }
    let bank = bank(texts, faults)?;
    let own_samples = read_samples(
        &texts.samples("samples/"),
        &bank.lexicon,
        &bank.categories,
        &bank.regions,
    )
    .collect_into(faults);
    let class = Class {
        plan: plan?,
        bank,
        own_samples: own_samples?,
        roster,
    };
    faults.extend(check_class(&class));
    faults.iter().all(Fault::is_weakness).then_some(class)
}

/// The bank that the plan names, where it can be read so far.
fn named_bank(texts: &Texts) -> Option<std::path::PathBuf> {
    bank_named_by(texts.get("plan.yaml")?)
}

/// The bank in the language that the plan asks for.
fn in_language(bank: Bank, language: &str, texts: &Texts) -> Result<Bank, Box<Fault>> {
    let known: Vec<String> = bank.languages().keys().map(ToString::to_string).collect();
    if known.iter().any(|known| known == language) {
        return Ok(bank.in_language(language));
    }
    let place = texts.get("plan.yaml").map(|text| Place::whole(&text.name));
    let what = format!("no question of the bank is translated to \"{language}\"");
    Err(Box::new(
        Fault::new("no-translation", place, what)
            .allowed(known.join(", "))
            .near(language, known.iter().map(String::as_str)),
    ))
}

/// A checked bank, if there are no faults.
pub fn bank(texts: &Texts, faults: &mut Vec<Fault>) -> Option<Bank> {
    let texts = texts.bank(faults)?;
    read_bank(&texts).collect_into(faults)
}
