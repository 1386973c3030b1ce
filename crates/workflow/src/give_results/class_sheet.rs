//! The chief examiner's page: the class on one look.

use grader::{Award, Outcome as Mark};
use renderer::content::examiner::{CandidateLine, ClassSummary, QuestionNotice};
use renderer::content::{Bar, Distribution, ExamHead, Figure};
use results::{Outcome, Script, SittingSummary};

use crate::mark::item_name;

/// Below this mean credit, or above its counterpart, a question is worth a look.
const LOW_CREDIT: f64 = 0.2;

pub(super) fn content(
    head: &ExamHead,
    scripts: &[Script<'_>],
    summary: &SittingSummary,
    waiting: &[&Award],
) -> ClassSummary {
    let parts: Vec<String> = scripts
        .first()
        .map(|script| {
            script
                .decision
                .parts
                .iter()
                .map(|part| capital(part.part.word()))
                .collect()
        })
        .unwrap_or_default();
    let mut verdicts = vec![summary.outcomes.clone()];
    verdicts.extend(summary.notes.iter().cloned());
    ClassSummary {
        exam: head.clone(),
        verdicts,
        figures: figures(summary),
        distribution: distribution(scripts),
        parts,
        candidates: scripts.iter().map(line).collect(),
        notices: notices(summary),
        waiting: waiting.iter().map(|award| waiting_line(award)).collect(),
    }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}

fn line(script: &Script<'_>) -> CandidateLine {
    let decision = &script.decision;
    CandidateLine {
        candidate_number: script.place.candidate.to_string(),
        parts: decision
            .parts
            .iter()
            .map(|part| format!("{} / {}", part.marks.marks, part.marks.of))
            .collect(),
        total: format!("{} / {}", decision.total.marks, decision.total.of),
        decision: decision.outcome.to_string(),
        note: match decision.extra {
            Some(extra) if extra.turned_fail_into_pass => "by extra credit".to_owned(),
            Some(extra) if extra.would_have_turned => {
                "extra credit would have turned it".to_owned()
            }
            Some(_) | None => String::new(),
        },
    }
}

fn figures(summary: &SittingSummary) -> Vec<Figure> {
    // Each sentence of the summary holds the figure, its interval and its n: it is printed whole,
    // so that no number stands without what it rests on.
    let mut figures: Vec<Figure> = summary
        .scores
        .iter()
        .map(|score| sentence(&capital(score.what), &score.sentence, summary.n))
        .collect();
    if let Some(reliability) = &summary.reliability {
        figures.extend(
            reliability
                .sentences
                .iter()
                .map(|s| sentence("Reliability", s, summary.n)),
        );
    }
    if let Some(together) = &summary.theory_with_tasting {
        figures.push(sentence(
            "Theory with tasting",
            &together.sentence,
            together.n,
        ));
    }
    figures.push(sentence(
        "Passed",
        &summary.pass_rate.sentence,
        summary.pass_rate.n,
    ));
    for sample in &summary.samples {
        figures.push(sentence(
            &sample.name,
            &sample.credit.sentence,
            sample.credit.n,
        ));
    }
    figures
}

fn sentence(what: &str, value: &str, n: usize) -> Figure {
    Figure {
        what: what.to_owned(),
        value: value.to_owned(),
        interval: String::new(),
        n: n.to_string(),
        note: String::new(),
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
