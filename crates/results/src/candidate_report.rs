//! The content of one candidate's report; its first line is the result.
//!
//! A report is made after release. It shows what was asked (shortened), what was answered, marks
//! and reasons, and what would have been right, because a report that hides the key teaches
//! nothing and every appeal would begin with asking for it. The price: a question shown in a
//! report is known. A school that wants to use a question again prints reports without the column
//! `right`, or lets the question rest; the stem is shortened either way.

mod advice;
mod glass_reports;
mod theory_lines;

use assembler::Sitting;
use base::Marks;
use exam_plan::Exam;
use serde::Serialize;

pub use glass_reports::{GlassLine, GlassReport, PairedWord, PanelWord};
pub(crate) use glass_reports::{named_words, was};
pub use theory_lines::TheoryLine;

use crate::cell_worth::CellWorth;
use crate::decide::{Outcome, Part, Reached};
use crate::decision_words::percent;
use crate::script::Script;

/// Everything one candidate's report says. It shows keys and is for the time after release only.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CandidateReport {
    /// The first line: the result.
    pub result: String,
    /// The result as a word for a template to choose by.
    pub outcome: Outcome,
    /// Why, in one or two sentences.
    pub because: String,
    /// The exam.
    pub title: String,
    /// The school.
    pub school: Option<String>,
    /// The day.
    pub date: String,
    /// The candidate's number.
    pub candidate: String,
    /// The candidate's name.
    pub name: String,
    /// What the result is made of, one line a part, then extra credit, then the total.
    pub made_of: Vec<ScoreLine>,
    /// Help for the first page; empty after a clear pass.
    pub help: Vec<String>,
    /// The theory part, question by question.
    pub theory: Vec<TheoryLine>,
    /// The glasses in serving order.
    pub glasses: Vec<GlassReport>,
    /// What to taste next, two or three suggestions; empty without a tasting part.
    pub taste_next: Vec<String>,
    /// The caution that goes with any tasting; printed with the suggestions.
    pub caution: &'static str,
    /// How to appeal and what will be shown.
    pub appeal: Vec<String>,
}

/// One line of what a result is made of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ScoreLine {
    /// "Theory", "Tasting", "Extra credit", "Total".
    pub what: &'static str,
    /// Marks.
    pub marks: Marks,
    /// Full marks; none for extra credit.
    pub of: Option<Marks>,
    /// Percentage, rounded down to one decimal; none for extra credit.
    pub percent: Option<String>,
    /// The cut, if this line has one.
    pub cut: Option<String>,
    /// "reached", "not reached", "still open".
    pub standing: Option<&'static str>,
}

/// Shown wherever a report suggests tasting.
pub const CAUTION: &str = "Small measures, with water and a spit cup at hand; nobody drives after \
     tasting. Nosing alone trains as well. Legal age and limits are local law; ask a doctor first \
     about allergy, pregnancy or medication.";

/// The report of one script, among those of the sitting.
#[must_use]
pub fn candidate_report(
    exam: &Exam,
    sitting: &Sitting,
    script: &Script<'_>,
    worth: &CellWorth,
) -> CandidateReport {
    let theory = theory_lines::theory_lines(exam, sitting, script);
    let glasses = glass_reports::glass_reports(exam, script);
    CandidateReport {
        result: result_line(script.decision.outcome).to_owned(),
        outcome: script.decision.outcome,
        because: script.decision.sentence.clone(),
        title: exam.plan.title.clone(),
        school: exam.plan.school.clone(),
        date: exam.plan.date.clone(),
        candidate: script.place.candidate.to_string(),
        name: script.name.to_owned(),
        made_of: made_of(script),
        help: advice::help(exam, script, &glasses, worth),
        taste_next: advice::taste_next(exam, script, &glasses),
        theory,
        glasses,
        caution: CAUTION,
        appeal: appeal(exam),
    }
}

const fn result_line(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Pass => "Passed",
        Outcome::Fail => "Not passed this time",
        Outcome::Waiting => "Result still open",
        Outcome::Absent => "Absent",
    }
}

const fn standing(reached: Reached) -> &'static str {
    match reached {
        Reached::Yes => "reached",
        Reached::No => "not reached",
        Reached::Open => "still open",
    }
}

fn made_of(script: &Script<'_>) -> Vec<ScoreLine> {
    let decision = &script.decision;
    let mut lines: Vec<_> = decision
        .parts
        .iter()
        .map(|part| ScoreLine {
            what: match part.part {
                Part::Theory => "Theory",
                Part::Tasting => "Tasting",
            },
            marks: part.marks.marks,
            of: Some(part.marks.of),
            percent: Some(percent(part.per_mille)),
            cut: part.cut.map(percent),
            standing: part.reached.map(standing),
        })
        .collect();
    if let Some(extra) = decision.extra {
        lines.push(ScoreLine {
            what: "Extra credit",
            marks: extra.added,
            of: None,
            percent: None,
            cut: None,
            standing: None,
        });
    }
    if lines.len() > 1 {
        lines.push(ScoreLine {
            what: "Total",
            marks: decision.total.marks,
            of: Some(decision.total.of),
            percent: Some(percent(decision.total.per_mille)),
            cut: decision.total.cut.map(percent),
            standing: decision.total.cut.and(match decision.outcome {
                Outcome::Pass => Some("reached"),
                Outcome::Fail => Some("not reached"),
                Outcome::Waiting => Some("still open"),
                Outcome::Absent => None,
            }),
        });
    }
    lines
}

fn appeal(exam: &Exam) -> Vec<String> {
    let to = exam.plan.school.as_deref().map_or_else(
        || "the chief examiner".to_owned(),
        |school| format!("the chief examiner of {school}"),
    );
    vec![
        format!(
            "If you think that a mark is wrong, write to {to}. Give your candidate number and the \
             number of the question or the code of the glass, and say what you think is right \
             and why."
        ),
        "You will be shown your own answer, what was held to be right, and the rule and reason \
         of the mark, for that question only."
            .to_owned(),
        "Whoever marked the paper does not decide the appeal.".to_owned(),
    ]
}

#[cfg(test)]
mod tests;
