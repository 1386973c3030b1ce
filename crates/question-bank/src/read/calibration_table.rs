//! Reads `calibration.csv`: what answers have shown about questions.

use std::collections::BTreeMap;

use base::table::{Cell, Row, Table};
use base::walk::shortened;
use base::{Fault, QuestionId, SourceText};

use super::is_date;
use crate::calibration::{Calibration, Curve, LARGEST_DIFFICULTY, LARGEST_DISCRIMINATION};

const COLUMNS: [&str; 8] = [
    "discrimination",
    "difficulty",
    "guessing",
    "share_right",
    "answers",
    "seconds",
    "last_used",
    "sittings",
];

/// Reads the table; `known` tells which questions there are, where that is known.
pub(crate) fn read_calibration(
    source: &SourceText,
    known: Option<&[QuestionId]>,
    faults: &mut Vec<Fault>,
) -> BTreeMap<QuestionId, Calibration> {
    let mut found = BTreeMap::new();
    let table = match Table::read(source) {
        Ok(table) => table,
        Err(fault) => {
            faults.push(*fault);
            return found;
        }
    };
    let Some([question]) = table.columns(["question"], &COLUMNS, faults) else {
        return found;
    };
    for row in table.rows() {
        let cell = row.cell(question);
        let Ok(id) = QuestionId::parse(&cell.text) else {
            faults.push(
                Fault::new(
                    "bad-id",
                    table.place(&cell.bytes),
                    format!("\"{}\" is no question id", shortened(&cell.text)),
                )
                .allowed(QuestionId::ALLOWED),
            );
            continue;
        };
        if known.is_some_and(|known| known.binary_search(&id).is_err()) {
            let near = known.into_iter().flatten().map(QuestionId::as_str);
            faults.push(
                Fault::new(
                    "unknown-question",
                    table.place(&cell.bytes),
                    format!("the bank has no question \"{id}\""),
                )
                .near(id.as_str(), near),
            );
            continue;
        }
        let mut reader = RowReader {
            table: &table,
            row,
            faults,
        };
        let calibration = reader.calibration(&cell);
        if let Some(calibration) = calibration
            && let Some(first) = found.insert(id.clone(), calibration)
        {
            faults.push(
                Fault::new(
                    "doubled-question",
                    table.place(&cell.bytes),
                    format!(
                        "\"{id}\" stands twice; it stands at {} already",
                        first.place
                    ),
                )
                .hint("keep the row with the newer figures"),
            );
        }
    }
    found
}

struct RowReader<'a> {
    table: &'a Table<'a>,
    row: &'a Row,
    faults: &'a mut Vec<Fault>,
}

