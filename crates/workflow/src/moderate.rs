//! Shares essays out to markers, takes their marks in, brings two or three together, and says how
//! far the markers agree.
//!
//! Below the exam's folder, `moderation/for-NAME.csv` is a marker's table: one row for each
//! criterion of each script, under a code that names nobody. Where two markers lie too far apart,
//! the script goes into `moderation/third.csv`. What is agreed goes into `decisions/moderated.csv`,
//! from where `mark` takes it like every decision of a person.

mod marker_table;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use base::{Fault, Marks};
use grader::combined_marks::{Combined, combine, usual_gap};
use grader::ruling_table::subject_words;
use grader::script_sharing::{CannotShare, Essay, SharedScript, share_out};
use grader::{Award, Item, Subject};
use question_bank::shape::{Criterion, Shape};
use results::moderation::{MarkedTwice, Moderation, moderate as figures};
use serde::Serialize;

use crate::decisions::DECISIONS;
use crate::failure::Failure;
use crate::open_sitting::{DrawnSitting, OpenSitting};
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};
use marker_table::{GivenMarks, Sheet};

/// The folder of an exam in which markers' tables lie.
pub const MODERATION: &str = "moderation";
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
    let open = OpenSitting::open(around, &request.folder)?;
    let awards = open.register.marks()?;
    let drawn = &open.drawn;
    let essays = essays(drawn, &awards);
    if essays.is_empty() {
        return Err(Failure::Refused {
            what: "no answer of this sitting is marked by persons".to_owned(),
            hint: "mark the sitting first; only essays that were answered are shared out"
                .to_owned(),
        });
    }
    let folder = request.folder.join(MODERATION);
    let markers = markers(around, &folder, &request.markers)?;
    let shared = share_out(&essays, &markers, &drawn.seed).map_err(|why| match why {
        CannotShare::OneMarker => Failure::Refused {
            what: "two markers are needed at least".to_owned(),
            hint: "name them: --markers A,B".to_owned(),
        },
        CannotShare::SameName => Failure::Refused {
            what: "two markers have the same name".to_owned(),
            hint: "give each a name or initials of its own".to_owned(),
        },
    })?;
    let rubric = |essay: &Essay| rubric_of(drawn, essay);
    let mut report = ModerateReport {
        markers: markers.clone(),
        scripts: shared.len(),
        finished: 0,
        third_needed: Vec::new(),
        written: Vec::new(),
        decisions: None,
        moderation: None,
        faults: Vec::new(),
        sources: Sources::new(),
    };
    let sheet = Sheet {
        essays: &essays,
        rubric: &rubric,
    };
    let mut given: Vec<GivenMarks> = Vec::new();
    for (place, marker) in markers.iter().enumerate() {
        let own: Vec<&SharedScript> = shared
            .iter()
            .filter(|script| script.markers.contains(&place))
            .collect();
        let path = folder.join(format!("for-{marker}.csv"));
        given.push(sheet_of(around, &path, &sheet, &own, &mut report)?);
    }
    let third_path = folder.join(THIRD);
    let third = if around.has_file(&third_path) {
        let all: Vec<&SharedScript> = shared.iter().collect();
        take(around, &third_path, &sheet, &all, &mut report)?
    } else {
        GivenMarks::default()
    };
    let together = Together {
        essays: &essays,
        shared: &shared,
        given: &given,
        third: &third,
        gap: request.gap,
    };
    let (agreed, needed, twice) = together.bring();
    report.finished = agreed.len();
    report.third_needed = needed.iter().map(|script| script.code.clone()).collect();
    if !needed.is_empty() {
        // What third markers have given already is kept.
        let bytes = sheet.written(&needed, &third)?;
        around.write(&third_path, &bytes)?;
        report.written.push(third_path);
    }
    if !agreed.is_empty() {
        let path = request.folder.join(DECISIONS).join("moderated.csv");
        around.write(&path, &decisions(&essays, &markers, &agreed)?)?;
        report.decisions = Some(path);
    }
    if !twice.is_empty() {
        report.moderation = Some(figures(&markers, &twice));
    }
    open.register.close()?;
    Ok(report)
}

/// The answered essays of a marked sitting.
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
            (!grader::printed_letters::is_blank(&award.answer)).then(|| Essay {
                candidate: award.candidate.clone(),
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
            .map(|criterion: &Criterion| (criterion.name.clone(), criterion.marks))
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
    let there: Vec<String> = around
        .files_in(folder)?
        .iter()
        .filter_map(|name| {
            name.strip_prefix("for-")?
                .strip_suffix(".csv")
                .map(str::to_owned)
        })
        .collect();
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

/// A marker's table: written where there is none, taken in where there is one.
fn sheet_of(
    around: &dyn Surroundings,
    path: &Path,
    sheet: &Sheet<'_>,
    own: &[&SharedScript],
    report: &mut ModerateReport,
) -> Result<GivenMarks, Failure> {
    if around.has_file(path) {
        return take(around, path, sheet, own, report);
    }
    around.write(path, &sheet.written(own, &GivenMarks::default())?)?;
    report.written.push(path.to_owned());
    Ok(GivenMarks::default())
}

fn take(
    around: &dyn Surroundings,
    path: &Path,
    sheet: &Sheet<'_>,
    own: &[&SharedScript],
    report: &mut ModerateReport,
) -> Result<GivenMarks, Failure> {
    let Some(source) = read_text(around, path, &mut report.faults)? else {
        return Ok(GivenMarks::default());
    };
    let given = sheet.taken(&source, own, &mut report.faults);
    report.sources.insert(source.name, source.text);
    Ok(given)
}

/// Everything that has come in.
struct Together<'t> {
    essays: &'t [Essay],
    shared: &'t [SharedScript],
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

impl<'t> Together<'t> {
    /// What is agreed, what needs a third marker, and what two markers gave.
    fn bring(&self) -> (Vec<Agreed<'t>>, Vec<&'t SharedScript>, Vec<MarkedTwice>) {
        let (mut agreed, mut needed, mut twice) = (Vec::new(), Vec::new(), Vec::new());
        for script in self.shared {
            let Some(essay) = self.essays.get(script.essay) else {
                continue;
            };
            let of_marker = |place: usize| self.given.get(place)?.total(&script.code);
            let [first, second] = script.markers.map(of_marker);
            if let (Some(first), Some(second)) = (first, second) {
                twice.push(MarkedTwice {
                    code: script.code.clone(),
                    markers: script.markers,
                    marks: [first, second],
                    of: essay.of,
                });
            }
            let allowed = self.gap.unwrap_or_else(|| usual_gap(essay.of));
            let third = self.third.total(&script.code);
            match combine(first, second, third, allowed) {
                Combined::Unfinished => {}
                Combined::ThirdNeeded { .. } => needed.push(script),
                Combined::Agreed { marks, of } => agreed.push(Agreed {
                    script,
                    marks,
                    of,
                    by_third: combine(first, second, None, allowed)
                        != Combined::Agreed { marks, of },
                }),
            }
        }
        (agreed, needed, twice)
    }
}

/// The table of decisions that `mark` takes.
fn decisions(
    essays: &[Essay],
    markers: &[String],
    agreed: &[Agreed<'_>],
) -> Result<Vec<u8>, Failure> {
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
                essay.candidate.to_string(),
            ],
        );
    }
    marker_table::table(
        &["of", "written", "decision", "why", "by", "script"],
        rows.into_values(),
    )
}
