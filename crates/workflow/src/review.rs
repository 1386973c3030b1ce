//! Enters that a decision near a cut was looked at before release, and that it stands.
//!
//! A review changes nothing: what it finds is decided and marked like anything else. It holds for the
//! marks it speaks of; where they change, the script is looked at again.

use std::collections::BTreeMap;
use std::path::PathBuf;

use register::{Act, Details, Entry, Register, RegisterError};
use results::{Review, UnderReview, scripts, summarise};
use serde::Serialize;

use crate::decisions::CANDIDATE;
use crate::failure::Failure;
use crate::open_sitting::OpenSitting;
use crate::release::only_before_release;
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;

/// The detail of an entry that says which marks were looked at.
const MARKS: &str = "marks";
/// The detail of an entry that says why.
const WHY: &str = "why";

/// What `results review` is asked.
#[derive(Debug, Clone, Default)]
pub struct ReviewRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// Whose decision was looked at, and why it stands; lists all where none is named.
    pub stands: Option<DecisionStands>,
    /// In which role it is done.
    pub stated: Stated,
}

/// A decision that was looked at.
#[derive(Debug, Clone)]
pub struct DecisionStands {
    /// The candidate's number.
    pub candidate: String,
    /// Why it stands.
    pub why: String,
}

/// Who lies near a cut, and who was looked at.
#[derive(Debug, Clone, Serialize)]
pub struct ReviewReport {
    /// Everybody within the band.
    pub review: Review,
    /// Of these who was not looked at yet.
    pub open: Vec<String>,
    /// Whether anything was entered now.
    pub entered: bool,
}

/// Lists who lies near a cut, or enters that one of them was looked at.
///
/// # Errors
/// When the sitting is not marked, answers wait for a person, the candidate does not lie near a cut,
/// no reason is given, the role may not, or results are released.
pub fn review(around: &dyn Surroundings, request: &ReviewRequest) -> Result<ReviewReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::Review,
        request.stated,
    )?;
    let awards = open.register.marks()?;
    if awards.is_empty() {
        return Err(Failure::Refused {
            what: "this sitting is not marked yet".to_owned(),
            hint: "valinch mark FOLDER --answers TABLE".to_owned(),
        });
    }
    let drawn = &open.drawn;
    if drawn.exam.plan.results.review.is_none() {
        return Err(Failure::Refused {
            what: "this plan has no band in which decisions are looked at".to_owned(),
            hint: "a plan sets one with pass: { review: 1 }, in standard errors of measurement"
                .to_owned(),
        });
    }
    let scripts = scripts(&drawn.exam, &drawn.sitting, &awards);
    let found = summarise(&drawn.exam, &drawn.sitting, &scripts).review;
    let mut entered = false;
    if let Some(stands) = &request.stands {
        let one = within(&found, stands)?;
        only_before_release(&mut open.register, Doing::Review, &by)?;
        let details = Details::from([
            (CANDIDATE.to_owned(), one.candidate.to_string()),
            (MARKS.to_owned(), one.marks.clone()),
            (WHY.to_owned(), stands.why.trim().to_owned()),
        ]);
        open.register.note(Act::Reviewed, &by, details)?;
        entered = true;
    }
    let still_open = not_reviewed(&open.register, &found)?;
    open.register.close()?;
    Ok(ReviewReport {
        review: found,
        open: still_open,
        entered,
    })
}

/// The candidate of a request, where it can be entered.
fn within<'r>(found: &'r Review, stands: &DecisionStands) -> Result<&'r UnderReview, Failure> {
    if stands.why.trim().is_empty() {
        return Err(Failure::Refused {
            what: "a review without a reason".to_owned(),
            hint: "say with --why what was looked at, and why the decision stands".to_owned(),
        });
    }
    let near: Vec<&str> = found
        .candidates
        .iter()
        .map(|one| one.candidate.as_str())
        .collect();
    found
        .candidates
        .iter()
        .find(|one| one.candidate.as_str() == stands.candidate)
        .ok_or_else(|| Failure::Refused {
            what: format!(
                "no decision near the cut belongs to the number \"{}\"",
                stands.candidate
            ),
            hint: if near.is_empty() {
                "nobody lies within the band".to_owned()
            } else {
                format!("within the band lie {}", near.join(", "))
            },
        })
}

/// Who of those near a cut was not looked at with the marks as they stand.
///
/// # Errors
/// When the register is damaged.
pub(crate) fn not_reviewed(register: &Register, review: &Review) -> Result<Vec<String>, Failure> {
    if review.candidates.is_empty() {
        return Ok(Vec::new());
    }
    let mut seen: BTreeMap<String, String> = BTreeMap::new();
    for text in register.ledger()? {
        let entry = Entry::read(&text).map_err(RegisterError::Damaged)?;
        if entry.act == Act::Reviewed
            && let (Some(candidate), Some(marks)) =
                (entry.details.get(CANDIDATE), entry.details.get(MARKS))
        {
            seen.insert(candidate.clone(), marks.clone());
        }
    }
    let open = review
        .candidates
        .iter()
        .filter(|one| seen.get(one.candidate.as_str()) != Some(&one.marks));
    Ok(open.map(|one| one.candidate.to_string()).collect())
}
