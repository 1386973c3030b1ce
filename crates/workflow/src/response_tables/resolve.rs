//! Turns cells into answers: missing codes, marks, or options beside a key.

use std::collections::{BTreeMap, BTreeSet};

use base::Fault;
use base::table::{Cell, Table};
use results::analysis::{Answer, AskedQuestion, CandidateAnswers, MarkedScript, Responses};

use super::key_table::Key;
use super::{MOST_CANDIDATES, RawRow, RawTables, ReadTables, TableOptions, too_many};

pub(super) fn resolve(
    raw: &RawTables,
    tables: &[Table<'_>],
    key: Option<&Key>,
    options: &TableOptions,
    faults: &mut Vec<Fault>,
) -> ReadTables {
    let mut read = ReadTables::default();
    let mut questions = match key {
        Some(key) => keyed(raw, key, options, faults),
        None => scored(raw),
    };
    let rows: Vec<(&RawRow, Vec<Answer>)> = raw
        .rows
        .iter()
        .filter_map(|row| Some((row, answers(row, &questions, tables, key, options, faults)?)))
        .collect();
    if key.is_none() {
        set_full_marks(&mut questions, &rows, options, &mut read.notes, faults);
    }
    let grouped = by_candidate(&rows, faults);
    let mut stood_for = 0_usize;
    for (row, _) in grouped.iter().filter_map(|rows| rows.first().copied()) {
        stood_for += row.times;
        if stood_for > MOST_CANDIDATES {
            faults.push(too_many(row.place.clone()));
            return read;
        }
    }
    read.scripts = scripts(&rows);
    let markers = !read.scripts.is_empty();
    let candidates = grouped
        .into_iter()
        .flat_map(|rows| {
            let first = rows.first().copied();
            let times = first.map_or(0, |(row, _)| row.times);
            let made = first.map(|(row, _)| CandidateAnswers {
                candidate: row.candidate.clone(),
                sitting: row.sitting.clone(),
                form: row.form.clone(),
                group: row.group.clone(),
                answers: joined(&rows, markers),
            });
            std::iter::repeat_n(made, times).flatten().enumerate().map(
                move |(copy, mut candidate)| {
                    if times > 1 {
                        candidate.candidate = format!("{}.{}", candidate.candidate, copy + 1);
                    }
                    candidate
                },
            )
        })
        .collect();
    read.responses = Responses {
        what: String::new(),
        questions,
        candidates,
    };
    if markers {
        read.notes.push(
            "Where several markers marked a question, the analysis takes the mean of their marks."
                .to_owned(),
        );
    }
    read
}

fn question(name: &str) -> AskedQuestion {
    AskedQuestion {
        name: name.to_owned(),
        stem: String::new(),
        key: None,
        options: Vec::new(),
        full: 1.0,
        counts: true,
    }
}

fn scored(raw: &RawTables) -> Vec<AskedQuestion> {
    raw.questions.iter().map(|name| question(name)).collect()
}

/// Questions with the options that were chosen, in alphabetical order, and their keys.
fn keyed(
    raw: &RawTables,
    key: &Key,
    options: &TableOptions,
    faults: &mut Vec<Fault>,
) -> Vec<AskedQuestion> {
    let mut chosen: Vec<BTreeSet<String>> = vec![BTreeSet::new(); raw.questions.len()];
    for row in &raw.rows {
        for (place, cell) in &row.cells {
            if missing(&cell.text, options).is_none()
                && let Some(set) = chosen.get_mut(*place)
            {
                set.insert(cell.text.to_uppercase());
            }
        }
    }
    for (name, (_, place)) in key {
        if !raw.questions.contains(name) {
            faults.push(
                Fault::new(
                    "unknown-question",
                    place.clone(),
                    format!("the key names question {name}, which no table has"),
                )
                .near(name, raw.questions.iter().map(String::as_str)),
            );
        }
    }
    raw.questions
        .iter()
        .zip(chosen)
        .map(|(name, mut chosen)| {
            let mut made = question(name);
            match key.get(name) {
                Some((right, _)) => {
                    let right = right.to_uppercase();
                    chosen.insert(right.clone());
                    made.options = chosen.into_iter().collect();
                    made.key = made.options.iter().position(|option| *option == right);
                }
                None => faults.push(
                    Fault::new(
                        "missing-key",
                        None,
                        format!("question {name} has no right answer in the key"),
                    )
                    .hint("add it to the key, or leave the column out with --leave-out"),
                ),
            }
            made
        })
        .collect()
}

/// What a cell stands for, if for no answer.
fn missing(text: &str, options: &TableOptions) -> Option<Answer> {
    let listed = |list: &[String]| list.iter().any(|code| code == text);
    if listed(&options.not_asked) {
        Some(Answer::NotAsked)
    } else if listed(&options.not_reached) {
        Some(Answer::NotReached)
    } else if text.is_empty() || listed(&options.omitted) {
        Some(Answer::Omitted)
    } else {
        None
    }
}

/// The answers of one row; none where a cell is at fault.
fn answers(
    row: &RawRow,
    questions: &[AskedQuestion],
    tables: &[Table<'_>],
    key: Option<&Key>,
    options: &TableOptions,
    faults: &mut Vec<Fault>,
) -> Option<Vec<Answer>> {
    let mut made = vec![Answer::NotAsked; questions.len()];
    let mut sound = true;
    for (place, cell) in &row.cells {
        let Some(slot) = made.get_mut(*place) else {
            continue;
        };
        *slot = if let Some(answer) = missing(&cell.text, options) {
            answer
        } else if key.is_some() {
            let asked = questions.get(*place)?;
            let word = cell.text.to_uppercase();
            let option = asked.options.iter().position(|option| *option == word);
            Answer::Given {
                marks: if option.is_some() && option == asked.key {
                    1.0
                } else {
                    0.0
                },
                option,
            }
        } else {
            match mark(cell) {
                Some(marks) => Answer::Given {
                    marks,
                    option: None,
                },
                None => {
                    sound = false;
                    faults.push(no_mark(row, cell, tables));
                    continue;
                }
            }
        };
    }
    sound.then_some(made)
}

/// A mark; a comma may stand for the point.
fn mark(cell: &Cell) -> Option<f64> {
    let number = cell.text.replace(',', ".").parse::<f64>().ok()?;
    (-1e6..=1e6).contains(&number).then_some(number)
}

fn no_mark(row: &RawRow, cell: &Cell, tables: &[Table<'_>]) -> Fault {
    let place = tables
        .get(row.table)
        .map_or_else(|| row.place.clone(), |table| table.place(&cell.bytes));
    Fault::new(
        "no-mark",
        place,
        format!("\"{}\" is no mark", base::walk::shortened(&cell.text)),
    )
    .allowed("numbers; or answers, with the right ones in --key TABLE")
    .hint("say with --omitted, --not-reached or --not-asked what it stands for, or with --leave-out that the column is no question")
}

/// The highest mark seen, where it was not told; a question nobody earned a mark on has 1.
fn set_full_marks(
    questions: &mut [AskedQuestion],
    rows: &[(&RawRow, Vec<Answer>)],
    options: &TableOptions,
    notes: &mut Vec<String>,
    faults: &mut Vec<Fault>,
) {
    let mut seen = false;
    for (place, question) in questions.iter_mut().enumerate() {
        let highest = rows
            .iter()
            .filter_map(|(_, answers)| answers.get(place).copied().and_then(Answer::marks))
            .fold(0.0, f64::max);
        match options.full_marks {
            Some(full) => {
                question.full = full;
                if highest > full {
                    faults.push(Fault::new(
                        "mark-too-high",
                        None,
                        format!(
                            "question {}: a mark of {highest}, where full marks are {full}",
                            question.name
                        ),
                    ));
                }
            }
            None => {
                question.full = if highest > 0.0 { highest } else { 1.0 };
                seen |= question.full != 1.0;
            }
        }
    }
    if seen {
        notes.push(
            "Full marks were not told: the highest mark seen on each question is taken for them (--full-marks says otherwise)."
                .to_owned(),
        );
    }
}

/// Rows of each candidate of each sitting, in the order of their first rows. A question twice from
/// the same marker is a fault: a person must say which counts.
fn by_candidate<'r>(
    rows: &'r [(&'r RawRow, Vec<Answer>)],
    faults: &mut Vec<Fault>,
) -> Vec<Vec<&'r (&'r RawRow, Vec<Answer>)>> {
    let mut place_of: BTreeMap<(&str, &str, &str), usize> = BTreeMap::new();
    let mut groups: Vec<Vec<&(&RawRow, Vec<Answer>)>> = Vec::new();
    for pair in rows {
        let (row, answers) = pair;
        let who = (
            row.sitting.as_str(),
            row.form.as_str(),
            row.candidate.as_str(),
        );
        let place = *place_of.entry(who).or_insert_with(|| {
            groups.push(Vec::new());
            groups.len() - 1
        });
        let Some(group) = groups.get_mut(place) else {
            continue;
        };
        let doubled = group.iter().any(|(other, others)| {
            let both = others.iter().zip(answers);
            other.marker == row.marker
                && both
                    .into_iter()
                    .any(|(a, b)| *a != Answer::NotAsked && *b != Answer::NotAsked)
        });
        if group
            .first()
            .is_some_and(|(first, _)| first.group != row.group)
        {
            faults.push(
                Fault::new(
                    "doubled-group",
                    row.place.clone(),
                    format!("candidate {} has a second group", row.candidate),
                )
                .hint("each candidate belongs to one group, in each of the candidate's rows"),
            );
        }
        if doubled {
            faults.push(
                Fault::new(
                    "doubled-candidate",
                    row.place.clone(),
                    format!("candidate {} has the same question twice", row.candidate),
                )
                .hint("take one of the rows out; or name the column of markers with --marker, of sittings with --sitting"),
            );
        } else {
            group.push(pair);
        }
    }
    groups
}

