//! The class list: one line a candidate, and its text for a spreadsheet.
//!
//! # The text
//! Comma-separated with a head line, one line a candidate in the order of the roster, lines ended
//! by CR LF (RFC 4180), UTF-8 with a byte order mark, by which spreadsheet programs know the
//! letters. Columns ([`HEADER`]):
//!
//! | column | holds |
//! |---|---|
//! | candidate, name | as in the roster |
//! | form, seat | as drawn; empty without a theory part or for a posted kit |
//! | theory, theory_of, theory_percent | marks, full marks, per cent rounded down to one decimal |
//! | tasting, tasting_of, tasting_percent | likewise, extra credit left out |
//! | extra | extra credit that was added |
//! | total, total_of, total_percent | theory, tasting and extra; weighted where the plan weighs |
//! | waiting | answers that wait for a person |
//! | outcome | pass, fail, waiting, absent |
//! | reason | the sentence of the decision |
//!
//! A cell that a spreadsheet would run as a formula (its first character that is no space is one of
//! `= + - @`, a tab or a line end) gets a leading apostrophe, numbers excepted; cells with
//! separators of any country (comma, semicolon, tab), quotes or line ends are quoted.

use base::{CandidateNumber, FormName, Marks, SeatName};
use serde::Serialize;

use crate::decide::{Decision, Outcome, Part, PartDecision};

/// The heads of the columns.
pub const HEADER: [&str; 17] = [
    "candidate",
    "name",
    "form",
    "seat",
    "theory",
    "theory_of",
    "theory_percent",
    "tasting",
    "tasting_of",
    "tasting_percent",
    "extra",
    "total",
    "total_of",
    "total_percent",
    "waiting",
    "outcome",
    "reason",
];

/// One candidate on the class list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ClassLine {
    /// The number under which the candidate sat.
    pub candidate: CandidateNumber,
    /// The name from the roster.
    pub name: String,
    /// The form of the theory paper.
    pub form: Option<FormName>,
    /// The seat.
    pub seat: Option<SeatName>,
    /// What was decided and why.
    pub decision: Decision,
}

/// Everybody, in the order of the roster.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct ClassList {
    /// One line a candidate.
    pub lines: Vec<ClassLine>,
}

impl ClassList {
    /// How many candidates had this outcome.
    #[must_use]
    pub fn count(&self, outcome: Outcome) -> usize {
        self.lines
            .iter()
            .filter(|line| line.decision.outcome == outcome)
            .count()
    }

    /// "24 candidates: 17 pass, 6 fail, 1 waiting."
    #[must_use]
    pub fn sentence(&self) -> String {
        let counted = Outcome::ALL
            .into_iter()
            .map(|outcome| (self.count(outcome), outcome))
            .filter(|(count, _)| *count > 0)
            .map(|(count, outcome)| format!("{count} {outcome}"))
            .collect::<Vec<_>>();
        let n = self.lines.len();
        let noun = if n == 1 { "candidate" } else { "candidates" };
        if counted.is_empty() {
            return "No candidates.".to_owned();
        }
        format!("{n} {noun}: {}.", counted.join(", "))
    }

    /// The list as text for a spreadsheet; see the head of this file.
    #[must_use]
    pub fn csv(&self) -> String {
        let mut text = String::from('\u{feff}');
        write_row(&mut text, HEADER.iter().map(|head| (*head).to_owned()));
        for line in &self.lines {
            write_row(&mut text, line.cells());
        }
        text
    }
}

impl ClassLine {
    fn cells(&self) -> impl Iterator<Item = String> {
        let decision = &self.decision;
        let part = |part: Part| decision.parts.iter().find(|p| p.part == part);
        let [theory, tasting] = Part::ALL.map(|p| part_cells(part(p)));
        let waiting: u32 = decision
            .parts
            .iter()
            .map(|part| part.marks.waiting_answers)
            .sum();
        let text = |part: Option<&str>| part.unwrap_or("").to_owned();
        let extra = decision.extra.map_or(Marks::ZERO, |extra| extra.added);
        let head = [
            self.candidate.to_string(),
            self.name.clone(),
            text(self.form.as_ref().map(FormName::as_str)),
            text(self.seat.as_ref().map(SeatName::as_str)),
        ];
        let tail = [
            extra.to_string(),
            decision.total.marks.to_string(),
            decision.total.of.to_string(),
            decimal(decision.total.per_mille),
            waiting.to_string(),
            decision.outcome.to_string(),
            decision.sentence.clone(),
        ];
        head.into_iter().chain(theory).chain(tasting).chain(tail)
    }
}

fn part_cells(part: Option<&PartDecision>) -> [String; 3] {
    part.map_or_else(Default::default, |part| {
        [
            part.marks.marks.to_string(),
            part.marks.of.to_string(),
            decimal(part.per_mille),
        ]
    })
}

fn decimal(per_mille: u32) -> String {
    format!("{}.{}", per_mille / 10, per_mille % 10)
}

