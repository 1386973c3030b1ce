//! Who is behind the numbers: asked for by what must name people (covers, class list, reports), and by
//! nothing else. From the file that is kept apart, or from the register for the chief examiner's
//! passphrase, as the plan says.

use std::path::{Path, PathBuf};

use base::{CandidateNumber, SourceText};
use exam_plan::read::{read_numbers, read_plan};
use exam_plan::{IdentityKept, People, PersonalData};
use register::seal::Secret;
use register::{Commitment, Identity, ROSTER, Register, unlock};

use crate::assemble::REGISTER;
use crate::failure::Failure;
use crate::seal::check_passphrase;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// Where names come from, where a command needs them.
#[derive(Debug, Clone, Default)]
pub struct Names {
    /// The file that is kept apart; `roster.csv` in the exam's folder where none is named.
    pub file: Option<PathBuf>,
    /// What opens the names in the register.
    pub passphrase: Option<Secret>,
}

/// Whether the names of this folder's sitting open for a passphrase alone.
///
/// # Errors
/// When the register cannot be read.
pub fn names_are_locked(around: &dyn Surroundings, folder: &Path) -> Result<bool, Failure> {
    let path = folder.join(REGISTER);
    if !around.has_file(&path) {
        return Ok(false);
    }
    Ok(matches!(
        Register::open(&path)?.identity()?,
        Identity::Locked(_)
    ))
}

/// Whether assembling this folder will lock the names up, so that a passphrase is wanted.
///
/// # Errors
/// When the plan cannot be read. What is wrong in it is told where it is checked.
pub fn names_will_be_locked(around: &dyn Surroundings, folder: &Path) -> Result<bool, Failure> {
    let path = folder.join("plan.yaml");
    if around.has_file(&folder.join(REGISTER)) || !around.has_file(&path) {
        return Ok(false);
    }
    let text = read_text(around, &path, &mut Vec::new())?;
    let plan = text.and_then(|text| read_plan(&text).value);
    Ok(plan.is_some_and(|plan| plan.personal_data.identity == IdentityKept::Locked))
}

/// What a new register holds of its people.
///
/// # Errors
/// When they are to be locked and no strong passphrase is given.
pub(crate) fn identity_for(
    people: &People,
    kept: PersonalData,
    passphrase: Option<&Secret>,
    salts: &base::ExamSeed,
) -> Result<Identity, Failure> {
    match (kept.identity, passphrase) {
        (IdentityKept::SeparateFile, _) => Ok(Identity::beside(people, salts)),
        (IdentityKept::Locked, Some(passphrase)) => {
            check_passphrase(passphrase.look(), &["valinch"])?;
            lock_up(people, passphrase)
        }
        (IdentityKept::Locked, None) => Failure::refused(
            "the plan says that names are locked, and no passphrase is given",
            "name a file with --passphrase-file, or set VALINCH_PASSPHRASE",
        ),
    }
}

pub(crate) fn lock_up(people: &People, passphrase: &Secret) -> Result<Identity, Failure> {
    Identity::locked(people, passphrase)
        .map_err(|why| Failure::Machine(format!("the names cannot be locked: {why}")))
}

/// Opens names with the passphrase.
pub(crate) fn opened(locked: &[u8], names: &Names) -> Result<People, Failure> {
    let Some(passphrase) = &names.passphrase else {
        return Failure::refused(
            "names are locked in the register, and no passphrase is given",
            "the chief examiner has it: name a file with --passphrase-file, or set VALINCH_PASSPHRASE",
        );
    };
    unlock(locked, passphrase).or_else(|why| {
        Failure::refused(
            format!("the names do not open: {why}"),
            "nothing was changed; try the passphrase again",
        )
    })
}

/// The file with the names, where it is kept apart.
pub(crate) fn names_file(folder: &Path, names: &Names) -> PathBuf {
    names.file.clone().unwrap_or_else(|| folder.join(ROSTER))
}

/// The table with the names, and who stands in it.
pub(crate) fn read_names(
    around: &dyn Surroundings,
    file: &Path,
) -> Result<(SourceText, People), Failure> {
    if !around.has_file(file) {
        return Failure::refused(
            format!(
                "the names are in a file of their own, and {} is not there",
                file.display()
            ),
            "put the roster back where it was when the sitting was assembled, or name it with --names",
        );
    }
    let mut faults = Vec::new();
    let source = read_text(around, file, &mut faults)?;
    let read = source
        .as_ref()
        .and_then(|source| read_numbers(source).collect_into(&mut faults));
    match (source, read) {
        (Some(source), Some(read)) if faults.is_empty() => Ok((source, read.people)),
        (source, _) => Err(Failure::Faults {
            faults,
            sources: source.map_or_else(Sources::new, |s| Sources::from([(s.name, s.text)])),
        }),
    }
}

/// The numbers behind which other people stand in the file than were entered, or nobody.
pub(crate) fn changed(entered: &[Commitment], people: &People) -> Vec<CandidateNumber> {
    let changed = entered.iter().filter(|bound| {
        let person = people.person(&bound.candidate);
        !person.is_some_and(|person| bound.is_of(person))
    });
    changed.map(|bound| bound.candidate.clone()).collect()
}

/// Refuses names that are not those which were entered.
pub(crate) fn as_entered(
    file: &Path,
    folder: &Path,
    changed: &[CandidateNumber],
) -> Result<(), Failure> {
    let Some(first) = changed.first() else {
        return Ok(());
    };
    let numbers: Vec<&str> = changed.iter().map(CandidateNumber::as_str).collect();
    Failure::refused(
        format!(
            "{} does not say of these numbers what was entered when the sitting was assembled: {}",
            file.display(),
            numbers.join(", ")
        ),
        format!(
            "put the file back as it was; a name that was wrong is mended by: valinch results person correct {} {first} --name NAME --confirmed-by ROLE",
            folder.display()
        ),
    )
}

/// Who is behind the numbers of a sitting. Nobody is behind the number of a person who was erased, and
/// behind none when the time is over for which names are kept.
///
/// # Errors
/// When they are locked and the passphrase is missing or another one, or they are in a file that is
/// not there or says something else than what was entered.
pub(crate) fn people_of(
    around: &dyn Surroundings,
    folder: &Path,
    register: &Register,
    names: &Names,
) -> Result<People, Failure> {
    match register.identity()? {
        Identity::InTexts => people_in_texts(register),
        Identity::Locked(locked) => opened(&locked, names),
        Identity::Removed => Ok(People::nobody()),
        Identity::SeparateFile(entered) => {
            let file = names_file(folder, names);
            let (_, people) = read_names(around, &file)?;
            as_entered(&file, folder, &changed(&entered, &people))?;
            let known = entered.into_iter().map(|bound| bound.candidate);
            Ok(known
                .filter_map(|number| Some((number.clone(), people.person(&number)?.clone())))
                .collect())
        }
    }
}

/// The roster as it stands in a register; it names people where the register is from before version 6.
pub(crate) fn stored_roster(register: &Register) -> Result<Option<SourceText>, Failure> {
    let mut texts = register.inputs()?.into_iter();
    Ok(texts
        .find(|text| text.name == ROSTER)
        .map(|text| SourceText::new(&format!("register:{ROSTER}"), &text.text)))
}

fn people_in_texts(register: &Register) -> Result<People, Failure> {
    let roster = stored_roster(register)?;
    Ok(roster
        .and_then(|text| read_numbers(&text).value)
        .map_or_else(People::nobody, |read| read.people))
}
