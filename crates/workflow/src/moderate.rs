//! Shares essays out to markers, takes their marks in, brings two or three together, and says how
//! far the markers agree.
//!
//! Below the exam's folder, `moderation/for-NAME.csv` is a marker's table: one row for each
//! criterion of each script, under a code that names nobody. What comes in after that goes into
//! `late-NAME.csv`. Where two markers lie too far apart, the script goes into
//! `moderation/third.csv`, which says who has marked or teaches and therefore cannot be the third. A
//! marker's own table is never written again. What is agreed goes into `decisions/moderated.csv`,
//! from where `mark` takes it like every decision of a person. Scripts of `known-marks.csv`, beside
//! the plan, are mixed into every marker's table and come to no decision.

mod agreement;
mod known_marks;
mod marker_table;
mod sharing;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use base::table_out::table;
use base::{Fault, Marks};
use grader::combined_marks::{Combined, combine, usual_gap};
use grader::printed_letters::is_blank;
use grader::ruling_table::subject_words;
use grader::script_sharing::{CannotShare, Essay, SharedScript};
use grader::{Award, Item, Subject};
use question_bank::shape::{Criterion, Shape};
use register::{Act, Details};
use results::moderation::{
    Marked, MarkedKnown, MarkedTwice, Moderation, RatedCriterion, moderate as figures,
};
use serde::Serialize;

use crate::decisions::DECISIONS;
use crate::failure::Failure;
use crate::open_sitting::{DrawnSitting, OpenSitting};
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};
pub(crate) use agreement::agreement;
use marker_table::{GivenMarks, Sheet};
use sharing::{Sharing, sharing};

/// The folder of an exam in which markers' tables lie.
pub const MODERATION: &str = "moderation";
/// How the names of a marker's tables begin, in the order in which they are made.
const TABLES: [&str; 2] = ["for", "late"];
/// The table for third markers.
const THIRD: &str = "third.csv";

/// What `moderate` is asked.
#[derive(Debug, Clone, Default)]
pub struct ModerateRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// The markers, by names or initials of one's own choosing; those of the tables that lie there
    /// where none is named.
    pub markers: Vec<String>,
    /// How far two marks may lie apart; a quarter of a question's marks where none is given.
    pub gap: Option<Marks>,
    /// Who acts.
    pub stated: Stated,
}

/// What `moderate` did.
#[derive(Debug, Clone, Serialize)]
pub struct ModerateReport {
    /// The markers.
    pub markers: Vec<String>,
    /// Answers that persons mark.
    pub scripts: usize,
    /// Those that are finished.
    pub finished: usize,
    /// Scripts with known marks that every marker has.
    pub known_scripts: usize,
    /// Scripts kept from a marker who teaches their writer.
    pub kept_from_teachers: usize,
    /// Codes of scripts that wait for a third marker.
    pub third_needed: Vec<String>,
    /// Tables written for markers now.
    pub written: Vec<PathBuf>,
    /// The table of what is agreed, for `mark`; none while nothing is.
    pub decisions: Option<PathBuf>,
    /// How far the markers agree; none before marks have come in.
    pub moderation: Option<Moderation>,
    /// Rows that were listed and not taken.
    pub faults: Vec<Fault>,
    /// The tables, for the snippets.
    #[serde(skip)]
    pub sources: Sources,
}

