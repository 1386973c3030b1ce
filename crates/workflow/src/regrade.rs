//! What a changed key, rule or decision would change, before anything is applied.

use std::path::PathBuf;

use base::Fault;
use grader::Award;
use register::Details;
use results::marker::Marker;
use results::{RegradeDifference, regrade_difference};
use serde::Serialize;

use crate::decisions::{decided, settle};
use crate::failure::Failure;
use crate::load;
use crate::mark::ANSWERED_TWICE;
use crate::open_sitting::OpenSitting;
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;
use crate::texts::{Sources, Texts};

/// What a regrade is asked.
#[derive(Debug, Clone, Default)]
pub struct RegradeRequest {
    /// The exam's folder, with the changed texts or decisions.
    pub folder: PathBuf,
    /// Tables of decisions; those in the folder `decisions` where none is named.
    pub decisions: Vec<PathBuf>,
    /// Applies the difference where given; shows it otherwise.
    pub apply: Option<Correction>,
}

/// Who applies a regrade and why.
#[derive(Debug, Clone)]
pub struct Correction {
    /// The roles that act.
    pub stated: Stated,
    /// Why.
    pub why: String,
}

/// What a regrade found.
#[derive(Debug, Clone, Serialize)]
pub struct RegradeReport {
    /// The texts that differ from those the sitting was made from.
    pub changed_texts: Vec<String>,
    /// What differs.
    pub difference: RegradeDifference,
    /// Whether it was applied.
    pub applied: bool,
    /// Weaknesses and faults of the decisions' tables.
    pub faults: Vec<Fault>,
    /// The tables, for the snippets.
    #[serde(skip)]
    pub sources: Sources,
}

/// Marks the stored answers again by the folder's texts and decisions as they are now, and sets the
/// outcome beside the marks that stand.
///
/// The sitting itself stays as it was drawn: a text that would no longer fit the printed forms is
/// refused.
///
/// # Errors
/// When the sitting is not marked, the changed texts have faults or do not fit the sitting, or the
/// register cannot be written.
pub fn regrade(
    around: &dyn Surroundings,
    request: &RegradeRequest,
) -> Result<RegradeReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let before = open.register.marks()?;
    if before.is_empty() {
        return Err(Failure::Refused {
            what: "this sitting is not marked yet".to_owned(),
            hint: "valinch mark FOLDER --answers TABLE".to_owned(),
        });
    }
    let mut faults = Vec::new();
    let texts = Texts::of_exam(around, &request.folder, &mut faults)?;
    let exam = load::exam(&texts, &mut faults);
    faults.retain(|fault: &Fault| !fault.is_weakness());
    let drawn = &open.drawn;
    for form in &drawn.sitting.forms {
        if let Some(exam) = &exam {
            faults.extend(assembler::form_fits::form_fits(&exam.bank, form));
        }
    }
    let Some(exam) = exam.filter(|_| faults.is_empty()) else {
        return Err(Failure::Faults {
            faults,
            sources: texts.sources(),
        });
    };
    let changed_texts = texts.differing_from(&drawn.texts);
    let decided = decided(around, &request.folder, &request.decisions)?;
    let (after, unused) = {
        let marker = Marker::new(&exam, &drawn.sitting).map_err(|faults| Failure::Faults {
            faults,
            sources: texts.sources(),
        })?;
        let mut after = again(&marker, &before);
        let (_, unused) = settle(&marker, &decided.rulings, &mut after);
        (after, unused)
    };
    let difference = regrade_difference(&drawn.sitting, (&drawn.exam, &before), (&exam, &after));
    let mut report = RegradeReport {
        changed_texts,
        difference,
        applied: false,
        faults: decided.faults,
        sources: decided.sources,
    };
    report.faults.extend(unused);
    if let Some(correction) = &request.apply {
        apply(around, &mut open, &texts, &after, &mut report, correction)?;
    }
    open.register.close()?;
    Ok(report)
}

/// Applies what was found, as one act of two roles.
fn apply(
    around: &dyn Surroundings,
    open: &mut OpenSitting,
    texts: &Texts,
    after: &[Award],
    report: &mut RegradeReport,
    correction: &Correction,
) -> Result<(), Failure> {
    if report.faults.iter().any(|fault| !fault.is_weakness()) {
        return Err(Failure::Faults {
            faults: std::mem::take(&mut report.faults),
            sources: std::mem::take(&mut report.sources),
        });
    }
    if correction.why.trim().is_empty() {
        return Err(Failure::Refused {
            what: "a correction without a reason".to_owned(),
            hint: "say why with --why; whoever reads the ledger years later must understand it"
                .to_owned(),
        });
    }
    if report.difference.marks.is_empty()
        && report.difference.candidates.is_empty()
        && report.changed_texts.is_empty()
    {
        return Err(Failure::Refused {
            what: "nothing differs, so there is nothing to correct".to_owned(),
            hint: "change the bank, the plan or a decision first".to_owned(),
        });
    }
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::Correct,
        correction.stated,
    )?;
    let changed: Vec<_> = texts
        .to_store()
        .into_iter()
        .filter(|text| report.changed_texts.contains(&text.name))
        .collect();
    let difference = &report.difference;
    let list = |lines: Vec<String>| lines.join("; ");
    let details = Details::from([
        ("why".to_owned(), correction.why.trim().to_owned()),
        ("texts".to_owned(), report.changed_texts.join(", ")),
        (
            "marks".to_owned(),
            list(
                difference
                    .marks
                    .iter()
                    .map(|c| {
                        format!(
                            "{} {} from {} to {}",
                            c.candidate, c.item, c.before, c.after
                        )
                    })
                    .collect(),
            ),
        ),
        (
            "decisions".to_owned(),
            list(
                difference
                    .candidates
                    .iter()
                    .filter(|c| c.turned())
                    .map(|c| {
                        format!(
                            "{} from {} to {}",
                            c.candidate, c.decision_before, c.decision_after
                        )
                    })
                    .collect(),
            ),
        ),
    ]);
    open.register
        .put_correction(&changed, after.iter(), details, &by)?;
    report.applied = true;
    Ok(())
}

/// The stored answers marked again. What waited because a script gave two answers still does.
fn again(marker: &Marker<'_>, before: &[Award]) -> Vec<Award> {
    before
        .iter()
        .map(|award| {
            let found = marker
                .candidate(award.candidate.as_str())
                .and_then(|candidate| {
                    let item = match &award.item {
                        grader::Item::Theory { number, .. } => {
                            marker.question(candidate, usize::try_from(*number).ok()?)
                        }
                        grader::Item::Tasting { code, asked, .. } => {
                            marker.by_code(candidate, code, asked)
                        }
                    };
                    marker.mark(candidate, item.ok()?, &award.answer)
                });
            let doubled = match &award.outcome {
                grader::Outcome::ForAPerson { why, .. } => why.starts_with(ANSWERED_TWICE),
                grader::Outcome::Marked { .. } => false,
            };
            match found {
                Some(mut again) => {
                    if doubled {
                        again.outcome = award.outcome.clone();
                    }
                    again
                }
                None => award.clone(),
            }
        })
        .collect()
}
