//! From plan and bank to the program of forms: lines, clauses and targets.
//!
//! What is aimed at depends on what the bank knows. Where every counted question that may be drawn
//! has parameters, or the plan gives a target: information at abilities, in per cent of the target,
//! and the expected marks at the cut, in per cent of their mean. Else the expected marks at the cut
//! and the variance of the marks there, in marks. Targets that the plan does not give are those of
//! average questions of each line, so that no form is favoured.

use std::collections::BTreeMap;

use base::Fault;
use exam_plan::plan::{NearBest, TheoryPart};
use question_bank::shape::Shape;
use question_bank::{Bank, Question};

use crate::form_model::{FormModel, ModelItem, ModelLine, ModelSum, ModelTarget, WHOLE};
use crate::form_pool::FormPool;
use crate::question_curve::{KnownFrom, QuestionCurve, ability_at_share};
use crate::question_length::words_to_read;

/// Seconds for a question that nobody has timed: a minute and a half, common practice, no source.
pub(crate) const USUAL_SECONDS: u32 = 90;

/// A program with what is needed to speak of it.
pub(crate) struct Built<'p> {
    pub(crate) model: FormModel,
    /// The questions behind the items.
    pub(crate) questions: Vec<&'p Question>,
    /// The first item that is a pretest question; those before count.
    pub(crate) first_pretest: usize,
}

/// The ability at which an average form of the plan is expected to reach the cut.
pub(crate) fn ability_at_cut(bank: &Bank, pool: &FormPool<'_>, cut: u32) -> f64 {
    let mut curves = Vec::new();
    for line in &pool.lines {
        let weight = line.wanted as f64 / line.usable.len().max(1) as f64;
        for &number in &line.usable {
            let question = pool.questions[number];
            curves.push((curve_of(bank, question), weight * question.marks.as_f64()));
        }
    }
    ability_at_share(&curves, f64::from(cut) / 1000.0)
}

/// The curve of a question of this bank.
pub(crate) fn curve_of(bank: &Bank, question: &Question) -> QuestionCurve {
    QuestionCurve::of(question, bank.calibration.get(&question.id))
}

/// Builds the program. The overlap is given apart, since a plan may leave it open.
///
/// # Errors
/// Anchors that cannot stand on a form, and clauses that contradict each other.
pub(crate) fn build<'p>(
    bank: &Bank,
    pool: &FormPool<'p>,
    theory: &TheoryPart,
    near: &NearBest,
    overlap: Option<usize>,
) -> Result<Built<'p>, Vec<Fault>> {
    let mut questions: Vec<&Question> = Vec::new();
    let mut items = Vec::new();
    let mut item_of: BTreeMap<usize, usize> = BTreeMap::new();
    let mut lines = Vec::new();
    for (number, line) in pool.lines.iter().enumerate() {
        for &usable in &line.usable {
            item_of.insert(usable, items.len());
            questions.push(pool.questions[usable]);
            items.push(ModelItem {
                name: pool.questions[usable].id.to_string(),
                line: number,
                shared_counts: true,
            });
        }
        lines.push(ModelLine {
            words: line.words(),
            place: Some(line.quota.place.clone()),
            least: line.wanted,
            most: line.wanted,
        });
    }
    let first_pretest = items.len();
    let pretest = usize::try_from(theory.pretest).unwrap_or(usize::MAX);
    if pretest > 0 {
        for &number in &pool.pretest {
            item_of.insert(number, items.len());
            questions.push(pool.questions[number]);
            items.push(ModelItem {
                name: pool.questions[number].id.to_string(),
                line: lines.len(),
                shared_counts: false,
            });
        }
        lines.push(ModelLine {
            words: "pretest questions".to_owned(),
            place: pool.place.clone(),
            least: pretest,
            most: pretest,
        });
    }
    let mut enemies = Vec::new();
    for (number, list) in pool.enemies.iter().enumerate() {
        for &other in list.iter().filter(|&&other| other > number) {
            if let (Some(&one), Some(&other)) = (item_of.get(&number), item_of.get(&other)) {
                enemies.push((one.min(other), one.max(other)));
            }
        }
    }
    enemies.sort_unstable();
    let mut faults = Vec::new();
    let anchors = anchors(
        near,
        &questions,
        first_pretest,
        overlap,
        &enemies,
        &mut faults,
    );
    let mut model = FormModel {
        length: lines.iter().map(|line| line.least).sum(),
        items,
        lines,
        forms: usize::try_from(theory.forms).unwrap_or(usize::MAX).max(1),
        overlap: overlap.map(|overlap| overlap.saturating_sub(anchors.len())),
        anchors,
        enemies,
        sums: sums(bank, theory, near, &questions, first_pretest),
        sets: Vec::new(),
        targets: Vec::new(),
    };
    model.targets = targets(
        bank,
        pool,
        near,
        &questions,
        first_pretest,
        &model.lines,
        &model.items,
    );
    faults.extend(model.faults());
    if faults.is_empty() {
        Ok(Built {
            model,
            questions,
            first_pretest,
        })
    } else {
        Err(faults)
    }
}

