//! Releases the results of a sitting: an act of the chief examiner and a second role. Before it,
//! reports are marked as not released; after it, marks change by corrections alone.

use register::{Act, By, Details, Entry, Register, RegisterError};

use crate::failure::Failure;
use crate::give_results::{CLASS_LIST, Notes, ResultsReport, ResultsRequest, made};
use crate::open_sitting::OpenSitting;
use crate::people::people_of;
use crate::print::renderer_for;
use crate::roles::{Doing, acting};
use crate::surroundings::Surroundings;

/// What to do where a change was wanted after the release.
const BY_CORRECTION: &str = "a change is a correction now: valinch results regrade FOLDER --apply --why SENTENCE --confirmed-by ROLE";

/// Releases the results that were made last, and writes them again without the mark of a draft. The
/// act is entered first.
///
/// # Errors
/// When one role acts alone, results are released already, an answer waits for a person, nobody has
/// looked at the results of the marks as they stand, or a file cannot be written.
pub fn release(
    around: &dyn Surroundings,
    request: &ResultsRequest,
) -> Result<ResultsReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::Release,
        request.stated,
    )?;
    if open.register.is_released()? {
        return Failure::refused(
            "the results of this sitting are released already",
            BY_CORRECTION,
        );
    }
    let renderer = renderer_for(around, &request.folder, request.templates.as_deref())?;
    let folder = request
        .to
        .clone()
        .unwrap_or_else(|| request.folder.join("results"));
    let people = people_of(around, &request.folder, &open.register, &request.names)?;
    let mut made = made(&open, &people, &renderer, &folder, Notes::default())?;
    if made.report.waiting > 0 {
        return Failure::refused(
            format!(
                "nothing is released while answers wait for a person: {} do",
                made.report.waiting
            ),
            "decide them in to-decide.csv, save it in decisions/, and mark and look at the results again",
        );
    }
    let digest = made.report.class_list_digest();
    if looked_at(&open.register)?.as_ref() != Some(&digest) {
        return Failure::refused(
            "nobody has looked at the results of the marks as they stand now",
            format!(
                "valinch results {}, look at class list and summary, and release then",
                request.folder.display()
            ),
        );
    }
    let details = Details::from([
        (CLASS_LIST.to_owned(), digest),
        (
            "candidates".to_owned(),
            made.report.class.lines.len().to_string(),
        ),
    ]);
    let seen = match open.drawn.custody.head {
        Some(seen) => seen,
        None => open.register.head()?,
    };
    // Entered first: nothing lies open of whose release the ledger does not know.
    open.register
        .put_release(details, &seen, &by)
        .map_err(|error| match error {
            RegisterError::Moved | RegisterError::Released => Failure::Refused {
                what: error.to_string(),
                hint: "somebody acted meanwhile: look at the results again".to_owned(),
            },
            other => other.into(),
        })?;
    open.register.close()?;
    made.report.released = true;
    made.put_down(around)
}

/// The digest of the class list that was made last from the marks as they stand; none where marks
/// changed since.
fn looked_at(register: &Register) -> Result<Option<String>, Failure> {
    let mut seen = None;
    for text in register.ledger()? {
        let entry = Entry::read(&text).map_err(RegisterError::Damaged)?;
        if matches!(
            entry.act,
            Act::Marked | Act::Corrected | Act::PersonCorrected
        ) {
            seen = None;
        } else if entry.act == Act::ResultsMade {
            seen = entry.details.get(CLASS_LIST).cloned();
        }
    }
    Ok(seen)
}

/// Refuses what may only be done before the release, and enters that it was tried.
///
/// # Errors
/// When results are released.
pub(crate) fn only_before_release(
    register: &mut Register,
    doing: Doing,
    by: &By,
) -> Result<(), Failure> {
    if !register.is_released()? {
        return Ok(());
    }
    let tried = format!("{} after the release", doing.words());
    let details = Details::from([("tried".to_owned(), tried)]);
    register.note(Act::Refused, by, details)?;
    Failure::refused(
        "the results of this sitting are released; nothing was changed",
        BY_CORRECTION,
    )
}