fn write_row(text: &mut String, cells: impl Iterator<Item = String>) {
    for (place, cell) in cells.enumerate() {
        if place > 0 {
            text.push(',');
        }
        text.push_str(&safe_cell(&cell));
    }
    text.push_str("\r\n");
}

/// One cell that a spreadsheet shows and never runs.
#[must_use]
pub fn safe_cell(cell: &str) -> String {
    let runs = match cell.trim_start_matches(' ').chars().next() {
        // Full-width forms are read as the plain signs by spreadsheet programs of East Asia.
        Some('=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '＝' | '＋' | '－' | '＠') => {
            !is_number(cell)
        }
        Some(_) | None => false,
    };
    let marked = if runs {
        format!("'{cell}")
    } else {
        cell.to_owned()
    };
    let plain = !marked.contains([',', ';', '\t', '"', '\r', '\n'])
        && !marked.starts_with(char::is_whitespace)
        && !marked.ends_with(char::is_whitespace);
    if plain {
        marked
    } else {
        format!("\"{}\"", marked.replace('"', "\"\""))
    }
}

/// Digits with at most one sign in front and one full stop or comma between.
fn is_number(cell: &str) -> bool {
    let digits = cell.strip_prefix(['+', '-']).unwrap_or(cell);
    let (whole, part) = digits.split_once(['.', ',']).unwrap_or((digits, "0"));
    let all_digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    all_digits(whole) && all_digits(part)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::decide::{CandidateMarks, PartMarks, decide};
    use exam_plan::plan::{Join, PassRule};

    fn line(number: &str, name: &str) -> ClassLine {
        let rule = PassRule {
            join: Join::Conjunctive {
                theory: 600,
                tasting: 500,
            },
            extra_at_most: Marks::ONE,
            extra_may_turn_fail_into_pass: false,
        };
        let marks = CandidateMarks {
            theory: Some(PartMarks {
                marks: Marks::from_thousandths(27_500),
                of: Marks::from_thousandths(40_000),
                ..PartMarks::default()
            }),
            answered_anything: true,
            ..CandidateMarks::default()
        };
        ClassLine {
            candidate: CandidateNumber::parse(number).unwrap(),
            name: name.to_owned(),
            form: FormName::nth(0),
            seat: None,
            decision: decide(&rule, &marks),
        }
    }

    #[test]
    fn a_list_opens_with_its_head_and_shows_every_line() {
        let list = ClassList {
            lines: vec![
                line("C-001", "Ada Example"),
                line("C-002", "=cmd|' /C calc'!A0"),
            ],
        };
        let text = list.csv();
        let lines: Vec<_> = text.trim_start_matches('\u{feff}').split("\r\n").collect();
        assert_eq!(lines[0], HEADER.join(","));
        assert!(
            lines[1].starts_with("C-001,Ada Example,A,,27.5,40,68.7,,,,0,27.5,40,68.7,0,pass,")
        );
        assert!(lines[2].starts_with("C-002,'=cmd|' /C calc'!A0,A,"));
        assert_eq!((lines.len(), lines[3]), (4, ""));
        assert_eq!(list.sentence(), "2 candidates: 2 pass.");
    }

    /// Reads one line of the text form back; written apart from the writer, after RFC 4180.
    fn cells_of(line: &str) -> Vec<String> {
        let (mut cells, mut cell, mut quoted) = (Vec::new(), String::new(), false);
        let mut rest = line.chars().peekable();
        while let Some(c) = rest.next() {
            match (c, quoted) {
                ('"', true) if rest.peek() == Some(&'"') => {
                    rest.next();
                    cell.push('"');
                }
                ('"', _) => quoted = !quoted,
                (',', false) => cells.push(std::mem::take(&mut cell)),
                (other, _) => cell.push(other),
            }
        }
        cells.push(cell);
        cells
    }

    proptest! {
        #[test]
        fn no_cell_can_run_and_none_is_changed_otherwise(cell in "[ -~\t\r\n=+@é＝]{0,12}") {
            let mut text = String::new();
            write_row(&mut text, [cell.clone(), "x".to_owned()].into_iter());
            let read = cells_of(text.strip_suffix("\r\n").unwrap());
            prop_assert_eq!(read.len(), 2);
            prop_assert_eq!(read[0].strip_prefix('\'').filter(|_| !cell.starts_with('\'')).unwrap_or(&read[0]), cell.as_str());
            let first = read[0].trim_start().chars().next();
            let runs = matches!(first, Some('=' | '+' | '-' | '@' | '＝'));
            prop_assert!(!runs || read[0].parse::<f64>().is_ok() || read[0].replace(',', ".").parse::<f64>().is_ok());
        }

        #[test]
        fn signed_numbers_stay_numbers(number in -9_999_i32..9_999) {
            prop_assert_eq!(safe_cell(&number.to_string()), number.to_string());
            prop_assert_eq!(safe_cell(&format!("{number}+1")).starts_with('\''), number < 0);
        }
    }
}
