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
//! | grade | the grade above a plain pass; empty for a plain pass |
//! | brought | the part brought along from an earlier sitting, with day and share |
//! | standing | not released, released, corrected: what may be handed out, and what changed since |
//! | reason | the sentence of the decision |
//!
//! A cell that a spreadsheet would run as a formula (its first character that is no space is one of
//! `= + - @`, a tab or a line end) gets a leading apostrophe, numbers excepted; cells with
//! separators of any country (comma, semicolon, tab), quotes or line ends are quoted.

use base::table_out;
use base::{CandidateNumber, FormName, Marks, SeatName};
use serde::Serialize;

use crate::decide::{Decision, Outcome, Part, PartDecision};

/// The heads of the columns.
pub const HEADER: [&str; 20] = [
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
    "grade",
    "brought",
    "standing",
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

    /// The same list with nobody's name in it.
    #[must_use]
    pub fn without_names(&self) -> Self {
        let lines = self.lines.iter().map(|line| ClassLine {
            name: String::new(),
            ..line.clone()
        });
        Self {
            lines: lines.collect(),
        }
    }

    /// The list as text for a spreadsheet; see the head of this file. `standing` says in each line
    /// whether it may be handed out.
    #[must_use]
    pub fn csv(&self, standing: &str) -> String {
        let mut text = String::from('\u{feff}');
        text.push_str(&table_out::row(HEADER));
        for line in &self.lines {
            text.push_str(&table_out::row(line.cells(standing)));
        }
        text
    }
}

impl ClassLine {
    fn cells(&self, standing: &str) -> impl Iterator<Item = String> + use<> {
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
            decision.grade.clone().unwrap_or_default(),
            decision
                .brought
                .as_ref()
                .map(exam_plan::BroughtPart::in_words)
                .unwrap_or_default(),
            standing.to_owned(),
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

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
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
        let text = list.csv("=1+1");
        let lines: Vec<_> = text.trim_start_matches('\u{feff}').split("\r\n").collect();
        assert_eq!(lines[0], HEADER.join(","));
        assert!(
            lines[1]
                .starts_with("C-001,Ada Example,A,,27.5,40,68.7,,,,0,27.5,40,68.7,0,pass,,,'=1+1,")
        );
        assert!(lines[2].starts_with("C-002,'=cmd|' /C calc'!A0,A,"));
        assert_eq!((lines.len(), lines[3]), (4, ""));
        assert_eq!(list.sentence(), "2 candidates: 2 pass.");
    }
}
