//! Equates two forms: two tables of marks, or two forms of one sitting or of two.

use std::path::{Path, PathBuf};

use base::table::Table;
use base::{Fault, SourceText};
use grader::Item;
use results::analysis::{Answer, Responses};
use results::equating::{Equated, FormAnswers, FormMarks, Way, equate as equate_forms};
use results::scripts;
use serde::Serialize;
use statistics::equating::levine::AnchorPlace;

use crate::failure::Failure;
use crate::open_sitting::OpenSitting;
use crate::response_tables::{MOST_CANDIDATES, TableOptions, read_tables, stem, times, too_many};
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// What `equate` is asked.
#[derive(Debug, Clone, Default)]
pub struct EquateRequest {
    /// One or two folders of sittings, or one or two tables.
    pub inputs: Vec<PathBuf>,
    /// Of a sitting: the form that is converted, and the other.
    pub forms: Vec<String>,
    /// Of a table: the column with the marks; else all columns are questions.
    pub total: Option<String>,
    /// The column with the marks on the anchor.
    pub anchor: Option<String>,
    /// Columns of questions that both forms have.
    pub anchor_questions: Vec<String>,
    /// The column that says for how many candidates a row stands, in each table.
    pub counts: Vec<String>,
    /// The anchor's marks are not in the total.
    pub anchor_beside: bool,
    /// The highest marks: of the form that is converted, and of the other.
    pub highest: Vec<u32>,
    /// The way; the advisor's where none is named.
    pub way: Option<Way>,
}

/// Two forms equated.
#[derive(Debug, Clone, Serialize)]
pub struct EquateReport {
    /// The table and its reasons.
    pub equated: Equated,
    /// What was assumed.
    pub notes: Vec<String>,
}

/// Equates two forms.
///
/// # Errors
/// When an input cannot be read or has faults, or the numbers do not carry what was asked.
pub fn equate(around: &dyn Surroundings, request: &EquateRequest) -> Result<EquateReport, Failure> {
    let (first, second) = match request.inputs.as_slice() {
        [one] => (one, one),
        [one, other] => (one, other),
        _ => {
            return Err(Failure::Refused {
                what: "one or two inputs are wanted".to_owned(),
                hint: "valinch equate X.csv Y.csv, or valinch equate FOLDER --form A --form B"
                    .to_owned(),
            });
        }
    };
    let tables = around.has_file(first);
    if tables != around.has_file(second) {
        return Err(Failure::Refused {
            what: "a table and the folder of a sitting are not equated with one another".to_owned(),
            hint: "give two tables, or one or two folders".to_owned(),
        });
    }
    refuse_senseless(request, tables)?;
    let mut notes = Vec::new();
    let forms = if tables {
        let highest = |place: usize| request.highest.get(place).or(request.highest.first());
        let count = |place: usize| request.counts.get(place).or(request.counts.first());
        [
            of_table(around, first, request, count(0), highest(0), &mut notes)?,
            of_table(around, second, request, count(1), highest(1), &mut notes)?,
        ]
    } else {
        of_sittings(around, [first, second], request, &mut notes)?
    };
    let place = if request.anchor_beside {
        AnchorPlace::External
    } else {
        AnchorPlace::Internal
    };
    let [x, y] = forms;
    let equated = equate_forms(&x, &y, place, request.way).map_err(|refused| Failure::Refused {
        what: refused.what,
        hint: refused.instead,
    })?;
    Ok(EquateReport { equated, notes })
}

