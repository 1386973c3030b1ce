//! Reads what learners noted in a class: tables in the two shapes of tasting answers.
//!
//! One row for each note: `candidate,part,question,answer`, where the question is the number of
//! the glass and what was noted ("2 nose"), and `part` may be left out. Or one row for each learner:
//! `candidate,g1.nose,g1.quality,…`. A column `remark` is read over in both.

use std::collections::BTreeMap;

use base::table::{Cell, Row, Table};
use base::{CandidateNumber, Fault, Place, SourceText};

use super::roster_table::NamedRoster;
use crate::class_plan::{GlassNotes, LearnerNotes, Noted, Written};
use crate::roster::Roster;

/// The notes of a class: what could be taken in, and what could not.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadNotes {
    /// The learners with what was taken in.
    pub learners: Vec<LearnerNotes>,
    /// What was left out, each with its place.
    pub faults: Vec<Fault>,
}

/// Reads all tables of notes of a class with so many glasses. A faulty note is left out and the rest
/// is taken in. With a roster nobody else is taken
/// in, and the learners stand in its order; else in the order in which they come.
#[must_use]
pub fn read_class_notes(
    sources: &[SourceText],
    glasses: usize,
    roster: Option<&NamedRoster>,
) -> ReadNotes {
    let mut intake = Intake {
        glasses,
        roster: roster.map(|named| &named.roster),
        learners: Vec::new(),
        seen: BTreeMap::new(),
        faults: Vec::new(),
    };
    if let Some(NamedRoster { roster, people }) = roster {
        for learner in &roster.candidates {
            intake.add(learner.number.clone(), people.name(&learner.number));
        }
    }
    for source in sources {
        match Table::read(source) {
            Ok(table) => intake.table(&table),
            Err(fault) => intake.faults.push(*fault),
        }
    }
    ReadNotes {
        learners: intake.learners,
        faults: intake.faults,
    }
}

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Meaning {
    Candidate,
    Question,
    Answer,
    Glass(usize, Noted),
    /// A part or a remark, or a column that had its fault.
    ReadOver,
}

struct Intake<'r> {
    glasses: usize,
    roster: Option<&'r Roster>,
    learners: Vec<LearnerNotes>,
    /// Where each note stands: learner, glass, what.
    seen: BTreeMap<(usize, usize, Noted), Place>,
    faults: Vec<Fault>,
}

