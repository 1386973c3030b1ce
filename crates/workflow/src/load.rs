//! Reads texts into a checked exam or bank, all faults at once.

use base::{Checked, Fault, Place, SourceName, SourceText};
use exam_plan::read::{
    NamedRoster, check_exam, check_names, read_numbers, read_plan, read_room, read_roster,
};
use exam_plan::{Exam, People, Room};
use question_bank::Bank;
use question_bank::read::{read_bank, read_samples};

use crate::texts::{Texts, bank_named_by};

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
    let NamedRoster { roster, people } = roster?;
    let exam = Exam {
        plan: plan?,
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
