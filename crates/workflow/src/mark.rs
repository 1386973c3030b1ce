//! Takes in answers, marks them and puts marks and reasons into the register.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use base::{Fault, Place, SourceName};
use grader::{Award, Outcome, Rulings, to_decide};
use register::{AnswerEntry, By};
use results::marker::{ItemPlace, Marker};
use results::recall::Recall;
use results::regrade::item_name;
use serde::Serialize;

use crate::answers::{Intake, take_in};
use crate::decisions::{decided, put_to_decide};
use crate::failure::Failure;
use crate::incidents::{Incident, incidents};
use crate::open_sitting::{DrawnSitting, OpenSitting};
use crate::release::only_before_release;
use crate::roles::{Doing, Stated, acting};
use crate::settled::{Settled, SettledBy, settled};
use crate::surroundings::Surroundings;
use crate::texts::{Sources, Texts, read_text};

/// What `mark` is asked.
#[derive(Debug, Clone)]
pub struct MarkRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// The answer tables; those in the folder `answers` where none is named.
    pub answers: Vec<PathBuf>,
    /// Tables of what persons decided; those in the folder `decisions` where none is named.
    pub decisions: Vec<PathBuf>,
    /// In which role it is done, and who agrees.
    pub stated: Stated,
}

/// What `mark` did.
#[derive(Debug, Clone, Serialize)]
pub struct MarkReport {
    /// Answers taken in.
    pub answers: usize,
    /// Candidates with at least one answer.
    pub candidates: usize,
    /// Numbers of candidates of whom nothing came in.
    pub absent: Vec<String>,
    /// What a person must decide, each with the near words.
    pub for_a_person: Vec<Waiting>,
    /// How many decisions of persons met an answer.
    pub decisions: usize,
    /// The table of what waits, for a person to fill in; none where nothing waits.
    pub to_decide: Option<PathBuf>,
    /// What the proctor noted on scripts: candidate and remark.
    pub remarks: Vec<(String, String)>,
    /// Rows that were listed and not marked.
    pub faults: Vec<Fault>,
    /// The tables, for the snippets.
    #[serde(skip)]
    pub sources: Sources,
}

/// One answer that waits for a person.
#[derive(Debug, Clone, Serialize)]
pub struct Waiting {
    /// Who.
    pub candidate: String,
    /// What was asked: `theory 7`, `tasting 417 aroma`.
    pub item: String,
    /// What was answered.
    pub answer: String,
    /// Why a person must look.
    pub why: String,
    /// Near words.
    pub near: Vec<String>,
}

/// Above this size a table is not read again to show the lines of its faults.
const LARGEST_SNIPPET: usize = 8 * 1024 * 1024;

/// Marks a sitting. Earlier answers and marks are replaced: each call is given all answers.
///
/// # Errors
/// When there is no sitting, its results are released, or a table or the register cannot be read or written. Rows that are to
/// nothing are no error: they are listed, and the rest is marked.
pub fn mark(around: &dyn Surroundings, request: &MarkRequest) -> Result<MarkReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::Mark,
        request.stated,
    )?;
    only_before_release(&mut open.register, Doing::Mark, &by)?;
    let tables = tables(around, request)?;
    let decided = decided(around, &request.folder, &request.decisions)?;
    let happened = incidents(around, &request.folder, &open.drawn.exam)?;
    let mut report = mark_open(
        around,
        &mut open,
        &tables,
        &decided.rulings,
        &happened.incidents,
        &by,
    )?;
    report
        .faults
        .extend(changed_since(around, &request.folder, &open.drawn));
    report.faults.splice(0..0, happened.faults);
    report.sources.extend(happened.sources);
    report.faults.splice(0..0, decided.faults);
    report.sources.extend(decided.sources);
    let waiting = to_decide(open.register.marks()?.iter());
    report.to_decide = put_to_decide(around, &request.folder, &waiting)?;
    open.register.close()?;
    Ok(report)
}

/// A weakness for each text of the folder that is not what the sitting was assembled from: marks rest
/// on the register's texts. A folder that has moved on is no fault, and one that cannot be read tells
/// nothing.
fn changed_since(around: &dyn Surroundings, folder: &Path, drawn: &DrawnSitting) -> Vec<Fault> {
    let Ok(now) = Texts::of_exam(around, folder, &mut Vec::new()) else {
        return Vec::new();
    };
    let changed = now.differing_from(&drawn.texts);
    changed
        .into_iter()
        .map(|name| {
            let place = Place::whole(&SourceName::new(&name));
            let what =
                "this text is not what the sitting was assembled from, which alone counts here";
            Fault::weakness("changed-text", place, what)
                .hint("to mark by the text as it is now: valinch results regrade")
        })
        .collect()
}

