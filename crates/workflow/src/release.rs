//! Releases the results of a sitting: an act of the chief examiner and a second role. Before it,
//! reports are marked as not released; after it, marks change by corrections alone.

use register::{Act, By, Details, Entry, Register, RegisterError};

use crate::failure::Failure;
use crate::give_results::{
    Begun, CLASS_LIST, ResultsReport, ResultsRequest, Standing, begin, made,
};
use crate::people::people_of;
use crate::review::not_reviewed;
use crate::roles::Doing;
use crate::surroundings::Surroundings;

/// What to do where a change was wanted after the release.
const BY_CORRECTION: &str = "a change is a correction now: valinch results regrade FOLDER --apply --why SENTENCE --confirmed-by ROLE";

/// Releases the results that were made last, and writes them again without the mark of a draft. The
/// act is entered first.
///
/// # Errors
/// When one role acts alone, results are released already, an answer waits for a person, a decision
/// within the plan's band was not looked at, nobody has
/// looked at the results of the marks as they stand, or a file cannot be written.
pub fn release(
    around: &dyn Surroundings,
    request: &ResultsRequest,
) -> Result<ResultsReport, Failure> {
    let Begun {
        mut open,
        by,
        paper,
        folder,
    } = begin(around, request, Doing::Release)?;
    if open.register.is_released()? {
        return Failure::refused(
            "the results of this sitting are released already",
            BY_CORRECTION,
        );
    }
    let people = people_of(around, &request.folder, &open.register, &request.names)?;
    let made = made(&open, &people, &paper, &folder, Standing::Released)?;
    if made.report.waiting > 0 {
        return Failure::refused(
            format!(
                "nothing is released while answers wait for a person: {} do",
                made.report.waiting
            ),
            "decide them in to-decide.csv, save it in decisions/, and mark and look at the results again",
        );
    }
    let digest = made.class_list.clone();
    if looked_at(&open.register)?.as_ref() != Some(&digest) {
        return Failure::refused(
            "nobody has looked at the results of the marks as they stand now",
            format!(
                "valinch results {}, look at class list and summary, and release then",
                request.folder.display()
            ),
        );
    }
    let open_reviews = not_reviewed(&open.register, &made.report.summary.review)?;
    if !open_reviews.is_empty() {
        return Failure::refused(
            format!(
                "nothing is released while a decision near the cut was not looked at: {}",
                open_reviews.join(", ")
            ),
            format!(
                "look at what the class summary names, then: valinch results review {} --candidate NUMBER --why SENTENCE",
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
