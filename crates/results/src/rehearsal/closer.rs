//! A closer look at simulated sittings: how sure marks are at the cut, what a moved cut and extra
//! credit change, how far forms and serving orders differ, which questions and glasses do no work,
//! and what longer parts would buy.

use std::collections::BTreeMap;

use exam_plan::Exam;
use exam_plan::plan::{Join, PassRule};
use serde::Serialize;
use statistics::sums::{correlation, mean};

use super::decision::{Longer, longer};
use super::forecast::{DecisionForecast, Simulated, decisions};
use super::prepared::Prepared;
use crate::decide::{CandidateMarks, Outcome, Part, decide};

/// Marks within this share of the full marks count as at the cut.
const NEAR_THE_CUT: f64 = 0.05;
/// A question that goes together with the rest less than this tells nobody apart. Common practice
/// (Ebel's bands begin at .20; .10 leaves out what simulation error alone would find), no source.
const GOES_WITH_THE_REST: f64 = 0.10;
/// Questions that more than this share have right tell nobody apart. Common practice, no source.
const NEARLY_ALL: f64 = 0.95;

/// A closer look at a forecast.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Closer {
    /// For each part that has a cut of its own.
    pub error_at_cut: Vec<ErrorAtCut>,
    /// The cut one mark lower and one mark higher.
    pub moved_cuts: Vec<MovedCut>,
    /// What extra credit changes; none where there is none.
    pub extra_credit: Option<ExtraEffect>,
    /// How far forms differ; none with one form.
    pub forms: Option<Spread>,
    /// How far serving orders differ; none with one order.
    pub orders: Option<Spread>,
    /// Questions and glasses that do no work.
    pub idle: Vec<Idle>,
    /// What longer parts would buy, the parts as they are first.
    pub longer: Vec<Longer>,
}

/// How far apart two results of the same person at the cut would lie.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ErrorAtCut {
    /// The part.
    pub part: Part,
    /// Standard error of measurement in marks, of pairs of runs of the same people whose mean lies
    /// within a twentieth of the full marks of the cut: root of half the mean squared difference.
    pub error: f64,
    /// Its simulation error: error / sqrt(2 n).
    pub simulation_error: f64,
    /// Pairs.
    pub n: usize,
}

/// Decisions under a moved cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MovedCut {
    /// `theory`, `tasting` or `total`.
    pub what: &'static str,
    /// Marks by which the cut moves, −1 or 1.
    pub by: i32,
    /// How decisions come out then.
    pub decisions: DecisionForecast,
    /// Share of candidates whose decision changes.
    pub changed: f64,
    /// Simulation error of that share.
    pub changed_error: f64,
}

/// What extra credit changes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ExtraEffect {
    /// Mean extra marks, before the ceiling.
    pub mean: f64,
    /// Share of candidates who pass with it and would not without.
    pub passes_by_it: f64,
    /// Simulation error of that share.
    pub error: f64,
}

/// The means of groups that should be alike.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Spread {
    /// Each group: its name, mean marks, simulation error of the mean.
    pub groups: Vec<(String, f64, f64)>,
    /// The largest difference of two means.
    pub largest: f64,
    /// Simulation error of that difference.
    pub error: f64,
}

/// Something asked that tells nobody apart.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Idle {
    /// The question or sample.
    pub what: String,
    /// The part.
    pub part: Part,
    /// Mean share of its full marks.
    pub share: f64,
    /// Correlation with the rest of the part; none where all have the same.
    pub with_rest: Option<f64>,
    /// Scripts.
    pub n: usize,
}

/// Looks closer.
pub(super) fn closer(
    exam: &Exam,
    prepared: &Prepared<'_>,
    simulated: &[Simulated],
    truths: &[CandidateMarks],
) -> Closer {
    let pass = &exam.plan.pass;
    Closer {
        error_at_cut: error_at_cut(pass, simulated),
        moved_cuts: moved_cuts(pass, simulated, truths),
        extra_credit: extra_credit(pass, simulated),
        forms: spread(
            simulated,
            Part::Theory,
            &|number| {
                let place = prepared.places.get(number)?;
                place.form.as_ref().map(|form| format!("form {form}"))
            },
            prepared.places.len(),
        ),
        orders: spread(
            simulated,
            Part::Tasting,
            &|number| {
                let glasses = &prepared.places.get(number)?.glasses;
                let names: Vec<&str> = glasses.iter().map(|glass| glass.sample.as_str()).collect();
                (!names.is_empty()).then(|| names.join(", "))
            },
            prepared.places.len(),
        ),
        idle: idle(prepared, simulated),
        longer: longer(exam, prepared, simulated),
    }
}