impl Intake<'_> {
    fn add(&mut self, learner: CandidateNumber, name: &str) -> usize {
        self.learners.push(LearnerNotes {
            learner,
            name: name.to_owned(),
            glasses: vec![GlassNotes::default(); self.glasses],
        });
        self.learners.len() - 1
    }

    fn table(&mut self, table: &Table<'_>) {
        let meanings: Vec<Meaning> = table
            .header()
            .iter()
            .enumerate()
            .map(|(place, cell)| self.meaning(table, place, cell))
            .collect();
        let has = |wanted: Meaning| meanings.contains(&wanted);
        let wide = meanings.iter().any(|m| matches!(m, Meaning::Glass(..)));
        let long = has(Meaning::Question) && has(Meaning::Answer);
        let shape = if !has(Meaning::Candidate) {
            Some("the column \"candidate\" is missing")
        } else if wide && (has(Meaning::Question) || has(Meaning::Answer)) {
            Some("this table mixes one row for each note with one row for each learner")
        } else if !wide && !long {
            Some("this table has no column for notes")
        } else {
            None
        };
        if let Some(what) = shape {
            let bytes = table.header().first().map_or(0..0, |c| c.bytes.clone());
            self.faults.push(
                Fault::new("missing-column", table.place(&bytes), what)
                    .allowed("candidate, question, answer; or candidate, g1.nose, g1.quality, …"),
            );
            return;
        }
        for row in table.rows() {
            self.row(table, row, &meanings);
        }
    }

    fn meaning(&mut self, table: &Table<'_>, place: usize, cell: &Cell) -> Meaning {
        let name = cell.text.to_lowercase();
        let doubled = table
            .header()
            .iter()
            .take(place)
            .any(|other| other.text.eq_ignore_ascii_case(&cell.text));
        if doubled {
            self.faults.push(Fault::new(
                "doubled-column",
                table.place(&cell.bytes),
                format!("the column \"{}\" stands twice", cell.text),
            ));
            return Meaning::ReadOver;
        }
        match name.as_str() {
            "candidate" => return Meaning::Candidate,
            "question" => return Meaning::Question,
            "answer" => return Meaning::Answer,
            "part" | "remark" => return Meaning::ReadOver,
            _ => {}
        }
        let parted = name.strip_prefix('g').and_then(|rest| rest.split_once('.'));
        let found = parted.and_then(|(glass, noted)| {
            Some((glass.parse::<usize>().ok()?, Noted::of_name(noted)?))
        });
        match found {
            Some((glass, noted)) if (1..=self.glasses).contains(&glass) => {
                Meaning::Glass(glass - 1, noted)
            }
            Some((glass, _)) => {
                self.no_glass(table.place(&cell.bytes), &glass.to_string());
                Meaning::ReadOver
            }
            None => {
                self.faults.push(
                    Fault::new(
                        "unknown-column",
                        table.place(&cell.bytes),
                        format!(
                            "no column \"{}\" is known",
                            base::walk::shortened(&cell.text)
                        ),
                    )
                    .allowed(format!(
                        "candidate, question, answer, remark; or candidate and g1, g2, … with {}",
                        names()
                    ))
                    .near(
                        parted.map_or(name.as_str(), |(_, noted)| noted),
                        Noted::ALL.iter().map(|noted| noted.name()),
                    ),
                );
                Meaning::ReadOver
            }
        }
    }

    fn row(&mut self, table: &Table<'_>, row: &Row, meanings: &[Meaning]) {
        let cell = |wanted: Meaning| {
            let at = meanings.iter().position(|m| *m == wanted)?;
            row.cells().get(at).cloned()
        };
        if row.cells().len() > meanings.len() {
            self.faults.push(
                Fault::new(
                    "long-row",
                    table.place(row.bytes()),
                    format!(
                        "this row has {} cells under {} columns",
                        row.cells().len(),
                        meanings.len()
                    ),
                )
                .hint("put a note that holds the separator in double quotes"),
            );
            return;
        }
        let number = cell(Meaning::Candidate).unwrap_or_default();
        let Some(learner) = self.learner(table, row, &number) else {
            return;
        };
        if let (Some(question), Some(answer)) = (cell(Meaning::Question), cell(Meaning::Answer)) {
            if question.text.is_empty() && answer.text.is_empty() {
                return;
            }
            if let Some((glass, noted)) = self.question(table, &question) {
                self.put(table, learner, (glass, noted), &answer);
            }
            return;
        }
        for (meaning, cell) in meanings.iter().zip(row.cells()) {
            match *meaning {
                Meaning::Glass(glass, noted) => self.put(table, learner, (glass, noted), cell),
                Meaning::Candidate | Meaning::Question | Meaning::Answer | Meaning::ReadOver => {}
            }
        }
    }

    fn learner(&mut self, table: &Table<'_>, row: &Row, number: &Cell) -> Option<usize> {
        let bytes = if number.text.is_empty() {
            row.bytes()
        } else {
            &number.bytes
        };
        let Ok(parsed) = CandidateNumber::parse(&number.text) else {
            self.faults.push(
                Fault::new(
                    "bad-id",
                    table.place(bytes),
                    format!(
                        "\"{}\" is no candidate number",
                        base::walk::shortened(&number.text)
                    ),
                )
                .allowed(CandidateNumber::ALLOWED),
            );
            return None;
        };
        if let Some(at) = self.learners.iter().position(|l| l.learner == parsed) {
            return Some(at);
        }
        if let Some(roster) = self.roster {
            let known = roster.candidates.iter().map(|c| c.number.as_str());
            self.faults.push(
                Fault::new(
                    "unknown-candidate",
                    table.place(bytes),
                    format!("nobody with the number \"{parsed}\" is on the roster of this class"),
                )
                .near(parsed.as_str(), known),
            );
            return None;
        }
        Some(self.add(parsed, ""))
    }

    fn question(&mut self, table: &Table<'_>, cell: &Cell) -> Option<(usize, Noted)> {
        let (glass, noted) = cell
            .text
            .split_once(char::is_whitespace)
            .unwrap_or((&cell.text, ""));
        let place = table.place(&cell.bytes);
        let number = glass.parse::<usize>().ok();
        let Some(number) = number.filter(|n| (1..=self.glasses).contains(n)) else {
            self.no_glass(place, glass);
            return None;
        };
        let Some(noted) = Noted::of_name(noted.trim()) else {
            self.faults.push(
                Fault::new(
                    "unknown-question",
                    place,
                    format!(
                        "\"{}\" is nothing that a class sheet asks",
                        base::walk::shortened(noted.trim())
                    ),
                )
                .allowed(format!(
                    "the number of a glass, a space and one of: {}",
                    names()
                ))
                .near(noted.trim(), Noted::ALL.iter().map(|n| n.name())),
            );
            return None;
        };
        Some((number - 1, noted))
    }

    fn no_glass(&mut self, place: Place, written: &str) {
        self.faults.push(
            Fault::new(
                "unknown-glass",
                place,
                format!(
                    "\"{}\" is no glass of this class",
                    base::walk::shortened(written)
                ),
            )
            .allowed(format!("1 to {}, in the order of tasting", self.glasses)),
        );
    }

    fn put(
        &mut self,
        table: &Table<'_>,
        learner: usize,
        (glass, noted): (usize, Noted),
        cell: &Cell,
    ) {
        if cell.text.is_empty() {
            return;
        }
        let place = table.place(&cell.bytes);
        if let Some(first) = self.seen.get(&(learner, glass, noted)) {
            let line = first.line;
            self.faults.push(
                Fault::new(
                    "doubled-answer",
                    place,
                    format!(
                        "the {} of glass {} stands twice for this learner: first in line {line}",
                        noted.name(),
                        glass + 1
                    ),
                )
                .hint("look at the sheet and take one of the two out"),
            );
            return;
        }
        let rating = match noted.written() {
            Written::Words => None,
            Written::Scale(first, last) => match on_scale(&cell.text, first, last) {
                Some(number) => Some(number),
                None => {
                    let fault = Fault::new(
                        "not-on-the-scale",
                        place,
                        format!(
                            "\"{}\" is no rating of the {}",
                            base::walk::shortened(&cell.text),
                            noted.name()
                        ),
                    )
                    .allowed(format!("a number from {first} to {last}"));
                    self.faults.push(if noted == Noted::Finish {
                        fault.hint("finish is its length; its words stand under \"aftertaste\"")
                    } else {
                        fault
                    });
                    return;
                }
            },
        };
        self.seen.insert((learner, glass, noted), place);
        let notes = self
            .learners
            .get_mut(learner)
            .and_then(|l| l.glasses.get_mut(glass));
        if let Some(notes) = notes {
            match rating {
                Some(number) => drop(notes.ratings.insert(noted, number)),
                None => drop(notes.words.insert(noted, cell.text.clone())),
            }
        }
    }
}