/// Refuses options that would be dropped in silence or would mean another calculation than they say.
fn refuse_senseless(request: &EquateRequest, tables: bool) -> Result<(), Failure> {
    let refused = |what: &str, hint: &str| {
        Err(Failure::Refused {
            what: what.to_owned(),
            hint: hint.to_owned(),
        })
    };
    let given: Vec<&str> = if tables {
        let forms = (!request.forms.is_empty()).then_some("--form");
        forms.into_iter().collect()
    } else {
        [
            ("--total", request.total.is_some()),
            ("--anchor", request.anchor.is_some()),
            ("--anchor-question", !request.anchor_questions.is_empty()),
            ("--anchor-beside", request.anchor_beside),
            ("--count", !request.counts.is_empty()),
            ("--highest", !request.highest.is_empty()),
        ]
        .into_iter()
        .filter(|(_, given)| *given)
        .map(|(name, _)| name)
        .collect()
    };
    if !given.is_empty() {
        let (what, hint) = if tables {
            (
                "tables",
                "--form names a form of a sitting; give one table for each form",
            )
        } else {
            (
                "sittings",
                "a sitting knows its marks, and the questions that both forms asked are the anchor",
            )
        };
        return refused(&format!("{what} do not take {}", given.join(", ")), hint);
    }
    if request.anchor_beside && request.anchor.is_none() {
        return refused(
            "--anchor-beside is of a column of marks on the anchor",
            "name the column with --anchor; questions named by --anchor-question are part of the total",
        );
    }
    let pairs = [&request.forms, &request.counts].map(Vec::len);
    if pairs.iter().any(|number| *number > 2) || request.highest.len() > 2 {
        return refused(
            "two forms are equated, and more than two values are given",
            "--form, --count and --highest stand once for each form, the form that is converted first",
        );
    }
    if !are_one(&request.inputs) {
        return Ok(());
    }
    if tables && are_one(&request.counts) {
        return refused(
            "one table would be equated with itself",
            "give two tables, or --count twice with the two columns that say how many had each mark",
        );
    }
    if !tables && request.forms.len() == 2 && are_one(&request.forms) {
        return refused(
            "a form would be equated with itself",
            "--form A --form B names two forms",
        );
    }
    Ok(())
}

/// Whether both forms are taken from the same: where nothing says which is the other, or two are alike.
fn are_one<T: PartialEq>(named: &[T]) -> bool {
    match named {
        [one, other] => one == other,
        _ => true,
    }
}

/// The highest mark that is taken; a table of equivalents of a thousand rows is no table.
const HIGHEST: f64 = 1000.0;

/// Marks as whole ones: half goes to the even neighbour, and whether any was not whole.
fn whole(marks: &[f64]) -> Option<(Vec<usize>, bool)> {
    let mut rounded = false;
    let mut made = Vec::with_capacity(marks.len());
    for mark in marks {
        if !(0.0..=HIGHEST).contains(mark) {
            return None;
        }
        let near = mark.round_ties_even();
        rounded |= (near - mark).abs() > 1e-9;
        made.push(near as usize);
    }
    Some((made, rounded))
}

fn form(
    name: String,
    totals: &[f64],
    anchors: Option<&[f64]>,
    highest: Option<f64>,
    highest_anchor: Option<f64>,
    notes: &mut Vec<String>,
) -> Result<FormMarks, Failure> {
    let outside = || Failure::Refused {
        what: format!("{name} has marks below 0 or above {HIGHEST:.0}"),
        hint: "equate marks and not per mille, with what was taken off put back".to_owned(),
    };
    let (totals, mut rounded) = whole(totals).ok_or_else(outside)?;
    let anchors = match anchors {
        Some(anchors) => {
            let (anchors, also) = whole(anchors).ok_or_else(outside)?;
            rounded |= also;
            Some(anchors)
        }
        None => None,
    };
    if rounded {
        notes.push(format!(
            "{name}: marks were rounded to whole ones, halves to the even neighbour."
        ));
    }
    let most = |marks: &[usize]| marks.iter().copied().max().unwrap_or(0).max(1);
    let seen = most(&totals);
    let highest = match highest {
        Some(highest) => (highest.ceil() as usize).max(seen),
        None => {
            notes.push(format!("{name}: the highest mark seen, {seen}, is taken for the highest possible (--highest says otherwise)."));
            seen
        }
    };
    let seen_anchor = anchors.as_deref().map_or(1, most);
    Ok(FormMarks {
        highest_anchor: highest_anchor
            .map_or(seen_anchor, |h| (h.ceil() as usize).max(seen_anchor)),
        name,
        totals,
        anchors,
        highest,
        answers: None,
    })
}

fn of_table(
    around: &dyn Surroundings,
    path: &Path,
    request: &EquateRequest,
    count: Option<&String>,
    highest: Option<&u32>,
    notes: &mut Vec<String>,
) -> Result<FormMarks, Failure> {
    let highest = highest.map(|h| f64::from(*h));
    let name = match count {
        Some(count) if request.inputs.len() == 1 => count.clone(),
        Some(_) | None => stem(path),
    };
    let Some(total) = &request.total else {
        let options = TableOptions {
            count: count.cloned(),
            ..TableOptions::default()
        };
        let read = read_tables(around, &[path.to_owned()], &options)?;
        return of_questions(
            name,
            &read.responses,
            &request.anchor_questions,
            highest,
            notes,
        );
    };
    let mut faults = Vec::new();
    let Some(text) = read_text(around, path, &mut faults)? else {
        return Err(Failure::Faults {
            faults,
            sources: Sources::new(),
        });
    };
    match totals(
        &text,
        total,
        request.anchor.as_deref(),
        count.map(String::as_str),
    ) {
        Ok((totals, anchors)) => form(name, &totals, anchors.as_deref(), highest, None, notes),
        Err(faults) => Err(Failure::Faults {
            faults,
            sources: Sources::from([(text.name.clone(), text.text)]),
        }),
    }
}

