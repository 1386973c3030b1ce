//! The chief examiner's page: the class on one look.

use grader::{Award, Outcome as Mark};
use renderer::content::examiner::{CandidateLine, ClassSummary, QuestionNotice, ReviewLine};
use renderer::content::{Bar, Distribution, ExamHead, Figure};
use results::decision_words::percent;
use results::summary::{ScoreFigures, capitalised};
use results::{Decision, Outcome, Part, Review, Script, SittingSummary};
use statistics::{Interval, Refusal};

use crate::open_sitting::Custody;
use results::regrade::item_name;

/// Below this mean credit, or above its counterpart, a question is worth a look.
const LOW_CREDIT: f64 = 0.2;

/// What the sheet is made from.
pub(super) struct Class<'c> {
    pub(super) scripts: &'c [Script<'c>],
    pub(super) summary: &'c SittingSummary,
    /// Answers that wait for a person.
    pub(super) waiting: &'c [&'c Award],
    /// Who near a cut was not looked at yet.
    pub(super) not_reviewed: &'c [String],
    pub(super) custody: &'c Custody,
}

pub(super) fn content(head: &ExamHead, class: &Class<'_>) -> ClassSummary {
    let Class {
        scripts,
        summary,
        waiting,
        not_reviewed,
        custody,
    } = *class;
    let parts = parts_sat(scripts.iter().map(|script| &script.decision));
    let mut verdicts = vec![summary.outcomes.clone()];
    verdicts.extend(summary.review.sentences.iter().cloned());
    verdicts.extend(summary.notes.iter().cloned());
    ClassSummary {
        exam: head.clone(),
        verdicts,
        figures: figures(summary),
        distribution: distribution(scripts),
        candidates: scripts.iter().map(|script| line(script, &parts)).collect(),
        parts: parts.iter().map(|part| capitalised(part.word())).collect(),
        review: review(&summary.review, not_reviewed),
        notices: notices(summary),
        waiting: waiting.iter().map(|award| waiting_line(award)).collect(),
        ledger_head: custody.head_in_words(),
    }
}

/// The parts that anybody sat, in the order of the exam.
#[must_use]
pub fn parts_sat<'d>(decisions: impl Iterator<Item = &'d Decision> + Clone) -> Vec<Part> {
    Part::ALL
        .into_iter()
        .filter(|part| {
            let mut sat = decisions.clone().flat_map(|decision| &decision.parts);
            sat.any(|decided| decided.part == *part)
        })
        .collect()
}

/// A candidate's marks of a part as a list shows them; a part that was brought along with its share.
#[must_use]
pub fn part_cell(decision: &Decision, part: Part) -> String {
    let sat = decision.parts.iter().find(|decided| decided.part == part);
    let brought = decision.brought.as_ref().filter(|own| own.part == part);
    match (sat, brought) {
        (Some(sat), _) => format!("{} / {}", sat.marks.marks, sat.marks.of),
        (None, Some(brought)) => format!("{} (brought)", percent(brought.per_mille)),
        (None, None) => "–".to_owned(),
    }
}

fn line(script: &Script<'_>, parts: &[Part]) -> CandidateLine {
    let decision = &script.decision;
    let mut notes: Vec<String> = decision.grade.iter().cloned().collect();
    match decision.extra {
        Some(extra) if extra.turned_fail_into_pass => notes.push("by extra credit".to_owned()),
        Some(extra) if extra.would_have_turned => {
            notes.push("extra credit would have turned it".to_owned());
        }
        Some(_) | None => {}
    }
    if let Some(brought) = &decision.brought {
        notes.push(format!("{} of {}", brought.part, brought.passed_on));
    }
    CandidateLine {
        candidate_number: script.place.candidate.to_string(),
        parts: parts
            .iter()
            .map(|part| part_cell(decision, *part))
            .collect(),
        total: format!("{} / {}", decision.total.marks, decision.total.of),
        decision: decision.outcome.to_string(),
        note: notes.join("; "),
    }
}

