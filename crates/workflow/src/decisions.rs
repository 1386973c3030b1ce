//! What persons decided: read from the exam's folder before marking, and the list of what still
//! waits, put down for them.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use base::Fault;
use base::table_out::table;
use grader::ruling_table::{HEADER, read_rulings, subject_words, waiting_rows};
use grader::{Award, Judgement, Rulings, ToDecide};
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

/// Applies decisions to awards, in their place. Gives back one sentence for each decision that met
/// an answer, and the weaknesses: decisions that met none.
pub fn settle(
    marker: &Marker<'_>,
    rulings: &Rulings,
    awards: &mut Vec<Award>,
) -> (Vec<String>, Vec<Fault>) {
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
                &mut used,
            ),
            None => award,
        })
        .collect();
    *awards = settled;
    let mut sentences = Vec::new();
    let mut unused = Vec::new();
    for (at, ruling) in rulings.all().iter().enumerate() {
        let of = subject_words(&ruling.subject);
        if used.contains(&at) {
            let what = match &ruling.judgement {
                Judgement::StandsFor(known) => format!("as \"{known}\""),
                Judgement::Nothing => "nothing".to_owned(),
                Judgement::Earns(marks) => format!("{marks} marks"),
            };
            let why = if ruling.why.is_empty() { "" } else { ": " };
            sentences.push(format!(
                "decided by {}: {of}, \"{}\" {what}{why}{}",
                ruling.by, ruling.written, ruling.why
            ));
        } else {
            unused.push(
                Fault::weakness(
                    "decision-without-answer",
                    None,
                    format!(
                        "the decision about \"{}\" of {of} met no answer that waited",
                        base::walk::shortened(&ruling.written)
                    ),
                )
                .hint("it does no harm; look whether the word is written as the script has it"),
            );
        }
    }
    (sentences, unused)
}

fn place_of(marker: &Marker<'_>, award: &Award) -> Option<(usize, ItemPlace)> {
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
