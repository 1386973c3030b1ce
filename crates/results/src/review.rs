//! Who lies so near a cut that an error of measurement could have decided, what to look at before
//! results are released, and how many decisions are expected to be wrong.
//!
//! Errors at the cut, as shares of full marks:
//! - theory: binomial error (Lord 1955, 1957) at the cut, for questions of unequal marks
//!   √(c (1 − c) Σw²/(Σw)² · k/(k − 1)) with k questions of marks w. It asks for no class, and where
//!   questions differ in difficulty, or earn part marks, it is too large rather than too small;
//! - tasting: √(k · residual variance of persons with glasses), which is the error that coefficient
//!   alpha implies; with one glass, of persons with the things asked of it. From those who taste with
//!   nothing waiting, five at least (common practice, no source); it stands for those who nose, too;
//! - the weighted total: the root of both squares, each times its weight.
//!
//! The chance of a wrong decision takes true shares to lie normally around the share that was scored,
//! and the errors of the parts to be independent: a rule of thumb that is worst at the ends of the
//! scale and honest near the cut, where it is wanted.

use base::{CandidateNumber, Marks};
use exam_plan::plan::Join;
use exam_plan::{Exam, TastingWay};
use grader::{Award, Item};
use serde::Serialize;
use statistics::distribution::normal;
use statistics::generalisability::persons_by_items::persons_by_items;
use statistics::{Refusal, ScoreTable};

use crate::decide::{Decision, Outcome, Part, Reached};
use crate::decision_words::{marks_in_words, percent};
use crate::regrade::item_name;
use crate::script::Script;

/// So many items are named to be looked at, for each candidate.
const MOST_ITEMS: usize = 5;
/// Fewer than so many tasters give no error of the tasting part.
const FEWEST_TASTERS: usize = 5;

/// What is known of decisions near the cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Review {
    /// So many thousandths of an error on either side of a cut are looked at; none where the plan
    /// wants nobody looked at.
    pub band: Option<u32>,
    /// The error of the tasting part as a share; none without glasses.
    pub tasting_error: Option<Result<f64, Refusal>>,
    /// Who is to be looked at before release, in the order of the roster.
    pub candidates: Vec<UnderReview>,
    /// Decisions of so many.
    pub decided: usize,
    /// The share of them that is expected to be wrong; none where an error is not known.
    pub wrong: Option<f64>,
    /// In plain sentences.
    pub sentences: Vec<String>,
}

/// One candidate within the band.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct UnderReview {
    /// Who.
    pub candidate: CandidateNumber,
    /// The decision as it stands.
    pub outcome: Outcome,
    /// How near, part by part.
    pub near: Vec<String>,
    /// The chance that the decision is wrong.
    pub wrong: Option<f64>,
    /// What to look at first, with what it earned.
    pub look_at: Vec<String>,
    /// The marks that a review speaks of: while they are the same, it holds.
    pub marks: String,
}

/// A share beside its cut.
#[derive(Debug, Clone, Copy)]
struct AtCut {
    /// The part; none for the weighted total.
    part: Option<Part>,
    share: f64,
    cut: f64,
    error: Option<f64>,
}

impl AtCut {
    fn reached(&self) -> bool {
        // Shares are quotients of thousandths; a cut that is met exactly is met.
        self.share + 1e-12 >= self.cut
    }
    fn near(&self, band: f64) -> bool {
        // A cut of nothing cannot be missed.
        self.cut > 0.0
            && self
                .error
                .is_some_and(|error| error > 0.0 && (self.share - self.cut).abs() <= band * error)
    }
    /// The chance that the true share reaches the cut.
    fn truly(&self) -> Option<f64> {
        // Nobody is truly below nothing, whatever the error.
        if self.cut <= 0.0 {
            return Some(1.0);
        }
        let error = self.error?;
        if error <= 0.0 {
            return Some(f64::from(u8::from(self.reached())));
        }
        Some(normal::lower_tail((self.share - self.cut) / error))
    }
}

