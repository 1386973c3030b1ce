//! The figures of one sitting for the examiner: each with its n and interval, or why there is none.
//!
//! Candidates who handed in nothing are left out. Of answers that wait for a person only what is
//! certain counts, and the first sentence says how many there are.

mod alpha;
mod item_figures;

use assembler::Sitting;
use base::Marks;
use exam_plan::Exam;
use serde::Serialize;
use statistics::descriptive::summary::{Summary, summary};
use statistics::{Confidence, Interval, Refusal};

pub use alpha::{FormAlpha, TheoryReliability};
pub use item_figures::{AskedFigure, QuestionFigure, SampleFigure};

use crate::decide::{Outcome, Part};
use crate::decision_words::count_of;
use crate::review::{Review, review};
use crate::script::{Script, class_list};

/// The level of every interval in a summary.
pub const CONFIDENCE: Confidence = Confidence::P95;

/// Everything the examiner sees about a sitting in figures. Holds marks and short stems, no keys.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SittingSummary {
    /// Candidates who handed something in.
    pub n: usize,
    /// Candidates by outcome, in words.
    pub outcomes: String,
    /// Passes among those who handed something in and are decided.
    pub pass_rate: Figure,
    /// Theory, tasting and total, as far as they were asked.
    pub scores: Vec<ScoreFigures>,
    /// Reliability of the theory part; none without one.
    pub reliability: Option<TheoryReliability>,
    /// The correlation between the parts; none with one part only.
    pub theory_with_tasting: Option<Figure>,
    /// Each question, in order of its id.
    pub questions: Vec<QuestionFigure>,
    /// Each sample, in the order of the plan.
    pub samples: Vec<SampleFigure>,
    /// Who lies near a cut, and how sure the decisions are.
    pub review: Review,
    /// What to know before leaning on the figures, in plain sentences.
    pub notes: Vec<String>,
}

/// One figure with its interval, or the reason why there is none.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Figure {
    /// From how many.
    pub n: usize,
    /// The value.
    pub value: Result<f64, Refusal>,
    /// Its interval.
    pub interval: Result<Interval, Refusal>,
    /// Both in words.
    pub sentence: String,
}

/// Where the scores of a part or of the total lie, in marks.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ScoreFigures {
    /// `theory`, `tasting` or `total`.
    pub what: &'static str,
    /// Full marks; the largest where forms differ.
    pub of: Marks,
    /// The figures, in marks.
    pub figures: Result<Summary, Refusal>,
    /// The same in words.
    pub sentence: String,
}

