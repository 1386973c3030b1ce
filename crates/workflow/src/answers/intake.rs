//! Finds for each answer what it is to, and lists what is to nothing.

use std::io::Read;

use base::{Fault, Place, SourceName};
use results::marker::{ItemPlace, Marker, NotAsked};

use super::header::{self, Meaning, Shape};
use super::rows::Rows;

/// What came in, and what of it stood in the way.
#[derive(Debug)]
pub struct Intake {
    /// For each candidate and item, the line from which its answer came.
    seen: Vec<Vec<u32>>,
    /// Items for which two rows give different answers: candidate, item, first and second line.
    pub doubled: Vec<(usize, ItemPlace, u32, u32)>,
    /// What the proctor noted on scripts.
    pub remarks: Vec<Remark>,
    /// Everything that was listed and not marked.
    pub faults: Vec<Fault>,
}

/// A proctor's note on a script.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// The candidate, by place in the sitting.
    pub candidate: usize,
    /// What was noted.
    pub words: String,
    /// Where it stands.
    pub place: Place,
}

impl Intake {
    /// Begins an intake for this sitting.
    #[must_use]
    pub fn new(marker: &Marker<'_>) -> Self {
        let seen = (0..marker.numbers().count())
            .map(|c| vec![0; marker.items(c)])
            .collect();
        Self {
            seen,
            doubled: Vec::new(),
            remarks: Vec::new(),
            faults: Vec::new(),
        }
    }
    /// Whether an answer to this item has come in.
    #[must_use]
    pub fn has(&self, candidate: usize, item: ItemPlace) -> bool {
        self.seen
            .get(candidate)
            .and_then(|items| items.get(item.0))
            .is_some_and(|line| *line > 0)
    }
    /// Whether anything has come in from this candidate.
    #[must_use]
    pub fn has_any(&self, candidate: usize) -> bool {
        self.seen
            .get(candidate)
            .is_some_and(|items| items.iter().any(|line| *line > 0))
    }
}

/// Where an answer came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Origin<'a> {
    /// The table and its line.
    pub place: &'a Place,
    /// The picture of the answer sheet.
    pub sheet: Option<&'a str>,
    /// Who typed it in.
    pub keyed_by: Option<&'a str>,
}