/// The anchors as items, ascending.
fn anchors(
    near: &NearBest,
    questions: &[&Question],
    first_pretest: usize,
    overlap: Option<usize>,
    enemies: &[(usize, usize)],
    faults: &mut Vec<Fault>,
) -> Vec<usize> {
    let mut found: Vec<usize> = Vec::new();
    for (id, place) in &near.anchors {
        let item = questions
            .iter()
            .take(first_pretest)
            .position(|q| q.id == *id);
        let Some(item) = item else {
            faults.push(
                Fault::new(
                    "anchor-cannot-stand",
                    place.clone(),
                    format!("the anchor \"{id}\" cannot stand on a form"),
                )
                .allowed("operational questions of the plan's cells, not for practice only"),
            );
            continue;
        };
        let hostile = |&&other: &&usize| enemies.contains(&(item.min(other), item.max(other)));
        if let Some(&other) = found.iter().find(hostile) {
            let name = questions.get(other).map_or("?", |q| q.id.as_str());
            faults.push(
                Fault::new(
                    "anchors-are-enemies",
                    place.clone(),
                    format!("the anchors \"{id}\" and \"{name}\" are enemies, and both must stand on every form"),
                )
                .hint("take one of them off the anchors"),
            );
            continue;
        }
        if !found.contains(&item) {
            found.push(item);
        }
    }
    if let (Some(overlap), Some((_, place))) = (overlap, near.anchors.first())
        && found.len() > overlap
    {
        faults.push(
            Fault::new(
                "more-anchors-than-overlap",
                place.clone(),
                format!(
                    "{} anchors stand on every form, and two forms may have {overlap} questions in common",
                    found.len()
                ),
            )
            .hint(format!("allow an overlap of {} or name fewer anchors", found.len())),
        );
    }
    found.sort_unstable();
    found
}

/// The bounded sums that the plan asks for, and the minutes where somebody has timed questions.
fn sums(
    bank: &Bank,
    theory: &TheoryPart,
    near: &NearBest,
    questions: &[&Question],
    first_pretest: usize,
) -> Vec<ModelSum> {
    let place = near.place.clone();
    let at_most = |words: String, weights: Vec<i64>, most: i64| ModelSum {
        words,
        place: Some(place.clone()),
        weights,
        least: None,
        most: Some(most),
    };
    let mut sums = Vec::new();
    if let Some(words) = near.words {
        let weights = questions.iter().map(|q| words_to_read(q) as i64).collect();
        sums.push(at_most(
            "words to read".to_owned(),
            weights,
            i64::from(words),
        ));
    }
    let known = |question: &Question| bank.calibration.get(&question.id);
    if questions
        .iter()
        .any(|q| known(q).is_some_and(|c| c.seconds.is_some()))
    {
        let seconds = |q: &&Question| {
            let timed = known(q).and_then(|calibration| calibration.seconds);
            i64::from(timed.unwrap_or(USUAL_SECONDS))
        };
        let weights = questions.iter().map(seconds).collect();
        let most = i64::from(theory.minutes) * 60;
        sums.push(at_most("seconds to answer".to_owned(), weights, most));
    }
    if let Some((since, most)) = &near.used_lately {
        let lately = |q: &&Question| {
            let last = known(q).and_then(|calibration| calibration.last_used.as_ref());
            // Days are written so that their order is that of their letters.
            i64::from(last.is_some_and(|day| day >= since))
        };
        let weights = questions.iter().map(lately).collect();
        sums.push(at_most(
            format!("questions used since {since}"),
            weights,
            i64::from(*most),
        ));
    }
    if let Some(most) = near.same_letter {
        let fixed: Vec<Option<usize>> = questions
            .iter()
            .enumerate()
            .map(|(number, question)| match question.kind.shape() {
                Shape::Choice { options, one: true }
                    if number < first_pretest && question.kind.keeps_order() =>
                {
                    options.iter().position(|option| option.key)
                }
                Shape::Choice { .. }
                | Shape::Number { .. }
                | Shape::Order { .. }
                | Shape::Columns { .. }
                | Shape::Words { .. }
                | Shape::Space { .. } => None,
            })
            .collect();
        let places = fixed.iter().flatten().max().map_or(0, |last| last + 1);
        for place in 0..places {
            let letter = question_bank::printed_order::letter(place);
            let weights: Vec<i64> = fixed.iter().map(|f| i64::from(*f == Some(place))).collect();
            sums.push(at_most(
                format!("questions whose key always stands at {letter}"),
                weights,
                i64::from(most),
            ));
        }
    }
    sums
}