/// The cut of a part in thousandths, where it has one of its own.
fn cut_of(pass: &PassRule, part: Part) -> Option<u32> {
    match (pass.join, part) {
        (Join::Conjunctive { theory, .. }, Part::Theory) => Some(theory),
        (Join::Conjunctive { tasting, .. }, Part::Tasting) => Some(tasting),
        (Join::Compensatory { .. }, Part::Theory | Part::Tasting) => None,
    }
}

fn error_at_cut(pass: &PassRule, simulated: &[Simulated]) -> Vec<ErrorAtCut> {
    let mut errors = Vec::new();
    for part in Part::ALL {
        let Some(cut) = cut_of(pass, part) else {
            continue;
        };
        let (mut sum, mut n) = (0.0, 0_usize);
        for one in simulated.iter().filter(|one| one.whole) {
            let (Some(first), Some(second)) = (one.first.marks.part(part), one.second.part(part))
            else {
                continue;
            };
            let (x, y, of) = (
                first.marks.as_f64(),
                second.marks.as_f64(),
                first.of.as_f64(),
            );
            let near = f64::midpoint(x, y) - f64::from(cut) / 1000.0 * of;
            if near.abs() <= NEAR_THE_CUT * of {
                sum += (x - y) * (x - y);
                n += 1;
            }
        }
        if n > 1 {
            let error = (sum / n as f64 / 2.0).sqrt();
            errors.push(ErrorAtCut {
                part,
                error,
                simulation_error: error / (2.0 * n as f64).sqrt(),
                n,
            });
        }
    }
    errors
}

/// The rule with one of its cuts moved by so many thousandths.
fn moved(pass: &PassRule, what: &str, by: i64) -> PassRule {
    let shift = |cut: u32| u32::try_from((i64::from(cut) + by).clamp(0, 1000)).unwrap_or(cut);
    let join = match pass.join {
        Join::Conjunctive { theory, tasting } if what == "theory" => Join::Conjunctive {
            theory: shift(theory),
            tasting,
        },
        Join::Conjunctive { theory, tasting } => Join::Conjunctive {
            theory,
            tasting: shift(tasting),
        },
        Join::Compensatory {
            total,
            theory_weight,
        } => Join::Compensatory {
            total: shift(total),
            theory_weight,
        },
    };
    PassRule { join, ..*pass }
}

fn moved_cuts(
    pass: &PassRule,
    simulated: &[Simulated],
    truths: &[CandidateMarks],
) -> Vec<MovedCut> {
    let full = |part: Part| {
        let marks = simulated.first().and_then(|one| one.first.marks.part(part));
        marks.map(|marks| marks.of.as_f64()).filter(|of| *of > 0.0)
    };
    let cuts: Vec<(&'static str, f64)> = match pass.join {
        Join::Conjunctive { .. } => Part::ALL
            .into_iter()
            .filter_map(|part| Some((part.word(), full(part)?)))
            .collect(),
        Join::Compensatory { .. } => {
            vec![("total", Part::ALL.into_iter().filter_map(full).sum())]
        }
    };
    let mut found = Vec::new();
    for (what, of) in cuts {
        for by in [-1, 1] {
            // At most 1000 thousandths, for full marks of at least one.
            let thousandths = (1000.0 / of.max(1.0)).round() as i64;
            let rule = moved(pass, what, i64::from(by) * thousandths);
            let changed = simulated
                .iter()
                .filter(|one| {
                    let marks = &one.first.marks;
                    decide(pass, marks).outcome != decide(&rule, marks).outcome
                })
                .count() as f64;
            let n = simulated.len().max(1) as f64;
            let share = changed / n;
            found.push(MovedCut {
                what,
                by,
                decisions: decisions(&rule, simulated, truths),
                changed: share,
                changed_error: (share * (1.0 - share) / n).sqrt(),
            });
        }
    }
    found
}