/// Shares out, takes in, and brings together, as far as the markers have come.
///
/// # Errors
/// When the sitting is not marked or holds no essays, markers cannot be told, or a table cannot be
/// read or written.
pub fn moderate(
    around: &dyn Surroundings,
    request: &ModerateRequest,
) -> Result<ModerateReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::Moderate,
        request.stated,
    )?;
    let awards = open.register.marks()?;
    let drawn = &open.drawn;
    if !essays(drawn, &awards)
        .iter()
        .any(|essay| !is_blank(&essay.answer))
    {
        return Err(Failure::Refused {
            what: "no answer of this sitting is marked by persons".to_owned(),
            hint: "mark the sitting first; only essays that were answered are shared out"
                .to_owned(),
        });
    }
    let folder = request.folder.join(MODERATION);
    let markers = markers(around, &folder, &request.markers)?;
    let (mut faults, mut sources) = (Vec::new(), Sources::new());
    let noted = (&mut faults, &mut sources);
    let shared = sharing(around, &request.folder, drawn, &awards, &markers, noted)?;
    let shared = shared.map_err(refused)?;
    let essays = &shared.essays;
    let rubric = |essay: &Essay| rubric_of(drawn, essay);
    let answered = |script: &&SharedScript| {
        let essay = essays.get(script.essay);
        essay.is_some_and(|essay| !is_blank(&essay.answer))
    };
    let mut report = ModerateReport {
        markers: markers.clone(),
        scripts: shared.scripts.iter().filter(answered).count(),
        finished: 0,
        known_scripts: shared.known.len(),
        kept_from_teachers: shared.kept_from_teachers,
        third_needed: Vec::new(),
        written: Vec::new(),
        decisions: None,
        moderation: None,
        faults,
        sources,
    };
    let sheet = Sheet {
        essays,
        rubric: &rubric,
        third_readers: None,
    };
    let mut given: Vec<GivenMarks> = Vec::new();
    for (place, marker) in markers.iter().enumerate() {
        let (own, all) = (shared.list(place), shared.all_of(place));
        let mut marks = GivenMarks::default();
        for kind in TABLES {
            let path = folder.join(format!("{kind}-{marker}.csv"));
            let missing: Vec<&SharedScript> = own
                .iter()
                .filter(|script| !marks.holds(&script.code))
                .copied()
                .collect();
            if around.has_file(&path) {
                take(around, &path, &sheet, &all, &mut marks, &mut report)?;
            } else if !missing.is_empty() {
                let text = sheet.written(&missing, &GivenMarks::default());
                around.write(&path, text.as_bytes())?;
                report.written.push(path);
                marks.hold(missing.iter().map(|script| script.code.as_str()));
            }
        }
        for script in &own {
            if !marks.holds(&script.code) {
                report.faults.push(
                    Fault::new(
                        "script-in-no-table",
                        None,
                        format!("script {} stands in no table of {marker}", script.code),
                    )
                    .hint(format!(
                        "finish late-{marker}.csv, then add its marks to for-{marker}.csv and move it away"
                    )),
                );
            }
        }
        given.push(marks);
    }
    let third_path = folder.join(THIRD);
    let mut third = GivenMarks::default();
    let faults_before = report.faults.len();
    if around.has_file(&third_path) {
        let all: Vec<&SharedScript> = shared.scripts.iter().collect();
        take(around, &third_path, &sheet, &all, &mut third, &mut report)?;
    }
    // A table in which something could not be read is a person's to mend, and is not written over.
    let third_is_sound = report.faults.len() == faults_before;
    let together = Together {
        shared: &shared,
        given: &given,
        third: &third,
        gap: request.gap,
    };
    let Brought {
        agreed,
        apart,
        needed,
    } = together.bring();
    report.finished = agreed.len();
    report.third_needed = needed;
    if third_is_sound && apart.iter().any(|script| !third.holds(&script.code)) {
        // Every script whose first two marks lie apart stays in the table, settled or not.
        let not_by = |script: &SharedScript| cannot_be_third(drawn, essays, &markers, script);
        let for_third = Sheet {
            third_readers: Some(&not_by),
            ..sheet
        };
        around.write(&third_path, for_third.written(&apart, &third).as_bytes())?;
        report.written.push(third_path);
    }
    let path = request.folder.join(DECISIONS).join("moderated.csv");
    if agreed.is_empty() {
        // What was agreed before and is not any more must not be marked by.
        around.remove(&path)?;
    } else {
        around.write(&path, decisions(essays, &markers, &agreed).as_bytes())?;
        report.decisions = Some(path);
        let told = format!(
            "moderated {} of {} scripts of {}",
            report.finished,
            report.scripts,
            markers.join(", ")
        );
        let details = Details::from([("decision".to_owned(), told)]);
        open.register.note(Act::Decided, &by, details)?;
    }
    let marked = together.marked();
    if !marked.twice.is_empty() {
        report.moderation = Some(figures(&markers, &marked));
    }
    open.register.close()?;
    Ok(report)
}

fn refused(why: CannotShare) -> Failure {
    let (what, hint) = match why {
        CannotShare::OneMarker => (
            "two markers are needed at least".to_owned(),
            "name them: --markers A,B".to_owned(),
        ),
        CannotShare::SameName => (
            "two markers have the same name".to_owned(),
            "give each a name or initials of its own".to_owned(),
        ),
        CannotShare::OnlyTeachers(candidate) => (
            format!("no two markers are left for {candidate}, whom the others teach"),
            "name another marker; nobody marks those whom they teach (roster.csv, teacher)"
                .to_owned(),
        ),
    };
    Failure::Refused { what, hint }
}