impl RowReader<'_> {
    fn cell(&self, name: &str) -> Option<Cell> {
        let cell = self.row.cell(self.table.column(name)?);
        (!cell.text.is_empty()).then_some(cell)
    }

    fn fault(&mut self, cell: &Cell, rule: &'static str, what: String, allowed: String) {
        let place = self.table.place(&cell.bytes);
        self.faults
            .push(Fault::new(rule, place, what).allowed(allowed));
    }

    /// A number within bounds; `None` after a fault, `Some(None)` where nothing stands.
    fn number(
        &mut self,
        name: &'static str,
        fits: impl Fn(f64) -> bool,
        allowed: &str,
    ) -> Option<Option<f64>> {
        let Some(cell) = self.cell(name) else {
            return Some(None);
        };
        match cell.text.parse::<f64>() {
            Ok(number) if number.is_finite() && fits(number) => Some(Some(number)),
            Ok(_) | Err(_) => {
                let what = format!("{name} \"{}\" cannot be used", shortened(&cell.text));
                self.fault(&cell, "bad-parameter", what, allowed.to_owned());
                None
            }
        }
    }

    fn whole(&mut self, name: &'static str, most: u32) -> Option<Option<u32>> {
        let Some(cell) = self.cell(name) else {
            return Some(None);
        };
        match cell.text.parse::<u32>() {
            Ok(number) if (1..=most).contains(&number) => Some(Some(number)),
            Ok(_) | Err(_) => {
                let what = format!("{name} \"{}\" cannot be used", shortened(&cell.text));
                self.fault(
                    &cell,
                    "out-of-range",
                    what,
                    format!("a whole number from 1 to {most}"),
                );
                None
            }
        }
    }

    fn calibration(&mut self, question: &Cell) -> Option<Calibration> {
        let a = self.number(
            "discrimination",
            |a| a > 0.0 && a <= LARGEST_DISCRIMINATION,
            &format!(
                "above 0 and at most {LARGEST_DISCRIMINATION}: a question with 0 tells nobody apart"
            ),
        );
        let b = self.number(
            "difficulty",
            |b| b.abs() <= LARGEST_DIFFICULTY,
            &format!("from −{LARGEST_DIFFICULTY} to {LARGEST_DIFFICULTY}: beyond, answers say nothing about it"),
        );
        let c = self.number(
            "guessing",
            |c| (0.0..=0.6).contains(&c),
            "from 0 to 0.6: the share of right answers among those who know nothing",
        );
        let share = self.number("share_right", |p| (0.0..=1.0).contains(&p), "from 0 to 1");
        let answers = self.whole("answers", 10_000_000);
        let seconds = self.whole("seconds", 36_000);
        let sittings = self.whole("sittings", 100_000);
        let last_used = match self.cell("last_used") {
            None => Some(None),
            Some(cell) if is_date(&cell.text) => Some(Some(cell.text)),
            Some(cell) => {
                let what = format!("\"{}\" is no date", shortened(&cell.text));
                let allowed = "a day of the calendar as YYYY-MM-DD, such as 2026-11-25".to_owned();
                self.fault(&cell, "bad-date", what, allowed);
                None
            }
        };
        let (a, b, c, share, answers) = (a?, b?, c?, share?, answers?);
        let curve = match b {
            Some(difficulty) => Some(Curve {
                // A difficulty alone is that of the Rasch model.
                discrimination: a.unwrap_or(1.0),
                difficulty,
                guessing: c.unwrap_or(0.0),
            }),
            None if a.is_some() || c.is_some() => {
                let what = "a discrimination or a guessing share stands without a difficulty";
                let allowed = "difficulty, alone or with them".to_owned();
                self.fault(question, "bad-parameter", what.to_owned(), allowed);
                return None;
            }
            None => None,
        };
        if share.is_some() != answers.is_some() {
            let what = "share_right and answers go together: one of them is missing";
            let allowed = "both, or neither".to_owned();
            self.fault(question, "bad-parameter", what.to_owned(), allowed);
            return None;
        }
        Some(Calibration {
            place: self.table.place(self.row.bytes()),
            curve,
            share: share.zip(answers),
            seconds: seconds?,
            last_used: last_used?,
            sittings: sittings?,
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn read(text: &str) -> (BTreeMap<QuestionId, Calibration>, Vec<String>) {
        let mut faults = Vec::new();
        let known: Vec<QuestionId> = ["a", "b", "c"]
            .map(|id| QuestionId::parse(id).unwrap())
            .to_vec();
        let source = SourceText::new("calibration.csv", text);
        let found = read_calibration(&source, Some(&known), &mut faults);
        let rules = faults
            .iter()
            .map(|fault| {
                let place = fault.place.as_ref().unwrap();
                format!("{}:{} {}", place.line, place.column, fault.rule)
            })
            .collect();
        (found, rules)
    }

    #[test]
    fn figures_are_read() {
        let (found, faults) = read(
            "question,discrimination,difficulty,guessing,share_right,answers,seconds,last_used,sittings\n\
             a,1.2,-0.5,0.25,,,80,2026-06-01,3\nb,,,,0.8,25,,,\nc,,0.5,,,,,,\n",
        );
        assert!(faults.is_empty(), "{faults:?}");
        let of = |id: &str| found[&QuestionId::parse(id).unwrap()].clone();
        let curve = of("a").curve.unwrap();
        assert_eq!(
            (curve.discrimination, curve.difficulty, curve.guessing),
            (1.2, -0.5, 0.25)
        );
        assert_eq!(
            (of("a").seconds, of("b").share),
            (Some(80), Some((0.8, 25)))
        );
        assert_eq!((of("a").sittings, of("b").sittings), (Some(3), None));
        assert_eq!(of("c").curve.unwrap().discrimination, 1.0);
    }

    #[test]
    fn figures_that_cannot_be_are_all_told_with_their_cells() {
        let (_, faults) = read(
            "question,discrimination,difficulty,share_right,answers\n\
             a,0,1,,\nb,1,6.5,,\nc,1,,,\nd,,,,\na,,,0.5,\nb,,x,,\n",
        );
        assert_eq!(
            faults,
            [
                "2:3 bad-parameter",
                "3:5 bad-parameter",
                "4:1 bad-parameter",
                "5:1 unknown-question",
                "6:1 bad-parameter",
                "7:4 bad-parameter",
            ]
        );
        let (_, faults) = read("question,difficulty\na,1\na,2\n");
        assert_eq!(faults, ["3:1 doubled-question"]);
    }
}