/// Who lies near a cut, as the sheet shows them.
fn review(review: &Review, not_reviewed: &[String]) -> Vec<ReviewLine> {
    review
        .candidates
        .iter()
        .map(|one| ReviewLine {
            candidate_number: one.candidate.to_string(),
            decision: one.outcome.to_string(),
            near: one.near.clone(),
            wrong: one
                .wrong
                .map_or_else(String::new, |wrong| format!("{:.0} in 100", wrong * 100.0)),
            look_at: one.look_at.join(", "),
            reviewed: !not_reviewed.contains(&one.candidate.to_string()),
        })
        .collect()
}

/// Figures with what they rest on; one that cannot be given says why in its place.
fn figures(summary: &SittingSummary) -> Vec<Figure> {
    let mut figures = Vec::new();
    for score in &summary.scores {
        figures.extend(score_figures(&capitalised(score.what), score));
    }
    for form in summary.reliability.iter().flat_map(|r| &r.by_form) {
        let names: Vec<&str> = form.forms.iter().map(base::FormName::as_str).collect();
        figures.push(coefficient(
            format!("Reliability of form {} (alpha)", names.join(" and ")),
            form.n,
            form.alpha
                .as_ref()
                .map(|made| (made.alpha, Some(made.interval))),
        ));
    }
    if let Some(together) = &summary.theory_with_tasting {
        let value = together
            .value
            .as_ref()
            .map(|r| (*r, together.interval.ok()));
        figures.push(coefficient(
            "Correlation of theory and tasting".to_owned(),
            together.n,
            value,
        ));
    }
    figures.push(share("Passed".to_owned(), &summary.pass_rate));
    if let Some(wrong) = summary.review.wrong {
        figures.push(Figure {
            what: "Decisions expected to be wrong".to_owned(),
            value: format!("{:.0} %", wrong * 100.0),
            interval: String::new(),
            n: summary.review.decided.to_string(),
            note: "by the errors at the cut".to_owned(),
        });
    }
    for sample in &summary.samples {
        figures.push(share(
            format!("Mean credit, {}", sample.name),
            &sample.credit,
        ));
    }
    figures
}

fn score_figures(what: &str, score: &ScoreFigures) -> Vec<Figure> {
    match &score.figures {
        Ok(made) => {
            let row = |name: &str, value: String, interval: String| Figure {
                what: format!("{what}: {name}"),
                value,
                interval,
                n: made.n.to_string(),
                note: String::new(),
            };
            // A mean lies between nothing and full marks, whatever a wide interval says.
            let most = score.of.as_f64();
            let interval = made.mean_interval.as_ref().map(|i| {
                let (lower, upper) = (i.lower.max(0.0), i.upper.min(most));
                format!("{lower:.1} to {upper:.1} (95 %)")
            });
            vec![
                row(
                    &format!("mean, marks of {}", score.of),
                    format!("{:.1}", made.mean),
                    interval.unwrap_or_default(),
                ),
                row(
                    "standard deviation",
                    made.standard_deviation
                        .as_ref()
                        .map_or_else(ToString::to_string, |d| format!("{d:.1}")),
                    String::new(),
                ),
                row(
                    "median, lowest, highest",
                    format!(
                        "{:.1}, {:.1}, {:.1}",
                        made.median, made.smallest, made.largest
                    ),
                    String::new(),
                ),
            ]
        }
        Err(refusal) => vec![refused(what.to_owned(), refusal)],
    }
}

fn refused(what: String, refusal: &Refusal) -> Figure {
    Figure {
        what,
        value: String::new(),
        interval: String::new(),
        n: String::new(),
        note: refusal.to_string(),
    }
}

