//! What persons decided: read from the exam's folder before marking, and the list of what still
//! waits, put down for them.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use base::Fault;
use base::table_out::table;
use base::walk::shortened;
use grader::ruling_table::{HEADER, read_rulings, subject_words, waiting_rows};
use grader::{Award, Judgement, Ruling, Rulings, ToDecide};
use register::{Act, Beside, Details};
use results::marker::{ItemPlace, Marker};

use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// The folder of an exam in which tables of decisions lie.
pub const DECISIONS: &str = "decisions";
/// The table of what waits, in the exam's folder.
pub const TO_DECIDE: &str = "to-decide.csv";

/// The decisions of an exam, with the faults of their tables.
#[derive(Debug, Default)]
pub struct Decided {
    /// The decisions.
    pub rulings: Rulings,
    /// What was faulty and left out.
    pub faults: Vec<Fault>,
    /// The tables, for the snippets.
    pub sources: Sources,
}

/// Reads the named tables, or all in the folder `decisions` where none is named.
///
/// # Errors
/// When a table cannot be read.
pub fn decided(
    around: &dyn Surroundings,
    folder: &Path,
    named: &[PathBuf],
) -> Result<Decided, Failure> {
    let tables: Vec<PathBuf> = if named.is_empty() {
        let below = folder.join(DECISIONS);
        let names = around.files_in(&below)?;
        let tables = names.iter().filter(|name| name.ends_with(".csv"));
        tables.map(|name| below.join(name)).collect()
    } else {
        named.to_vec()
    };
    let mut all = Decided::default();
    for table in tables {
        if let Some(source) = read_text(around, &table, &mut all.faults)? {
            all.faults.extend(read_rulings(&source, &mut all.rulings));
            all.sources.insert(source.name, source.text);
        }
    }
    Ok(all)
}

/// Applies decisions to awards, in their place. Gives back what the ledger says of each decision
/// that met an answer, and the weaknesses: decisions that met none.
pub(crate) fn settle(
    marker: &Marker<'_>,
    rulings: &Rulings,
    awards: &mut Vec<Award>,
) -> (Vec<Beside>, Vec<Fault>) {
    if rulings.is_empty() {
        return (Vec::new(), Vec::new());
    }
    let mut used = BTreeSet::new();
    let settled = std::mem::take(awards)
        .into_iter()
        .map(|award| match place_of(marker, &award) {
            Some((candidate, item)) => rulings.settle(
                award,
                &|answer| {
                    marker.mark(candidate, item, answer).map_or_else(
                        || {
                            grader::Outcome::for_a_person(
                                "nothing of this kind was asked",
                                Vec::new(),
                            )
                        },
                        |again| again.outcome,
                    )
                },
                marker.sentences(),
                &mut used,
            ),
            None => award,
        })
        .collect();
    *awards = settled;
    let mut met = Vec::new();
    let mut unused = Vec::new();
    for (at, ruling) in rulings.all().iter().enumerate() {
        if used.contains(&at) {
            met.push(beside(ruling));
        } else if !marker.asks(&ruling.subject) {
            let what = format!(
                "{} was asked of nobody in this sitting",
                subject_words(&ruling.subject)
            );
            unused.push(
                Fault::new("decision-of-nothing-asked", ruling.place.clone(), what)
                    .hint("take the row out, or correct what it is of: the table of what waits has the right words"),
            );
        } else {
            unused.push(
                Fault::weakness(
                    "decision-without-answer",
                    ruling.place.clone(),
                    format!(
                        "the decision about \"{}\" of {} met no answer that waited",
                        shortened(&ruling.written),
                        subject_words(&ruling.subject)
                    ),
                )
                .hint("it does no harm; look whether the word is written as the script has it"),
            );
        }
    }
    (met, unused)
}

/// The detail of an entry that says of what a decision is.
pub(crate) const OF: &str = "of";
/// The detail that says whose script a decision or an incident is about, where it is about one.
pub(crate) const CANDIDATE: &str = "candidate";
/// The detail that says what was written.
pub(crate) const WRITTEN: &str = "written";
/// The detail that says what was decided, in a sentence.
pub(crate) const DECISION: &str = "decision";

/// What the ledger says of a decision.
fn beside(ruling: &Ruling) -> Beside {
    let of = subject_words(&ruling.subject);
    let what = match &ruling.judgement {
        Judgement::StandsFor(known) => format!("as \"{known}\""),
        Judgement::Nothing => "nothing".to_owned(),
        Judgement::Earns(marks) => format!("{marks} marks"),
    };
    let why = if ruling.why.is_empty() { "" } else { ": " };
    // What was written stands whole beside the sentence, however long an essay is.
    let sentence = format!(
        "decided by {}: {of}, \"{}\" {what}{why}{}",
        ruling.by,
        shortened(&ruling.written),
        ruling.why
    );
    let mut about = Details::from([
        (OF.to_owned(), of),
        (WRITTEN.to_owned(), ruling.written.clone()),
    ]);
    if let Some(script) = &ruling.script {
        about.insert(CANDIDATE.to_owned(), script.to_string());
    }
    Beside {
        act: Act::Decided,
        about,
        says: Details::from([(DECISION.to_owned(), sentence)]),
    }
}

/// Where an award's item stands in the sitting; none where it was not asked.
pub(crate) fn place_of(marker: &Marker<'_>, award: &Award) -> Option<(usize, ItemPlace)> {
    let candidate = marker.candidate(award.candidate.as_str())?;
    let item = match &award.item {
        grader::Item::Theory { number, .. } => {
            marker.question(candidate, usize::try_from(*number).ok()?)
        }
        grader::Item::Tasting { code, asked, .. } => marker.by_code(candidate, code, asked),
    };
    Some((candidate, item.ok()?))
}

/// Puts down the table of what waits, or takes an old one away where nothing waits. Gives back
/// its path where there is one.
///
/// # Errors
/// When the folder cannot be written.
pub fn put_to_decide(
    around: &dyn Surroundings,
    folder: &Path,
    waiting: &[ToDecide],
) -> Result<Option<PathBuf>, Failure> {
    let path = folder.join(TO_DECIDE);
    if waiting.is_empty() {
        around.remove(&path)?;
        return Ok(None);
    }
    let text = table(HEADER, waiting_rows(waiting));
    around.write(&path, text.as_bytes())?;
    Ok(Some(path))
}
