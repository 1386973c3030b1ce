//! What a changed key, rule or decision would change, before anything is applied.

use std::path::PathBuf;

use base::Fault;
use grader::Award;
use results::marker::Marker;
use results::{RegradeDifference, regrade_difference};
use serde::Serialize;

use crate::decisions::{decided, settle};
use crate::failure::Failure;
use crate::load;
use crate::mark::ANSWERED_TWICE;
use crate::open_sitting::OpenSitting;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, Texts};

/// What a regrade is asked.
#[derive(Debug, Clone, Default)]
pub struct RegradeRequest {
    /// The exam's folder, with the changed texts or decisions.
    pub folder: PathBuf,
    /// Tables of decisions; those in the folder `decisions` where none is named.
    pub decisions: Vec<PathBuf>,
}

/// What a regrade found.
#[derive(Debug, Clone, Serialize)]
pub struct RegradeReport {
    /// The texts that differ from those the sitting was made from.
    pub changed_texts: Vec<String>,
    /// What differs.
    pub difference: RegradeDifference,
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
    let open = OpenSitting::open(around, &request.folder)?;
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
        faults: decided.faults,
        sources: decided.sources,
    };
    report.faults.extend(unused);
    open.register.close()?;
    Ok(report)
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