/// "27.1 to 31.3 (95 %)", each end times a factor, with so many decimals.
fn between(interval: &Interval, decimals: usize, factor: f64) -> String {
    let (lower, upper) = (interval.lower * factor, interval.upper * factor);
    format!(
        "{} to {} (95 %)",
        fixed(lower, decimals),
        fixed(upper, decimals)
    )
}

/// A number with so many decimals; what rounds to nothing has no sign.
fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        Some(_) | None => text,
    }
}

fn coefficient(what: String, n: usize, value: Result<(f64, Option<Interval>), &Refusal>) -> Figure {
    match value {
        Ok((value, interval)) => Figure {
            what,
            value: fixed(value, 2),
            interval: interval.map(|i| between(&i, 2, 1.0)).unwrap_or_default(),
            n: n.to_string(),
            // Half the scale wide says next to nothing.
            note: match interval {
                Some(i) if i.upper - i.lower > 0.4 => "too wide to lean on".to_owned(),
                Some(_) | None => String::new(),
            },
        },
        Err(refusal) => refused(what, refusal),
    }
}

pub(super) fn share(what: String, figure: &results::summary::Figure) -> Figure {
    match &figure.value {
        Ok(share) => Figure {
            what,
            value: format!("{:.0} %", share * 100.0),
            interval: figure
                .interval
                .as_ref()
                .map(|i| between(i, 0, 100.0))
                .unwrap_or_default(),
            n: figure.n.to_string(),
            note: String::new(),
        },
        Err(refusal) => refused(what, refusal),
    }
}

/// Totals in ten bars, one for each tenth of full marks.
fn distribution(scripts: &[Script<'_>]) -> Option<Distribution> {
    let present: Vec<&Script<'_>> = scripts
        .iter()
        .filter(|s| s.decision.outcome != Outcome::Absent)
        .collect();
    let first = present.first()?;
    let cut = first.decision.total.cut;
    let mut counts = [0_u64; 10];
    for script in &present {
        let tenth = usize::try_from(script.decision.total.per_mille / 100)
            .unwrap_or(9)
            .min(9);
        if let Some(count) = counts.get_mut(tenth) {
            *count += 1;
        }
    }
    let bars = counts
        .iter()
        .enumerate()
        .map(|(tenth, &count)| Bar {
            label: format!(
                "{}–{}",
                tenth * 10,
                tenth * 10 + if tenth == 9 { 10 } else { 9 }
            ),
            count,
            at_or_above_cut: cut.is_some_and(|cut| tenth as u64 * 100 >= u64::from(cut)),
        })
        .collect();
    Some(Distribution {
        sentence: format!(
            "Totals of {} candidates in tenths of full marks.",
            present.len()
        ),
        axis: "per cent of full marks".to_owned(),
        bars,
    })
}

/// Questions that hardly anybody or everybody had right.
fn notices(summary: &SittingSummary) -> Vec<QuestionNotice> {
    summary
        .questions
        .iter()
        .filter_map(|question| {
            let credit = *question.credit.value.as_ref().ok()?;
            let why = if credit <= LOW_CREDIT {
                format!(
                    "Hardly anybody earned on it: read the key again. {}",
                    question.credit.sentence
                )
            } else {
                return None;
            };
            Some(QuestionNotice {
                id: question.question.to_string(),
                why,
            })
        })
        .collect()
}

fn waiting_line(award: &Award) -> String {
    let why = match &award.outcome {
        Mark::ForAPerson { why, .. } => why.as_str(),
        Mark::Marked { reason, .. } => reason.as_str(),
    };
    format!("{}, {}: {why}", award.candidate, item_name(&award.item))
}

#[cfg(test)]
mod tests {
    use super::fixed;

    #[test]
    fn nothing_has_no_sign() {
        assert_eq!(fixed(-0.001, 2), "0.00");
        assert_eq!(fixed(-0.4, 0), "0");
        assert_eq!(fixed(-0.01, 2), "-0.01");
        assert_eq!(fixed(0.5, 1), "0.5");
    }
}