type Totals = (Vec<f64>, Option<Vec<f64>>);

/// The columns of totals, of anchor marks and of counts.
fn totals(
    text: &SourceText,
    total: &str,
    anchor: Option<&str>,
    count: Option<&str>,
) -> Result<Totals, Vec<Fault>> {
    let table = Table::read(text).map_err(|fault| vec![*fault])?;
    let mut faults = Vec::new();
    let mut column = |name: &str| {
        let found = table.column(name);
        if found.is_none() {
            let names: Vec<&str> = table.header().iter().map(|c| c.text.as_str()).collect();
            let bytes = table.header().first().map_or(0..0, |c| c.bytes.clone());
            faults.push(
                Fault::new(
                    "missing-column",
                    table.place(&bytes),
                    format!("there is no column \"{name}\""),
                )
                .allowed(names.join(", "))
                .near(name, names),
            );
        }
        found
    };
    let (total, anchor, count) = (
        column(total),
        anchor.map(&mut column),
        count.map(&mut column),
    );
    let (Some(total), true) = (total, faults.is_empty()) else {
        return Err(faults);
    };
    let (mut totals, mut anchors) = (Vec::new(), Vec::new());
    for row in table.rows() {
        let mut number = |column| {
            let cell = row.cell(column);
            let value = cell.text.replace(',', ".").parse::<f64>().ok();
            let value = value.filter(|value| (0.0..=1e6).contains(value));
            if value.is_none() {
                faults.push(
                    Fault::new(
                        "no-mark",
                        table.place(&cell.bytes),
                        format!("\"{}\" is no mark", base::walk::shortened(&cell.text)),
                    )
                    .allowed("numbers from 0 on"),
                );
            }
            value.unwrap_or(0.0)
        };
        let mark = number(total);
        let own = anchor.flatten().map(&mut number);
        let times = match count
            .flatten()
            .map(|column| times(&table, &row.cell(column)))
        {
            Some(Ok(times)) => times,
            Some(Err(fault)) => {
                faults.push(*fault);
                0
            }
            None => 1,
        };
        if totals.len() + times > MOST_CANDIDATES {
            faults.push(too_many(table.place(row.bytes())));
            break;
        }
        totals.extend(std::iter::repeat_n(mark, times));
        anchors.extend(
            own.into_iter()
                .flat_map(|own| std::iter::repeat_n(own, times)),
        );
    }
    if faults.is_empty() {
        Ok((totals, anchor.is_some().then_some(anchors)))
    } else {
        Err(faults)
    }
}

/// Totals over all questions, and over those of the anchor.
fn of_questions(
    name: String,
    responses: &Responses,
    anchor: &[String],
    highest: Option<f64>,
    notes: &mut Vec<String>,
) -> Result<FormMarks, Failure> {
    for wanted in anchor {
        if !responses.questions.iter().any(|q| q.name == *wanted) {
            return Err(Failure::Refused {
                what: format!("{name} has no question {wanted}"),
                hint: "an anchor question stands in both tables under the same name".to_owned(),
            });
        }
    }
    let counted = |only_anchor: bool| {
        responses
            .questions
            .iter()
            .enumerate()
            .filter(move |(_, q)| q.counts && (!only_anchor || anchor.contains(&q.name)))
    };
    let sums = |only_anchor: bool| -> Vec<f64> {
        responses
            .candidates
            .iter()
            .map(|candidate| {
                counted(only_anchor)
                    .filter_map(|(place, _)| candidate.answers.get(place).copied())
                    .filter_map(Answer::marks)
                    .sum()
            })
            .collect()
    };
    let full = |only_anchor: bool| -> f64 { counted(only_anchor).map(|(_, q)| q.full).sum() };
    let anchors = (!anchor.is_empty()).then(|| sums(true));
    let made = form(
        name,
        &sums(false),
        anchors.as_deref(),
        Some(highest.unwrap_or_else(|| full(false))),
        Some(full(true)),
        notes,
    )?;
    Ok(FormMarks {
        answers: answers(responses, anchor),
        ..made
    })
}