/// One candidate's rows as one: what several markers gave is averaged.
fn joined(rows: &[&(&RawRow, Vec<Answer>)], markers: bool) -> Vec<Answer> {
    let questions = rows.first().map_or(0, |(_, answers)| answers.len());
    (0..questions)
        .map(|place| {
            let asked: Vec<Answer> = rows
                .iter()
                .filter_map(|(_, answers)| answers.get(place).copied())
                .filter(|answer| *answer != Answer::NotAsked)
                .collect();
            let marks: Vec<f64> = asked.iter().filter_map(|answer| answer.marks()).collect();
            match asked.as_slice() {
                [] => Answer::NotAsked,
                [one] => *one,
                [_, ..] if markers => Answer::Given {
                    marks: marks.iter().sum::<f64>() / marks.len() as f64,
                    option: None,
                },
                [first, ..] => *first,
            }
        })
        .collect()
}

/// Each marker's marks of each candidate; empty where no marker is named.
fn scripts(rows: &[(&RawRow, Vec<Answer>)]) -> Vec<MarkedScript> {
    let mut made: BTreeMap<(&str, &str, &str), Vec<Option<f64>>> = BTreeMap::new();
    for (row, answers) in rows {
        if row.marker.is_empty() {
            continue;
        }
        let own = made
            .entry((&row.sitting, &row.candidate, &row.marker))
            .or_insert_with(|| vec![None; answers.len()]);
        for (slot, answer) in own.iter_mut().zip(answers) {
            if let Answer::Given { marks, .. } = answer {
                *slot = Some(*marks);
            }
        }
    }
    made.into_iter()
        .map(|((sitting, candidate, marker), marks)| MarkedScript {
            candidate: format!("{sitting}/{candidate}"),
            marker: marker.to_owned(),
            marks,
        })
        .collect()
}
