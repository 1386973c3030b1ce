//! What a changed key, rule or decision would change, before anything is applied.

use std::path::PathBuf;

use base::Fault;
use grader::Award;
use register::{Beside, Details, Head, RegisterError};
use results::marker::Marker;
use results::recall::Recall;
use results::{RegradeDifference, regrade_difference};
use serde::Serialize;

use crate::decisions::{decided, place_of};
use crate::failure::Failure;
use crate::incidents::incidents;
use crate::load;
use crate::open_sitting::OpenSitting;
use crate::roles::{Doing, Stated, acting};
use crate::settled::{Settled, SettledBy, settled};
use crate::surroundings::Surroundings;
use crate::texts::{Sources, Texts};

/// What a regrade is asked.
#[derive(Debug, Clone, Default)]
pub struct RegradeRequest {
    /// The exam's folder, with the changed texts, decisions or incidents.
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
    /// Weaknesses and faults of the tables of decisions and incidents.
    pub faults: Vec<Fault>,
    /// The tables, for the snippets.
    #[serde(skip)]
    pub sources: Sources,
}

/// What a correction would put into the register.
#[derive(Debug)]
struct Again {
    /// All marks.
    awards: Vec<Award>,
    /// What the ledger must say beside them.
    noted: Vec<Beside>,
    /// The head of the ledger when the sitting was read; none in a rehearsal.
    seen: Option<Head>,
}

/// Marks the stored answers again by the folder's texts, decisions and incidents as they are now, and
/// sets the outcome beside the marks that stand.
///
/// The sitting itself stays as it was drawn: a text that would no longer fit the printed forms is
/// refused, and so is one that is gone.
///
/// # Errors
/// When the sitting is not marked, the changed texts have faults or do not fit the sitting, or the
/// register cannot be written or was written meanwhile.
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
    let texts =
        Texts::of_exam(around, &request.folder, &mut faults)?.with_roster_of(&open.drawn.texts);
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
    let gone = texts.gone_since(&drawn.texts);
    if !gone.is_empty() {
        return Err(Failure::Refused {
            what: format!(
                "the sitting was made from texts that are gone: {}",
                gone.join(", ")
            ),
            hint: "put them back: a correction changes what texts say and takes none away"
                .to_owned(),
        });
    }
    let changed_texts = texts.differing_from(&drawn.texts);
    let decided = decided(around, &request.folder, &request.decisions)?;
    let happened = incidents(around, &request.folder, &exam)?;
    let answers = open.register.answers()?;
    let (awards, found) = {
        let marker = Marker::new(&exam, &drawn.sitting).map_err(|faults| Failure::Faults {
            faults,
            sources: texts.sources(),
        })?;
        let marker = marker.saying(&drawn.sentences);
        let mut awards = again(&marker, &before);
        let by = SettledBy {
            answers: &answers,
            happened: &happened.incidents,
            rulings: &decided.rulings,
        };
        let found = settled(&marker, by, &mut awards);
        (awards, found)
    };
    let Settled { noted, faults, .. } = found;
    let difference = regrade_difference(&drawn.sitting, (&drawn.exam, &before), (&exam, &awards));
    let mut report = RegradeReport {
        changed_texts,
        difference,
        applied: false,
        faults: happened.faults,
        sources: happened.sources,
    };
    report.faults.extend(decided.faults);
    report.faults.extend(faults);
    report.sources.extend(decided.sources);
    if let Some(correction) = &request.apply {
        let again = Again {
            awards,
            noted,
            seen: drawn.custody.head,
        };
        apply(around, &mut open, &texts, &again, &mut report, correction)?;
    }
    open.register.close()?;
    Ok(report)
}

/// Applies what was found, as one act of two roles.
fn apply(
    around: &dyn Surroundings,
    open: &mut OpenSitting,
    texts: &Texts,
    again: &Again,
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
            hint: "change the bank, the plan, a decision or the incidents first".to_owned(),
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
                            c.candidate,
                            c.before_in_words(),
                            c.after_in_words()
                        )
                    })
                    .collect(),
            ),
        ),
    ]);
    let seen = match again.seen {
        Some(seen) => seen,
        None => open.register.head()?,
    };
    let (awards, noted) = (again.awards.iter(), &again.noted);
    open.register
        .put_correction(&changed, awards, details, noted, &seen, &by)
        .map_err(|error| match error {
            RegisterError::Moved => Failure::Refused {
                what: error.to_string(),
                hint: "somebody marked, decided or corrected meanwhile: look at the difference again, and apply that".to_owned(),
            },
            other => other.into(),
        })?;
    report.applied = true;
    Ok(())
}

/// The stored answers marked again, by the rules alone.
fn again(marker: &Marker<'_>, before: &[Award]) -> Vec<Award> {
    let mut recall = Recall::default();
    before
        .iter()
        .map(|award| {
            place_of(marker, award)
                .and_then(|(candidate, item)| {
                    marker.mark_recalling(&mut recall, candidate, item, &award.answer)
                })
                .unwrap_or_else(|| award.clone())
        })
        .collect()
}