/// Each question's marks, where all of them are of one mark and right or wrong, and all were asked.
fn answers(responses: &Responses, anchor: &[String]) -> Option<FormAnswers> {
    let counted: Vec<usize> = (0..responses.questions.len())
        .filter(|place| responses.questions.get(*place).is_some_and(|q| q.counts))
        .collect();
    let one_mark = |place: &usize| {
        responses
            .questions
            .get(*place)
            .is_some_and(|q| q.full == 1.0)
    };
    if !counted.iter().all(one_mark) {
        return None;
    }
    let rows: Option<Vec<Vec<f64>>> = responses
        .candidates
        .iter()
        .map(|candidate| {
            counted
                .iter()
                .map(|place| {
                    let marks = candidate.answers.get(*place)?.marks()?;
                    (marks == 0.0 || marks == 1.0).then_some(marks)
                })
                .collect()
        })
        .collect();
    Some(FormAnswers {
        questions: counted
            .iter()
            .filter_map(|place| Some(responses.questions.get(*place)?.name.clone()))
            .collect(),
        rows: rows?,
        shared: anchor.to_vec(),
    })
}

/// Two forms of one sitting or of two: what both asked is the anchor.
fn of_sittings(
    around: &dyn Surroundings,
    folders: [&PathBuf; 2],
    request: &EquateRequest,
    notes: &mut Vec<String>,
) -> Result<[FormMarks; 2], Failure> {
    let [one, other] = folders;
    let two_folders = one != other;
    let mut read = Vec::new();
    for (place, folder) in folders.into_iter().enumerate() {
        let open = OpenSitting::open(around, folder)?;
        let awards = open.register.marks()?;
        let drawn = &open.drawn;
        let names: Vec<String> = drawn
            .sitting
            .forms
            .iter()
            .map(|f| f.name.to_string())
            .collect();
        let wanted = match (request.forms.get(place), names.as_slice()) {
            (Some(name), _) if names.contains(name) => name.clone(),
            // The only form of one sitting would be equated with itself.
            (None, [only]) if two_folders => only.clone(),
            (Some(_) | None, _) => {
                return Err(Failure::Refused {
                    what: format!("which form of {} is meant?", folder.display()),
                    hint: format!("--form once for each side; there are: {}", names.join(", ")),
                });
            }
        };
        let mut responses = Responses {
            what: format!("{} form {wanted}", stem(folder)),
            ..Responses::default()
        };
        for script in scripts(&drawn.exam, &drawn.sitting, &awards) {
            let own = script.place.form.as_ref().map(ToString::to_string);
            let answered = script
                .awards
                .iter()
                .any(|award| !award.answer.trim().is_empty());
            if own.as_ref() != Some(&wanted) || !answered {
                continue;
            }
            let theory: Vec<_> = script
                .awards
                .iter()
                .filter_map(|award| match &award.item {
                    Item::Theory { question, .. } if award.counts => {
                        Some((question.to_string(), award))
                    }
                    Item::Theory { .. } | Item::Tasting { .. } => None,
                })
                .collect();
            if responses.questions.is_empty() {
                responses.questions = theory
                    .iter()
                    .map(|(name, award)| results::analysis::AskedQuestion {
                        name: name.clone(),
                        stem: String::new(),
                        key: None,
                        options: Vec::new(),
                        full: award.of.as_f64(),
                        counts: true,
                    })
                    .collect();
            }
            responses
                .candidates
                .push(results::analysis::CandidateAnswers {
                    candidate: script.place.candidate.to_string(),
                    sitting: String::new(),
                    form: wanted.clone(),
                    group: String::new(),
                    answers: theory
                        .iter()
                        .map(|(_, award)| Answer::Given {
                            marks: award.marks().as_f64(),
                            option: None,
                        })
                        .collect(),
                });
        }
        open.register.close()?;
        read.push(responses);
    }
    let [one, other] = read.as_slice() else {
        return Err(Failure::Defect(
            "two forms were read and are not there".to_owned(),
        ));
    };
    let common: Vec<String> = one
        .questions
        .iter()
        .filter(|q| other.questions.iter().any(|o| o.name == q.name))
        .map(|q| q.name.clone())
        .collect();
    notes.push(match common.len() {
        0 => "The forms have no question in common.".to_owned(),
        number => format!("Questions in common, taken as the anchor: {number}."),
    });
    // Below three questions an anchor is a question or two, and no small copy of a form.
    let anchor = if common.len() >= 3 {
        common
    } else {
        Vec::new()
    };
    let make = |responses: &Responses, notes: &mut Vec<String>| {
        of_questions(responses.what.clone(), responses, &anchor, None, notes)
    };
    Ok([make(one, notes)?, make(other, notes)?])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests;