fn extra_credit(pass: &PassRule, simulated: &[Simulated]) -> Option<ExtraEffect> {
    let offered = simulated
        .iter()
        .any(|one| one.first.marks.extra_of > base::Marks::ZERO);
    if !offered {
        return None;
    }
    let n = simulated.len() as f64;
    let by_it = simulated
        .iter()
        .filter(|one| {
            let with = one.first.marks;
            let without = CandidateMarks {
                extra: base::Marks::ZERO,
                extra_waiting: base::Marks::ZERO,
                ..with
            };
            decide(pass, &with).outcome == Outcome::Pass
                && decide(pass, &without).outcome != Outcome::Pass
        })
        .count() as f64;
    let share = by_it / n;
    Some(ExtraEffect {
        mean: simulated
            .iter()
            .map(|one| one.first.marks.extra.as_f64())
            .sum::<f64>()
            / n,
        passes_by_it: share,
        error: (share * (1.0 - share) / n).sqrt(),
    })
}

/// Means of a part by group; people are dealt to groups by lot, so that they should be alike.
fn spread(
    simulated: &[Simulated],
    part: Part,
    group_of: &dyn Fn(usize) -> Option<String>,
    places: usize,
) -> Option<Spread> {
    let mut groups: BTreeMap<String, (f64, f64, f64)> = BTreeMap::new();
    for (number, one) in simulated.iter().enumerate() {
        let (Some(group), Some(marks)) =
            (group_of(number % places.max(1)), one.first.marks.part(part))
        else {
            continue;
        };
        let marks = marks.marks.as_f64();
        let sums = groups.entry(group).or_default();
        sums.0 += 1.0;
        sums.1 += marks;
        sums.2 += marks * marks;
    }
    if groups.len() < 2 {
        return None;
    }
    let groups: Vec<(String, f64, f64)> = groups
        .into_iter()
        .map(|(name, (n, sum, squares))| {
            let mean = sum / n;
            let variance = ((squares - n * mean * mean) / (n - 1.0).max(1.0)).max(0.0);
            (name, mean, (variance / n).sqrt())
        })
        .collect();
    let by_mean =
        |one: &&(String, f64, f64), other: &&(String, f64, f64)| one.1.total_cmp(&other.1);
    let (least, most) = (
        groups.iter().min_by(by_mean)?,
        groups.iter().max_by(by_mean)?,
    );
    let (largest, error) = (
        most.1 - least.1,
        (least.2 * least.2 + most.2 * most.2).sqrt(),
    );
    Some(Spread {
        largest,
        error,
        groups,
    })
}

/// What is known of one question or sample: its marks and those of the rest, script by script.
#[derive(Default)]
struct Worked {
    marks: Vec<f64>,
    rest: Vec<f64>,
    of: f64,
}

fn idle(prepared: &Prepared<'_>, simulated: &[Simulated]) -> Vec<Idle> {
    let mut worked: BTreeMap<(Part, &str), Worked> = BTreeMap::new();
    for (number, one) in simulated.iter().enumerate() {
        let Some(place) = prepared.places.get(number % prepared.places.len().max(1)) else {
            continue;
        };
        let questions = place
            .form
            .as_ref()
            .and_then(|form| prepared.forms.get(form));
        let counted = questions
            .into_iter()
            .flatten()
            .filter(|question| question.counts);
        let theory: f64 = one.first.questions.iter().sum();
        for (question, &marks) in counted.zip(&one.first.questions) {
            let known = worked
                .entry((Part::Theory, question.question.id.as_str()))
                .or_default();
            known.marks.push(marks);
            known.rest.push(theory - marks);
            known.of = question.question.marks.as_f64();
        }
        let tasting: f64 = one.first.glasses.iter().sum();
        let of = one
            .first
            .marks
            .tasting
            .map_or(0.0, |marks| marks.of.as_f64());
        let glasses = one.first.glasses.len().max(1) as f64;
        for (glass, &marks) in place.glasses.iter().zip(&one.first.glasses) {
            let known = worked
                .entry((Part::Tasting, glass.sample.as_str()))
                .or_default();
            known.marks.push(marks);
            known.rest.push(tasting - marks);
            known.of = of / glasses;
        }
    }
    worked
        .into_iter()
        .filter_map(|((part, name), known)| {
            let share = mean(&known.marks).ok()? / known.of.max(f64::MIN_POSITIVE);
            let with_rest = correlation(&known.marks, &known.rest).ok();
            // A single sample has no rest to go with.
            let alone = known.rest.iter().all(|rest| *rest == 0.0);
            let tells = with_rest.is_some_and(|r| r >= GOES_WITH_THE_REST) || alone;
            (share > NEARLY_ALL || !tells).then(|| Idle {
                what: name.to_owned(),
                part,
                share,
                with_rest,
                n: known.marks.len(),
            })
        })
        .collect()
}

#[cfg(test)]
mod tests;