/// Looks at all decisions of a sitting.
#[must_use]
pub fn review(exam: &Exam, scripts: &[Script<'_>]) -> Review {
    let tasting_error = exam
        .plan
        .tasting
        .as_ref()
        .map(|_| tasting_error(exam, scripts));
    let taste = tasting_error.as_ref().and_then(|error| error.as_ref().ok());
    let band = exam.plan.results.review;
    let mut candidates = Vec::new();
    let mut chances = Vec::new();
    let mut decided = 0;
    for script in scripts {
        if !matches!(script.decision.outcome, Outcome::Pass | Outcome::Fail) {
            continue;
        }
        decided += 1;
        let at_cuts = at_cuts(exam, script, taste.copied());
        let wrong = wrong(&script.decision, &at_cuts);
        chances.extend(wrong);
        if let Some(band) = band
            && could_turn(&at_cuts, f64::from(band) / 1000.0)
        {
            candidates.push(under_review(
                script,
                &at_cuts,
                f64::from(band) / 1000.0,
                wrong,
            ));
        }
    }
    let wrong = (decided > 0 && chances.len() == decided).then(|| {
        #[allow(clippy::cast_precision_loss)]
        let n = decided as f64;
        chances.iter().sum::<f64>() / n
    });
    let mut made = Review {
        band,
        tasting_error,
        candidates,
        decided,
        wrong,
        sentences: Vec::new(),
    };
    made.sentences = made.in_words();
    made
}

impl Review {
    fn in_words(&self) -> Vec<String> {
        let mut words = Vec::new();
        if let Some(Err(refusal)) = &self.tasting_error {
            words.push(match self.band {
                Some(_) => format!(
                    "Nobody is listed for the tasting, since its error is not known: {refusal}."
                ),
                None => {
                    format!("How many decisions are expected to be wrong is not known: {refusal}.")
                }
            });
        }
        if let Some(wrong) = self.wrong {
            words.push(format!(
                "Of {} decisions {:.1} are expected to be wrong ({:.0} in a hundred), by the errors \
                 of measurement at the cut.",
                self.decided,
                wrong * count(self.decided),
                wrong * 100.0
            ));
        }
        if let Some(band) = self.band {
            words.push(format!(
                "{} within {} of a cut that decides: look at them before release.",
                match self.candidates.len() {
                    0 => "Nobody lies".to_owned(),
                    1 => "1 candidate lies".to_owned(),
                    several => format!("{several} candidates lie"),
                },
                match band {
                    1000 => "one standard error".to_owned(),
                    _ => format!("{} standard errors", f64::from(band) / 1000.0),
                }
            ));
        }
        words
    }
}

#[allow(clippy::cast_precision_loss)]
fn count(number: usize) -> f64 {
    number as f64
}

/// Whether moving every near share over its cut would turn the decision.
fn could_turn(at_cuts: &[AtCut], band: f64) -> bool {
    let at_best = at_cuts.iter().all(|at| at.reached() || at.near(band));
    let at_worst = at_cuts.iter().all(|at| at.reached() && !at.near(band));
    at_best && !at_worst
}

/// The chance that a decision is wrong.
fn wrong(decision: &Decision, at_cuts: &[AtCut]) -> Option<f64> {
    let mut truly_passes = 1.0;
    for at in at_cuts {
        truly_passes *= at.truly()?;
    }
    match decision.outcome {
        Outcome::Pass => Some(1.0 - truly_passes),
        Outcome::Fail => Some(truly_passes),
        Outcome::Waiting | Outcome::Absent => None,
    }
}

fn at_cuts(exam: &Exam, script: &Script<'_>, taste: Option<f64>) -> Vec<AtCut> {
    let share = |cut: u32| f64::from(cut) / 1000.0;
    let decision = &script.decision;
    let error = |part: Part, cut: f64| match part {
        Part::Theory => theory_error(&script.awards, cut),
        Part::Tasting => taste,
    };
    let pass = exam.plan.pass_rule(exam.way_of(&script.place.candidate));
    match pass.join {
        Join::Conjunctive { .. } => decision
            .parts
            .iter()
            .filter_map(|part| {
                let cut = share(part.cut?);
                let extra = match (part.part, &decision.extra) {
                    (Part::Tasting, Some(extra)) if pass.extra_may_turn_fail_into_pass => {
                        extra.added
                    }
                    (Part::Theory | Part::Tasting, _) => Marks::ZERO,
                };
                Some(AtCut {
                    part: Some(part.part),
                    share: (part.marks.marks + extra).fraction_of(part.marks.of),
                    cut,
                    error: error(part.part, cut),
                })
            })
            .collect(),
        Join::Compensatory {
            total,
            theory_weight,
        } => {
            let cut = share(total);
            let weight = |part| match (decision.parts.len(), decision.brought.is_some(), part) {
                (1, false, _) => 1.0,
                (_, _, Part::Theory) => share(theory_weight),
                (_, _, Part::Tasting) => 1.0 - share(theory_weight),
            };
            let squares: Option<f64> = decision
                .parts
                .iter()
                .map(|part| {
                    let weighed = weight(part.part) * error(part.part, cut)?;
                    Some(weighed * weighed)
                })
                .sum();
            vec![AtCut {
                part: None,
                share: share(decision.total.per_mille),
                cut,
                error: squares.map(f64::sqrt),
            }]
        }
    }
}

/// The binomial error of a theory paper at a cut, as a share; none with fewer than two questions.
fn theory_error(awards: &[&Award], cut: f64) -> Option<f64> {
    let marks: Vec<f64> = awards
        .iter()
        .filter(|award| award.counts && matches!(award.item, Item::Theory { .. }))
        .map(|award| award.of.as_f64())
        .collect();
    let whole: f64 = marks.iter().sum();
    if marks.len() < 2 || whole <= 0.0 {
        return None;
    }
    let squares: f64 = marks.iter().map(|marks| marks * marks).sum();
    let questions = count(marks.len());
    let variance = cut * (1.0 - cut) * squares / (whole * whole) * questions / (questions - 1.0);
    Some(variance.sqrt())
}

/// The error of the tasting part as a share of its full marks.
fn tasting_error(exam: &Exam, scripts: &[Script<'_>]) -> Result<f64, Refusal> {
    let mut rows = Vec::new();
    let mut whole = 0.0;
    for script in scripts {
        let awards: Vec<&Award> = script
            .awards
            .iter()
            .copied()
            .filter(|award| {
                award.counts && !award.extra && matches!(award.item, Item::Tasting { .. })
            })
            .collect();
        let usual = exam.way_of(&script.place.candidate) == TastingWay::Full;
        if !usual
            || awards.is_empty()
            || script.decision.outcome == Outcome::Absent
            || awards.iter().any(|award| award.outcome.waits())
        {
            continue;
        }
        let of: Marks = awards.iter().map(|award| award.of).sum();
        whole = of.as_f64();
        rows.push(columns(script.place.glasses.len(), &awards));
    }
    if rows.len() < FEWEST_TASTERS {
        return Err(Refusal::TooFew {
            of: "candidates",
            have: rows.len(),
            need: FEWEST_TASTERS,
            reason: "with fewer, the error of a tasting rests on next to nothing; common practice, no source",
        });
    }
    let table = ScoreTable::new(&rows)?;
    let found = persons_by_items(&table)?;
    let variance = count(found.items) * found.residual_variance.max(0.0);
    Ok(variance.sqrt() / whole)
}

/// Marks by glass; by what was asked where there is one glass.
fn columns(glasses: usize, awards: &[&Award]) -> Vec<f64> {
    if glasses < 2 {
        return awards.iter().map(|award| award.marks().as_f64()).collect();
    }
    let mut columns = vec![0.0; glasses];
    for award in awards {
        if let Item::Tasting { glass, .. } = &award.item
            && let Some(column) = usize::try_from(*glass)
                .ok()
                .and_then(|glass| columns.get_mut(glass.checked_sub(1)?))
        {
            *column += award.marks().as_f64();
        }
    }
    columns
}

fn under_review(
    script: &Script<'_>,
    at_cuts: &[AtCut],
    band: f64,
    wrong: Option<f64>,
) -> UnderReview {
    let near: Vec<&AtCut> = at_cuts.iter().filter(|at| at.near(band)).collect();
    let concerns = |award: &Award| {
        let part = match award.item {
            Item::Theory { .. } => Part::Theory,
            Item::Tasting { .. } => Part::Tasting,
        };
        near.iter().any(|at| at.part.is_none_or(|own| own == part))
    };
    let mut partly: Vec<&Award> = script
        .awards
        .iter()
        .copied()
        .filter(|award| award.counts && !award.extra && concerns(award))
        .filter(|award| award.marks() > Marks::ZERO && award.marks() < award.of)
        .collect();
    // Where most could still be found comes first; ties in the order of the paper.
    partly.sort_by_key(|award| award.marks() - award.of);
    let look_at = partly
        .iter()
        .take(MOST_ITEMS)
        .map(|award| {
            format!(
                "{} ({} of {})",
                item_name(&award.item),
                award.marks(),
                award.of
            )
        })
        .collect();
    UnderReview {
        candidate: script.place.candidate.clone(),
        outcome: script.decision.outcome,
        near: near.iter().map(|at| at_cut_in_words(script, at)).collect(),
        wrong,
        look_at,
        marks: marks_of(&script.decision),
    }
}

/// "tasting 0.8 marks above its cut of 50 %, one error is 2.1 marks".
fn at_cut_in_words(script: &Script<'_>, at: &AtCut) -> String {
    let error = at.error.unwrap_or(0.0);
    // Between 0 and 1000 after the bounds of a plan.
    let cut = percent((at.cut * 1000.0).round() as u32);
    let side = if at.reached() { "above" } else { "below" };
    let part = at.part.and_then(|part| {
        let decided = script.decision.parts.iter().find(|d| d.part == part)?;
        Some((part, decided.marks.of))
    });
    match part {
        Some((part, of)) => {
            let off = of.credit((at.share - at.cut).abs()).unwrap_or(Marks::ZERO);
            let at_it = off == Marks::ZERO;
            let off = marks_in_words(off);
            let place = if at_it {
                format!("at its cut of {cut}")
            } else {
                format!("{off} {side} its cut of {cut}")
            };
            format!(
                "{part} {place}; one error is {:.1} marks",
                error * of.as_f64()
            )
        }
        None => format!(
            "together {:.1} % {side} the cut of {cut}; one error is {:.1} %",
            (at.share - at.cut).abs() * 100.0,
            error * 100.0
        ),
    }
}

/// The marks of a decision, by which a review knows whether it still speaks of the same.
#[must_use]
pub fn marks_of(decision: &Decision) -> String {
    let parts = decision.parts.iter().map(|part| {
        let reached = match part.reached {
            Some(Reached::Yes) => ", reached",
            Some(Reached::No) => ", not reached",
            Some(Reached::Open) | None => "",
        };
        format!(
            "{} {} of {}{reached}",
            part.part, part.marks.marks, part.marks.of
        )
    });
    let parts: Vec<String> = parts.collect();
    format!("{}: {}", decision.outcome, parts.join("; "))
}

#[cfg(test)]
mod tests;