/// A number in whole units of which [`WHOLE`] are `one`.
fn in_units(value: f64, one: f64) -> i64 {
    let units = value / one * WHOLE as f64;
    // Beyond any deviation that is told apart.
    units.clamp(-1e16, 1e16).round() as i64
}

fn targets(
    bank: &Bank,
    pool: &FormPool<'_>,
    near: &NearBest,
    questions: &[&Question],
    first_pretest: usize,
    lines: &[ModelLine],
    items: &[ModelItem],
) -> Vec<ModelTarget> {
    let curves: Vec<QuestionCurve> = questions.iter().map(|q| curve_of(bank, q)).collect();
    let counted = |item: usize| item < first_pretest;
    // What an average form has of something: each line's mean times what the line asks.
    let average = |value: &dyn Fn(usize) -> f64| -> f64 {
        let mut sum = 0.0;
        for (number, line) in lines.iter().enumerate() {
            let values: Vec<f64> = (0..first_pretest)
                .filter(|&item| items.get(item).is_some_and(|i| i.line == number))
                .map(value)
                .collect();
            if !values.is_empty() {
                sum += values.iter().sum::<f64>() / values.len() as f64 * line.least as f64;
            }
        }
        sum
    };
    let target = |words: String, value: &dyn Fn(usize) -> f64, wanted: f64, one: f64| ModelTarget {
        words,
        weights: (0..questions.len())
            .map(|item| {
                if counted(item) {
                    in_units(value(item), one)
                } else {
                    0
                }
            })
            .collect(),
        wanted: in_units(wanted, one),
    };
    let cut = ability_at_cut(bank, pool, near.cut);
    let marks = |item: usize| questions.get(item).map_or(0.0, |q| q.marks.as_f64());
    let expected =
        |item: usize| curves.get(item).map_or(0.0, |curve| curve.right_at(cut)) * marks(item);
    let all_known = curves
        .iter()
        .take(first_pretest)
        .all(|curve| curve.known == KnownFrom::Parameters);
    let mut targets = Vec::new();
    if all_known || !near.target.is_empty() {
        let wanted: Vec<(f64, Option<f64>)> = if near.target.is_empty() {
            [cut - 1.0, cut, cut + 1.0]
                .map(|ability| (ability, None))
                .to_vec()
        } else {
            near.target
                .iter()
                .map(|t| (t.ability, Some(t.information)))
                .collect()
        };
        for (ability, given) in wanted {
            let value = |item: usize| {
                curves
                    .get(item)
                    .map_or(0.0, |curve| curve.information_at(ability))
            };
            let wanted = given.unwrap_or_else(|| average(&value));
            if wanted > 0.0 {
                let words = format!("information at ability {ability:.2}");
                targets.push(target(words, &value, wanted, wanted));
            }
        }
        let wanted = average(&expected);
        if wanted > 0.0 {
            let words = "expected marks at the cut".to_owned();
            targets.push(target(words, &expected, wanted, wanted));
        }
    } else {
        let words = "expected marks at the cut".to_owned();
        targets.push(target(words, &expected, average(&expected), 1.0));
        let spread = |item: usize| {
            let p = curves.get(item).map_or(0.0, |curve| curve.right_at(cut));
            p * (1.0 - p) * marks(item) * marks(item)
        };
        let words = "variance of the marks at the cut".to_owned();
        targets.push(target(words, &spread, average(&spread), 1.0));
    }
    let mut different: Vec<i64> = questions
        .iter()
        .take(first_pretest)
        .map(|q| q.marks.thousandths())
        .collect();
    different.sort_unstable();
    different.dedup();
    if different.len() > 1 {
        let wanted = average(&marks).round();
        targets.push(target("full marks".to_owned(), &marks, wanted, 1.0));
    }
    targets
}