/// Summarises the scripts of a sitting.
#[must_use]
pub fn summarise(exam: &Exam, sitting: &Sitting, scripts: &[Script<'_>]) -> SittingSummary {
    let present: Vec<&Script<'_>> = scripts
        .iter()
        .filter(|script| script.decision.outcome != Outcome::Absent)
        .collect();
    let mut scores: Vec<_> = Part::ALL
        .into_iter()
        .filter_map(|part| part_scores(part, &present))
        .collect();
    if scores.len() > 1 {
        scores.extend(total_scores(&present));
    }
    SittingSummary {
        n: present.len(),
        outcomes: class_list(scripts).sentence(),
        pass_rate: pass_rate(&present),
        scores,
        reliability: alpha::theory_reliability(sitting, &present),
        theory_with_tasting: parts_together(&present),
        questions: item_figures::questions(&exam.bank, &present),
        samples: item_figures::samples(exam, &present),
        review: review(exam, scripts),
        notes: notes(scripts, &present),
    }
}

fn pass_rate(present: &[&Script<'_>]) -> Figure {
    let count = |outcome| {
        present
            .iter()
            .filter(|script| script.decision.outcome == outcome)
            .count()
    };
    let (passes, fails) = (count(Outcome::Pass), count(Outcome::Fail));
    let n = passes + fails;
    match statistics::descriptive::proportion::proportion(passes, n, CONFIDENCE) {
        Ok(made) => Figure {
            n,
            value: Ok(made.share),
            interval: Ok(made.interval),
            sentence: format!(
                "{passes} of {n} decided candidates passed ({}; 95 % interval {} to {}).",
                share_in_words(made.share),
                share_in_words(made.interval.lower),
                share_in_words(made.interval.upper)
            ),
        },
        Err(refusal) => refused(n, "No pass rate", refusal),
    }
}

/// A figure that is not given, with the reason.
pub(crate) fn refused(n: usize, what: &str, refusal: Refusal) -> Figure {
    Figure {
        n,
        value: Err(refusal),
        interval: Err(refusal),
        sentence: format!("{what}: {refusal}."),
    }
}

/// A share as a whole percentage: `62 %`.
pub(crate) fn share_in_words(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

/// A coefficient with two decimals and a true minus sign: `0.71`, `−0.04`.
pub(crate) fn coefficient(value: f64) -> String {
    let text = format!("{:.2}", value.abs());
    if value < 0.0 && text != "0.00" {
        format!("−{text}")
    } else {
        text
    }
}

fn part_scores(part: Part, present: &[&Script<'_>]) -> Option<ScoreFigures> {
    let marks: Vec<_> = present
        .iter()
        .filter_map(|script| script.marks.part(part))
        .collect();
    let of = marks.iter().map(|part| part.of).max()?;
    let values: Vec<f64> = marks.iter().map(|part| part.marks.as_f64()).collect();
    Some(score_figures(part.word(), of, &values))
}

fn total_scores(present: &[&Script<'_>]) -> Option<ScoreFigures> {
    // The total of who brought a part along is of one part.
    let whole: Vec<&&Script<'_>> = present
        .iter()
        .filter(|script| script.decision.brought.is_none())
        .collect();
    let present = whole;
    let of = present
        .iter()
        .map(|script| script.decision.total.of)
        .max()?;
    let values: Vec<f64> = present
        .iter()
        .map(|script| script.decision.total.marks.as_f64())
        .collect();
    Some(score_figures("total", of, &values))
}

fn score_figures(what: &'static str, of: Marks, values: &[f64]) -> ScoreFigures {
    let figures = summary(values, CONFIDENCE);
    let sentence = match &figures {
        Ok(made) => {
            let mean = match made.mean_interval {
                Ok(interval) => format!(
                    "mean {:.1} of {of} marks (95 % interval {:.1} to {:.1})",
                    made.mean,
                    interval.lower.max(0.0),
                    interval.upper.min(of.as_f64())
                ),
                Err(refusal) => {
                    format!("mean {:.1} of {of} marks (interval: {refusal})", made.mean)
                }
            };
            let spread = match made.standard_deviation {
                Ok(deviation) => format!("standard deviation {deviation:.1}"),
                Err(refusal) => format!("standard deviation: {refusal}"),
            };
            format!(
                "{}: n = {}, {mean}, {spread}, median {:.1}, from {:.1} to {:.1}.",
                capitalised(what),
                made.n,
                made.median,
                made.smallest,
                made.largest
            )
        }
        Err(refusal) => format!("{}: {refusal}.", capitalised(what)),
    };
    ScoreFigures {
        what,
        of,
        figures,
        sentence,
    }
}

/// With a capital first letter.
#[must_use]
pub fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}

fn parts_together(present: &[&Script<'_>]) -> Option<Figure> {
    let pairs: Vec<_> = present
        .iter()
        .filter_map(|script| Some((script.marks.theory?, script.marks.tasting?)))
        .collect();
    if pairs.is_empty() {
        return None;
    }
    let theory: Vec<f64> = pairs
        .iter()
        .map(|(t, _)| t.marks.fraction_of(t.of))
        .collect();
    let tasting: Vec<f64> = pairs
        .iter()
        .map(|(_, t)| t.marks.fraction_of(t.of))
        .collect();
    let n = pairs.len();
    let what = "Correlation of theory with tasting";
    let made =
        statistics::descriptive::correlation_interval::correlation(&theory, &tasting, CONFIDENCE);
    Some(match made {
        Ok(made) => Figure {
            n,
            value: Ok(made.r),
            interval: made.interval,
            sentence: match made.interval {
                Ok(interval) => format!(
                    "{what}: {} (n = {n}, 95 % interval {} to {}).",
                    coefficient(made.r),
                    coefficient(interval.lower),
                    coefficient(interval.upper)
                ),
                Err(refusal) => {
                    format!(
                        "{what}: {} (n = {n}; interval: {refusal}).",
                        coefficient(made.r)
                    )
                }
            },
        },
        Err(refusal) => refused(n, what, refusal),
    })
}

fn notes(scripts: &[Script<'_>], present: &[&Script<'_>]) -> Vec<String> {
    let mut notes = Vec::new();
    let absent = scripts.len() - present.len();
    if absent > 0 {
        let absent = u32::try_from(absent).unwrap_or(u32::MAX);
        notes.push(format!(
            "{} handed in nothing and {} left out of all figures.",
            count_of(absent, "candidate", "candidates"),
            if absent == 1 { "is" } else { "are" }
        ));
    }
    let waiting = present
        .iter()
        .flat_map(|script| &script.awards)
        .filter(|award| award.counts && award.outcome.waits())
        .count();
    if waiting > 0 {
        let waiting = u32::try_from(waiting).unwrap_or(u32::MAX);
        notes.push(format!(
            "{} wait for a person and count here with what is certain; the figures will move when \
             they are decided.",
            count_of(waiting, "answer", "answers")
        ));
    }
    let differing = Part::ALL.into_iter().filter(|part| {
        let mut of = present
            .iter()
            .filter_map(|script| script.marks.part(*part).map(|marks| marks.of));
        of.next()
            .is_some_and(|first| of.any(|other| other != first))
    });
    notes.extend(differing.map(|part| {
        format!(
            "Full marks of the {part} part differ between candidates; its figures in marks are \
             not quite comparable."
        )
    }));
    if present.len() < 30 {
        notes.push(format!(
            "With n = {} every figure is rough: read the interval before the value.",
            present.len()
        ));
    }
    notes
}