/// What is called for every answer that is to something: candidate, item, answer, origin.
type Each<'a> = &'a mut dyn FnMut(usize, ItemPlace, &str, &Origin<'_>);

/// Takes in one table.
pub fn take_in(
    marker: &Marker<'_>,
    source: &SourceName,
    input: Box<dyn Read>,
    intake: &mut Intake,
    each: Each<'_>,
) {
    let mut rows = match Rows::open(source, input) {
        Ok(rows) => rows,
        Err(fault) => {
            intake.faults.push(*fault);
            return;
        }
    };
    let (names, place) = match rows.next() {
        Some(Ok(first)) => first,
        Some(Err(fault)) => {
            intake.faults.push(fault);
            return;
        }
        None => return,
    };
    let Some((shape, columns)) = header::read(&names, &place, &mut intake.faults) else {
        return;
    };
    while let Some(row) = rows.next() {
        match row {
            Ok((cells, place)) => {
                let mut row = Row {
                    marker,
                    intake,
                    columns: &columns,
                    cells: &cells,
                    place,
                };
                match shape {
                    Shape::Long => row.long(each),
                    Shape::Wide => row.wide(each),
                }
            }
            Err(fault) => intake.faults.push(fault),
        }
    }
}

struct Row<'r, 'e> {
    marker: &'r Marker<'e>,
    intake: &'r mut Intake,
    columns: &'r [Meaning],
    cells: &'r [String],
    place: Place,
}

impl Row<'_, '_> {
    fn cell(&self, wanted: &Meaning) -> &str {
        let column = self.columns.iter().position(|m| m == wanted);
        column
            .and_then(|c| self.cells.get(c))
            .map_or("", String::as_str)
    }
    /// What stands in a cell; none where it is empty.
    fn kept(&self, wanted: &Meaning) -> Option<&str> {
        Some(self.cell(wanted)).filter(|cell| !cell.is_empty())
    }
    fn fault(&mut self, fault: Fault) {
        self.intake.faults.push(fault);
    }

    fn candidate(&mut self) -> Option<usize> {
        if self.cells.len() > self.columns.len() {
            let fault = Fault::new(
                "long-row",
                self.place.clone(),
                format!(
                    "this row has {} cells under {} columns",
                    self.cells.len(),
                    self.columns.len()
                ),
            )
            .hint("put an answer that holds the separator in double quotes");
            self.fault(fault);
            return None;
        }
        let number = self.cell(&Meaning::Candidate).to_owned();
        let found = self.marker.candidate(&number);
        if found.is_none() {
            let known = self.marker.numbers();
            let fault = Fault::new(
                "unknown-candidate",
                self.place.clone(),
                format!(
                    "nobody with the number \"{}\" sat this exam",
                    base::walk::shortened(&number)
                ),
            )
            .near(&number, known);
            self.fault(fault);
        }
        let remark = self.cell(&Meaning::Remark).to_owned();
        if let Some(candidate) = found
            && !remark.is_empty()
        {
            let place = self.place.clone();
            self.intake.remarks.push(Remark {
                candidate,
                words: remark,
                place,
            });
        }
        found
    }

    fn long(&mut self, each: Each<'_>) {
        let Some(candidate) = self.candidate() else {
            return;
        };
        let part = self.cell(&Meaning::Part).to_lowercase();
        let question = self.cell(&Meaning::Question).to_owned();
        let answer = self.cell(&Meaning::Answer).to_owned();
        if question.is_empty() && answer.is_empty() && !self.cell(&Meaning::Remark).is_empty() {
            // A row for the remark alone.
            return;
        }
        let item = match part.as_str() {
            "theory" => match question.parse::<usize>() {
                Ok(number) => self.marker.question(candidate, number),
                Err(_) => Err(NotAsked::Number),
            },
            "tasting" => match question.split_once(char::is_whitespace) {
                Some((code, asked)) => self.marker.by_code(candidate, code, asked.trim()),
                None => Err(NotAsked::Asked),
            },
            other => {
                let fault = Fault::new(
                    "unknown-word",
                    self.place.clone(),
                    format!("\"{}\" is no part of an exam", base::walk::shortened(other)),
                )
                .allowed("theory, tasting")
                .near(other, ["theory", "tasting"]);
                self.fault(fault);
                return;
            }
        };
        match item {
            Ok(item) => self.put(candidate, item, &answer, each),
            Err(why) => self.not_asked(candidate, &why, &format!("{part} {question}")),
        }
    }

    fn wide(&mut self, each: Each<'_>) {
        let Some(candidate) = self.candidate() else {
            return;
        };
        let columns = self.columns;
        for (column, cell) in columns.iter().zip(self.cells) {
            let item = match column {
                Meaning::Theory(number) => self.marker.question(candidate, *number),
                Meaning::Glass(glass, asked) => self.marker.by_glass(candidate, *glass, asked),
                Meaning::Code(glass) => {
                    let served = self.marker.codes(candidate).nth(glass - 1);
                    if !cell.is_empty() && served != Some(cell.as_str()) {
                        let fault = Fault::new("wrong-code", self.place.clone(), format!("glass {glass} of this candidate was {}, not \"{}\"", served.unwrap_or("not served"), base::walk::shortened(cell)))
                            .hint("glasses are numbered in the serving order of the candidate's answer sheet; if glasses were mixed up, use the long table, which names them by code");
                        self.fault(fault);
                    }
                    continue;
                }
                Meaning::Candidate
                | Meaning::Part
                | Meaning::Question
                | Meaning::Answer
                | Meaning::Remark
                | Meaning::Sheet
                | Meaning::KeyedBy
                | Meaning::Unknown => continue,
            };
            match item {
                Ok(item) => self.put(candidate, item, cell, each),
                // A form with fewer questions leaves the last columns empty.
                Err(_) if cell.is_empty() => {}
                Err(why) => {
                    let name = match column {
                        Meaning::Theory(number) => format!("theory {number}"),
                        Meaning::Glass(glass, asked) => format!("tasting g{glass} {asked}"),
                        Meaning::Code(_)
                        | Meaning::Candidate
                        | Meaning::Part
                        | Meaning::Question
                        | Meaning::Answer
                        | Meaning::Remark
                        | Meaning::Sheet
                        | Meaning::KeyedBy
                        | Meaning::Unknown => String::new(),
                    };
                    self.not_asked(candidate, &why, &name);
                }
            }
        }
    }

    fn put(&mut self, candidate: usize, item: ItemPlace, answer: &str, each: Each<'_>) {
        let line = self.place.line;
        let Some(seen) = self
            .intake
            .seen
            .get_mut(candidate)
            .and_then(|items| items.get_mut(item.0))
        else {
            return;
        };
        if *seen > 0 {
            let first = *seen;
            self.intake.doubled.push((candidate, item, first, line));
            let fault = Fault::new("doubled-answer", self.place.clone(), format!("\"{}\" of this candidate is answered twice: first in line {first}", self.marker.name(candidate, item)))
                .hint("look at the script and take one of the two rows out; until then a person must decide");
            self.fault(fault);
            return;
        }
        *seen = line.max(1);
        let origin = Origin {
            place: &self.place,
            sheet: self.kept(&Meaning::Sheet),
            keyed_by: self.kept(&Meaning::KeyedBy),
        };
        each(candidate, item, answer, &origin);
    }

    fn not_asked(&mut self, candidate: usize, why: &NotAsked, name: &str) {
        let name = base::walk::shortened(name.trim());
        let fault = match why {
            NotAsked::Number => Fault::new(
                "unknown-question",
                self.place.clone(),
                format!("\"{name}\" is no question of this candidate's form"),
            )
            .allowed(match self.marker.questions(candidate) {
                0 => "nothing of a theory paper: this candidate has none".to_owned(),
                questions => format!("theory with a number from 1 to {questions}"),
            }),
            NotAsked::Glass => {
                let codes: Vec<_> = self.marker.codes(candidate).collect();
                let written = name.split_whitespace().nth(1).unwrap_or("");
                Fault::new(
                    "unknown-glass",
                    self.place.clone(),
                    format!("\"{name}\": this candidate had no such glass"),
                )
                .allowed(format!(
                    "tasting with one of the codes {}",
                    codes.join(", ")
                ))
                .near(written, codes.iter().copied())
            }
            NotAsked::Asked => {
                let asked: Vec<_> = self.marker.asked(candidate).collect();
                Fault::new(
                    "unknown-question",
                    self.place.clone(),
                    format!("\"{name}\" was not asked of the glasses"),
                )
                .allowed(format!(
                    "a glass code, a space and one of: {}",
                    asked.join(", ")
                ))
            }
        };
        self.fault(fault);
    }
}