/// Marks an open sitting by its rules, by what happened in the room and by what persons decided.
pub(crate) fn mark_open(
    around: &dyn Surroundings,
    open: &mut OpenSitting,
    tables: &[PathBuf],
    rulings: &Rulings,
    happened: &[Incident],
    by: &By,
) -> Result<MarkReport, Failure> {
    let (intake, entries, awards, found) = {
        let marker = open.drawn.marker()?;
        let mut intake = Intake::new(&marker);
        let mut entries = Vec::new();
        let mut awards = Vec::new();
        let mut recall = Recall::default();
        for path in tables {
            let source = SourceName::new(&path.to_string_lossy());
            let input = around.open(path)?;
            take_in(
                &marker,
                &source,
                input,
                &mut intake,
                &mut |candidate, item, answer, origin| {
                    if let Some(award) = marker.mark_recalling(&mut recall, candidate, item, answer)
                    {
                        entries.push(AnswerEntry {
                            candidate: award.candidate.clone(),
                            item: marker.name(candidate, item),
                            answer: answer.to_owned(),
                            source: origin.place.source.to_string(),
                            line: origin.place.line,
                            second_line: None,
                            sheet: origin.sheet.map(str::to_owned),
                            keyed_by: origin.keyed_by.map(str::to_owned),
                        });
                        awards.push(award);
                    }
                },
            );
        }
        note_doubled(&marker, &intake, &mut entries);
        complete(&marker, &intake, &mut awards);
        let by = SettledBy {
            answers: &entries,
            happened,
            rulings,
        };
        let Settled {
            noted,
            decisions,
            faults,
        } = settled(&marker, by, &mut awards);
        intake.faults.extend(faults);
        (intake, entries, awards, (noted, decisions))
    };
    let (noted, decisions) = found;
    let answers = open
        .register
        .put_marking(entries.into_iter(), awards.iter(), &noted, by)?;
    let mut report = report(around, &open.drawn, tables, intake, &awards, answers)?;
    report.decisions = decisions;
    Ok(report)
}

/// The tables to take in.
fn tables(around: &dyn Surroundings, request: &MarkRequest) -> Result<Vec<PathBuf>, Failure> {
    if !request.answers.is_empty() {
        return Ok(request.answers.clone());
    }
    let folder = request.folder.join("answers");
    let names = around.files_in(&folder)?;
    let tables: Vec<_> = names
        .iter()
        .filter(|n| n.ends_with(".csv"))
        .map(|n| folder.join(n))
        .collect();
    if tables.is_empty() {
        return Err(Failure::Refused {
            what: format!("there are no answers: {} holds no .csv", folder.display()),
            hint: "name the tables with --answers, or put them into the folder answers/".to_owned(),
        });
    }
    Ok(tables)
}

/// Notes with each answer the line in which its item is answered again.
fn note_doubled(marker: &Marker<'_>, intake: &Intake, entries: &mut [AnswerEntry]) {
    if intake.doubled.is_empty() {
        return;
    }
    let mut again = BTreeMap::new();
    for (candidate, item, _, second) in &intake.doubled {
        if let Some(number) = marker.number(*candidate) {
            again.insert((number.clone(), marker.name(*candidate, *item)), *second);
        }
    }
    for entry in entries {
        let of = (entry.candidate.clone(), entry.item.clone());
        entry.second_line = again.get(&of).copied();
    }
}

/// Adds an award for every item without an answer.
fn complete(marker: &Marker<'_>, intake: &Intake, awards: &mut Vec<Award>) {
    for candidate in 0..marker.numbers().count() {
        for item in (0..marker.items(candidate)).map(ItemPlace) {
            if !intake.has(candidate, item) {
                awards.extend(marker.mark(candidate, item, ""));
            }
        }
    }
}

fn report(
    around: &dyn Surroundings,
    open: &DrawnSitting,
    tables: &[PathBuf],
    intake: Intake,
    awards: &[Award],
    answers: usize,
) -> Result<MarkReport, Failure> {
    let places = &open.sitting.places;
    let (present, absent): (Vec<usize>, Vec<usize>) =
        (0..places.len()).partition(|c| intake.has_any(*c));
    let number = |candidate: &usize| {
        places
            .get(*candidate)
            .map(|p| p.candidate.to_string())
            .unwrap_or_default()
    };
    let for_a_person = awards
        .iter()
        .filter_map(|award| match &award.outcome {
            Outcome::Marked { .. } => None,
            Outcome::ForAPerson { why, near, .. } => Some(Waiting {
                candidate: award.candidate.to_string(),
                item: item_name(&award.item),
                answer: award.answer.clone(),
                why: why.clone(),
                near: near.clone(),
            }),
        })
        .collect();
    let sources = if intake.faults.is_empty() {
        Sources::new()
    } else {
        sources(around, tables)?
    };
    Ok(MarkReport {
        answers,
        candidates: present.len(),
        absent: absent.iter().map(number).collect(),
        for_a_person,
        decisions: 0,
        to_decide: None,
        remarks: intake
            .remarks
            .iter()
            .map(|r| (number(&r.candidate), r.words.clone()))
            .collect(),
        faults: intake
            .faults
            .into_iter()
            .map(|fault| with_its_line(fault, &sources))
            .collect(),
        sources,
    })
}

/// Gives a fault the bytes of its line, where the table is at hand.
fn with_its_line(mut fault: Fault, sources: &Sources) -> Fault {
    if let Some(place) = &mut fault.place
        && let Some(text) = sources.get(&place.source)
    {
        let before = usize::try_from(place.line).unwrap_or(1).saturating_sub(1);
        place.start = text.split_inclusive('\n').take(before).map(str::len).sum();
        let line = text.get(place.start..).and_then(|rest| rest.lines().next());
        place.end = place.start + line.map_or(0, |line| line.trim_end().len());
    }
    fault
}

/// The tables again, for the lines of their faults.
fn sources(around: &dyn Surroundings, tables: &[PathBuf]) -> Result<Sources, Failure> {
    let mut sources = Sources::new();
    for path in tables {
        // A table that is no UTF-8 has had its faults; its lines cannot be shown.
        if let Some(source) = read_text(around, path.as_path() as &Path, &mut Vec::new())?
            && source.text.len() <= LARGEST_SNIPPET
        {
            sources.insert(source.name, source.text);
        }
    }
    Ok(sources)
}