/// A number with a point or a comma, between the ends of its scale.
fn on_scale(written: &str, first: u8, last: u8) -> Option<f64> {
    let number: f64 = written.trim().replace(',', ".").parse().ok()?;
    (f64::from(first)..=f64::from(last))
        .contains(&number)
        .then_some(number)
}

/// Everything that can be noted, for messages.
fn names() -> String {
    Noted::ALL.map(Noted::name).join(", ")
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::read::read_roster;

    fn read(texts: &[&str], roster: Option<&NamedRoster>) -> ReadNotes {
        let sources: Vec<SourceText> = texts
            .iter()
            .map(|text| SourceText::new("notes.csv", text))
            .collect();
        read_class_notes(&sources, 2, roster)
    }

    #[test]
    fn both_shapes_say_the_same() {
        let long = "candidate;part;question;answer\nL-1;tasting;1 nose;banana, oak\nL-1;tasting;2 quality;7,5\n";
        let wide = "candidate,g1.nose,g2.quality,remark\nL-1,\"banana, oak\",7.5,late\n";
        let (long, wide) = (read(&[long], None), read(&[wide], None));
        assert!(long.faults.is_empty() && wide.faults.is_empty());
        let notes = long.learners;
        assert_eq!(notes, wide.learners);
        assert_eq!(notes[0].glasses[0].words[&Noted::Nose], "banana, oak");
        assert_eq!(notes[0].glasses[1].ratings[&Noted::Quality], 7.5);
    }

    #[test]
    fn every_slip_is_told_with_its_line() {
        let roster = read_roster(&SourceText::new(
            "roster.csv",
            "candidate,name\nL-1,Ana\nL-2,Bo\n",
        ))
        .value
        .unwrap();
        let text = "candidate,question,answer\n\
                    L-3,1 nose,oak\n\
                    L-1,3 nose,oak\n\
                    L-1,1 smell,oak\n\
                    L-1,1 quality,eleven\n\
                    L-1,1 quality,11\n\
                    L-1,1 nose,oak\n\
                    L-1,1 nose,fig\n\
                    ?,1 nose,fig\n\
                    L-2,1 nose,fig,plum\n";
        let made = read(&[text], Some(&roster));
        let rules: Vec<_> = made
            .faults
            .iter()
            .map(|f| (f.rule, f.place.as_ref().unwrap().line))
            .collect();
        assert_eq!(
            rules,
            [
                ("unknown-candidate", 2),
                ("unknown-glass", 3),
                ("unknown-question", 4),
                ("not-on-the-scale", 5),
                ("not-on-the-scale", 6),
                ("doubled-answer", 8),
                ("bad-id", 9),
                ("long-row", 10),
            ]
        );
        let learners = made.learners;
        assert_eq!(learners.len(), 2, "who wrote nothing stands there too");
        assert_eq!(learners[0].glasses[0].words[&Noted::Nose], "oak");
        assert!(learners[1].glasses.iter().all(GlassNotes::is_empty));
    }

    #[test]
    fn a_note_in_two_tables_is_told() {
        let one = "candidate,g1.nose\nL-1,oak\n";
        let made = read(&[one, one], None);
        assert_eq!(made.faults.len(), 1);
        assert_eq!(made.faults[0].rule, "doubled-answer");
    }

    #[test]
    fn columns_that_cannot_be_are_told() {
        for (head, rule) in [
            ("g1.nose", "missing-column"),
            ("candidate,g9.nose", "unknown-glass"),
            ("candidate,g1.smell", "unknown-column"),
            ("candidate,question,answer,g1.nose", "missing-column"),
            ("candidate,g1.nose,g1.nose", "doubled-column"),
        ] {
            let made = read(&[&format!("{head}\n")], None);
            assert_eq!(made.faults[0].rule, rule, "{head}");
        }
    }
}