/// Who cannot be the third marker of a script: who marked it, and who teaches its writer.
fn cannot_be_third(
    drawn: &DrawnSitting,
    essays: &[Essay],
    markers: &[String],
    script: &SharedScript,
) -> String {
    let mut names: Vec<&str> = script
        .markers
        .iter()
        .filter_map(|place| markers.get(*place).map(String::as_str))
        .collect();
    let writer = essays
        .get(script.essay)
        .and_then(|essay| essay.candidate.as_ref());
    let roster = drawn.exam.roster.candidates.iter();
    let teachers = roster
        .filter(|candidate| Some(&candidate.number) == writer)
        .flat_map(|candidate| &candidate.teachers);
    for teacher in teachers {
        if !names.iter().any(|name| name.eq_ignore_ascii_case(teacher)) {
            names.push(teacher);
        }
    }
    names.join("; ")
}

/// The essays that were asked in a marked sitting, in the order of its marks.
fn essays(drawn: &DrawnSitting, awards: &[Award]) -> Vec<Essay> {
    awards
        .iter()
        .filter_map(|award| {
            let Item::Theory { question, .. } = &award.item else {
                return None;
            };
            let known = drawn.exam.bank.questions.get(question)?;
            let Shape::Space { .. } = known.kind.shape() else {
                return None;
            };
            Some(Essay {
                candidate: Some(award.candidate.clone()),
                question: question.clone(),
                answer: award.answer.trim().to_owned(),
                of: award.of,
            })
        })
        .collect()
}

/// What a marker looks at; a question without a rubric of its own is one criterion.
fn rubric_of(drawn: &DrawnSitting, essay: &Essay) -> Vec<(String, Marks)> {
    let known = drawn.exam.bank.questions.get(&essay.question);
    match known.map(|question| question.kind.shape()) {
        Some(Shape::Space { rubric, .. }) => rubric
            .iter()
            .map(|criterion: &Criterion| (criterion.name.to_string(), criterion.marks))
            .collect(),
        Some(_) | None => vec![("answer".to_owned(), essay.of)],
    }
}

/// The markers named, or those whose tables lie there; both must agree.
fn markers(
    around: &dyn Surroundings,
    folder: &Path,
    named: &[String],
) -> Result<Vec<String>, Failure> {
    let mut there: Vec<String> = around
        .files_in(folder)?
        .iter()
        .filter_map(|name| {
            name.strip_prefix("for-")?
                .strip_suffix(".csv")
                .map(str::to_owned)
        })
        .collect();
    // In the order of the names, which is not that of the files.
    there.sort();
    let mut named: Vec<String> = named.iter().map(|name| name.trim().to_owned()).collect();
    named.sort();
    for name in &named {
        let sound = !name.is_empty()
            && name
                .chars()
                .all(|c| c.is_alphanumeric() || c == '-' || c == '_')
            && name.chars().count() <= 40;
        if !sound {
            return Err(Failure::Refused {
                what: format!("\"{}\" is no marker's name", base::walk::shortened(name)),
                hint: "letters, digits, - and _, at most 40: it becomes the name of a file"
                    .to_owned(),
            });
        }
    }
    if there.is_empty() {
        return Ok(named);
    }
    if named.is_empty() || named == there {
        return Ok(there);
    }
    Err(Failure::Refused {
        what: format!("scripts were shared out to {} already", there.join(", ")),
        hint: format!(
            "leave --markers out; to share out anew, move the folder {} away",
            folder.display()
        ),
    })
}

fn take(
    around: &dyn Surroundings,
    path: &Path,
    sheet: &Sheet<'_>,
    own: &[&SharedScript],
    given: &mut GivenMarks,
    report: &mut ModerateReport,
) -> Result<(), Failure> {
    if let Some(source) = read_text(around, path, &mut report.faults)? {
        sheet.take(&source, own, given, &mut report.faults);
        report.sources.insert(source.name, source.text);
    }
    Ok(())
}

/// Everything that has come in.
struct Together<'t> {
    shared: &'t Sharing,
    given: &'t [GivenMarks],
    third: &'t GivenMarks,
    gap: Option<Marks>,
}

/// A script with its agreed mark.
struct Agreed<'t> {
    script: &'t SharedScript,
    marks: Marks,
    of: [Marks; 2],
    by_third: bool,
}

