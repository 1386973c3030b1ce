//! One candidate's report: the result first, then what it is made of, and what helps.

use serde::Serialize;

use crate::content::ExamHead;

/// One candidate's report.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CandidateReport {
    /// The exam.
    pub exam: ExamHead,
    /// The candidate's number.
    pub candidate_number: String,
    /// The name; empty where only the number is known.
    pub name: String,
    /// The decision.
    pub verdict: Verdict,
    /// The result in one sentence: the report's first line.
    pub result: String,
    /// What it is made of, one or two sentences.
    pub explanation: String,
    /// The parts.
    pub parts: Vec<PartResult>,
    /// For whoever did not pass: what helps next time, one sentence each; printed on page one.
    pub help: Vec<String>,
    /// What to taste next, one sentence each.
    pub taste_next: Vec<String>,
    /// The glasses.
    pub glasses: Vec<ReportGlass>,
    /// The theory questions.
    pub theory: Vec<ReportLine>,
    /// How to appeal and what will be shown, one sentence each.
    pub appeal: Vec<String>,
}

/// The decision.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Passed.
    Passed,
    /// Not passed.
    NotPassed,
    /// Not decided yet.
    Undecided,
}

/// One part's result.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PartResult {
    /// The part's name.
    pub name: String,
    /// Marks, as printed.
    pub marks: String,
    /// The most marks, as printed.
    pub of: String,
    /// The cut, as printed; empty where the part has none.
    pub cut: String,
    /// Marks as a share of the most, 0 to 100, for the drawing.
    pub percent: u8,
    /// The cut as a share of the most, 0 to 100; none where the part has none.
    pub cut_percent: Option<u8>,
}

/// One thing asked, answered and marked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReportLine {
    /// The question's number or name.
    pub number: String,
    /// What was asked.
    pub asked: String,
    /// What was answered; empty for no answer.
    pub answered: String,
    /// Marks, as printed.
    pub marks: String,
    /// The most marks, as printed.
    pub of: String,
    /// Why, in one sentence.
    pub reason: String,
}

/// One glass.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReportGlass {
    /// The code that was on the glass.
    pub code: String,
    /// What was in it; empty where the examiners do not tell.
    pub what: String,
    /// The style in a sentence or two; empty for none.
    pub describe: String,
    /// Marks for the glass, as printed.
    pub marks: String,
    /// The most marks, as printed.
    pub of: String,
    /// The candidate's words beside the panel's.
    pub words: Vec<WordBeside>,
    /// Everything asked about it.
    pub lines: Vec<ReportLine>,
}

/// A word of the candidate beside one of the panel.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WordBeside {
    /// The candidate's word; empty where the panel's was missed.
    pub yours: String,
    /// The panel's word; empty where nothing of the panel's came near.
    pub panels: String,
    /// How they stand to each other: "the same", "same group", "missed", "not in the panel's notes".
    pub how: String,
    /// The panel word's weight as a share of the greatest, 0 to 100; 0 where there is none.
    pub weight_percent: u8,
    /// What of it the candidate's word earned, on the same scale.
    pub earned_percent: u8,
}