/// What everything that came in comes to.
#[derive(Default)]
struct Brought<'t> {
    agreed: Vec<Agreed<'t>>,
    /// Scripts whose first two marks lie too far apart, settled by a third or not.
    apart: Vec<&'t SharedScript>,
    /// Codes of those that still need a third.
    needed: Vec<String>,
}

impl<'t> Together<'t> {
    fn total(&self, marker: usize, code: &str) -> Option<Marks> {
        self.given.get(marker)?.total(code)
    }

    fn bring(&self) -> Brought<'t> {
        let mut brought = Brought::default();
        for script in &self.shared.scripts {
            let Some(essay) = self.shared.essays.get(script.essay) else {
                continue;
            };
            let [first, second] = script
                .markers
                .map(|marker| self.total(marker, &script.code));
            let allowed = self.gap.unwrap_or_else(|| usual_gap(essay.of));
            let alone = combine(first, second, None, allowed);
            let by_third = matches!(alone, Combined::ThirdNeeded { .. });
            if by_third {
                brought.apart.push(script);
            }
            match combine(first, second, self.third.total(&script.code), allowed) {
                Combined::Unfinished => {}
                Combined::ThirdNeeded { .. } => brought.needed.push(script.code.clone()),
                Combined::Agreed { marks, of } => brought.agreed.push(Agreed {
                    script,
                    marks,
                    of,
                    by_third,
                }),
            }
        }
        brought
    }

    /// What the markers are judged by: scripts that two have marked, known scripts, and criteria.
    fn marked(&self) -> Marked {
        let shared = self.shared;
        let place = |marker: usize, code: &str| {
            let of_marker = self.given.get(marker);
            of_marker.and_then(|given| given.place(code))
        };
        let mut marked = Marked::default();
        for script in &shared.scripts {
            let (Some(essay), code) = (shared.essays.get(script.essay), script.code.as_str())
            else {
                continue;
            };
            let [first, second] = script.markers.map(|marker| self.total(marker, code));
            let [at_first, at_second] = script.markers.map(|marker| place(marker, code));
            if let (Some(first), Some(second)) = (first, second) {
                marked.twice.push(MarkedTwice {
                    code: code.to_owned(),
                    markers: script.markers,
                    marks: [first, second],
                    places: [at_first.unwrap_or(0), at_second.unwrap_or(0)],
                    of: essay.of,
                });
            }
            for marker in script.markers {
                let given = self.given.get(marker).map(|given| given.criteria(code));
                for (criterion, marks) in given.into_iter().flatten() {
                    marked.criteria.push(RatedCriterion {
                        code: code.to_owned(),
                        marker,
                        item: (essay.question.to_string(), criterion),
                        marks,
                    });
                }
            }
        }
        for (script, known) in &shared.known {
            let Some(essay) = shared.essays.get(script.essay) else {
                continue;
            };
            for marker in 0..self.given.len() {
                if let Some(given) = self.total(marker, &script.code) {
                    marked.known.push(MarkedKnown {
                        code: script.code.clone(),
                        marker,
                        given,
                        known: *known,
                        place: place(marker, &script.code).unwrap_or(0),
                        of: essay.of,
                    });
                }
            }
        }
        marked
    }
}

/// The table of decisions that `mark` takes.
fn decisions(essays: &[Essay], markers: &[String], agreed: &[Agreed<'_>]) -> String {
    let mut rows: BTreeMap<String, [String; 6]> = BTreeMap::new();
    for one in agreed {
        let Some(essay) = essays.get(one.script.essay) else {
            continue;
        };
        let names: Vec<&str> = one
            .script
            .markers
            .iter()
            .filter_map(|place| markers.get(*place).map(String::as_str))
            .collect();
        let Some(candidate) = &essay.candidate else {
            continue;
        };
        let third = if one.by_third { ", with a third" } else { "" };
        rows.insert(
            one.script.code.clone(),
            [
                subject_words(&Subject::Theory(essay.question.clone())),
                essay.answer.clone(),
                format!("{} marks", one.marks),
                format!(
                    "script {}: mean of {} and {}",
                    one.script.code, one.of[0], one.of[1]
                ),
                format!("{}{third}", names.join(" and ")),
                candidate.to_string(),
            ],
        );
    }
    table(
        ["of", "written", "decision", "why", "by", "script"],
        rows.into_values(),
    )
}
