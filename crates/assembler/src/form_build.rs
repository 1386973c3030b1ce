//! From plan and bank to the program of forms: lines and clauses. What forms aim at stands in
//! [`crate::form_targets`].

use std::collections::BTreeMap;

use base::{Fault, Place};
use exam_plan::plan::{NearBest, TheoryPart, UsedOften};
use question_bank::shape::Shape;
use question_bank::{Bank, Question};

use crate::form_model::{FormModel, ModelItem, ModelLine, ModelSet, ModelSum};
use crate::form_pool::FormPool;
use crate::form_targets::Known;
use crate::question_curve::{QuestionCurve, ability_at_share};
use crate::question_length::{shared_words, words_to_read};

/// Seconds for a question that nobody has timed: a minute and a half, common practice, no source.
pub(crate) const USUAL_SECONDS: u32 = 90;

/// What forms aim at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Goal {
    /// To be as hard as each other by the author's guess, and no more: the lot decides.
    Lot,
    /// To come near the targets.
    Targets,
}

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
        let weight = line.on_average / line.usable.len().max(1) as f64;
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
    goal: Goal,
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
            most: line.most,
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
    let links = links(bank, theory, near, &mut faults);
    let counted = usize::try_from(theory.counted()).unwrap_or(usize::MAX);
    let mut model = FormModel {
        length: counted.saturating_add(pretest),
        items,
        lines,
        forms: usize::try_from(theory.forms).unwrap_or(usize::MAX).max(1),
        overlap: overlap.map(|overlap| overlap.saturating_sub(anchors.len())),
        anchors,
        enemies,
        sums: sums(bank, theory, near, &questions, first_pretest, &links),
        sets: sets(&questions),
        targets: Vec::new(),
    };
    let mut on_average: Vec<f64> = pool.lines.iter().map(|line| line.on_average).collect();
    on_average.resize(model.lines.len(), pretest as f64);
    let known = Known {
        bank,
        questions: &questions,
        first_pretest,
        items: &model.items,
        on_average: &on_average,
    };
    model.targets = match goal {
        Goal::Targets => known.targets(near, ability_at_cut(bank, pool, near.cut)),
        Goal::Lot => known.level_by_the_author(),
    };
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

/// A sum with an upper bound.
fn at_most_of(place: &Place, words: String, weights: Vec<i64>, most: i64) -> ModelSum {
    ModelSum {
        words,
        place: Some(place.clone()),
        weights,
        least: None,
        most: Some(most),
    }
}

/// Questions of a set that stand on a form at least, where any does.
fn least_of_set(question: &Question) -> usize {
    question
        .set
        .as_ref()
        .and_then(|of| usize::try_from(of.set.at_least).ok())
        .unwrap_or(1)
        .max(1)
}

/// The sets of these questions, in the order of their texts.
fn sets(questions: &[&Question]) -> Vec<ModelSet> {
    let mut found: BTreeMap<&Place, (&Question, Vec<usize>)> = BTreeMap::new();
    for (item, question) in questions.iter().enumerate() {
        if let Some(of) = &question.set {
            let entry = found.entry(&of.set.place);
            entry
                .or_insert_with(|| (*question, Vec::new()))
                .1
                .push(item);
        }
    }
    found
        .into_values()
        .filter_map(|(question, items)| {
            let set = &question.set.as_ref()?.set;
            let most = set.at_most.and_then(|most| usize::try_from(most).ok());
            Some(ModelSet {
                words: format!("the set \"{}\"", set.id),
                least: least_of_set(question),
                most: most
                    .unwrap_or(usize::MAX)
                    .min(items.len().max(least_of_set(question))),
                items,
            })
        })
        .collect()
}

/// The links; a fault for each that cannot stand on a form.
fn links<'b>(
    bank: &'b Bank,
    theory: &TheoryPart,
    near: &NearBest,
    faults: &mut Vec<Fault>,
) -> Vec<&'b Question> {
    let mut found = Vec::new();
    for (number, (id, place)) in near.links.iter().enumerate() {
        let known = bank.questions.get(id);
        let planned = |question: &Question| theory.cells.iter().any(|q| q.cell == question.cell);
        let fits = known.is_some_and(|question| {
            question.state.counts() && !question.practice_only && planned(question)
        });
        if !fits {
            faults.push(
                Fault::new(
                    "link-cannot-stand",
                    place.clone(),
                    format!("the link \"{id}\" cannot stand on a form"),
                )
                .allowed("operational questions of the plan's cells, not for practice only"),
            );
        }
        found.extend(known);
        let before = near.links.iter().take(number);
        let hostile = |(other, _): &&(base::QuestionId, Place)| {
            known.is_some_and(|question| question.enemies.contains(other))
        };
        if let Some((other, _)) = before.chain(&near.anchors).find(hostile) {
            faults.push(
                Fault::new(
                    "links-are-enemies",
                    place.clone(),
                    format!(
                        "the link \"{id}\" and \"{other}\" are enemies, and both must stand on \
                         every form"
                    ),
                )
                .hint("take one of them out"),
            );
        }
    }
    found
}

/// The bounded sums that the plan asks for, and the minutes where somebody has timed questions.
fn sums(
    bank: &Bank,
    theory: &TheoryPart,
    near: &NearBest,
    questions: &[&Question],
    first_pretest: usize,
    links: &[&Question],
) -> Vec<ModelSum> {
    // What links take of a bound that holds for all that is printed.
    let less = |most: i64, weight: &dyn Fn(&&Question) -> i64| {
        most - links.iter().map(weight).sum::<i64>()
    };
    let place = near.place.clone();
    let at_most =
        |words: String, weights: Vec<i64>, most: i64| at_most_of(&place, words, weights, most);
    let mut sums = Vec::new();
    if let Some(words) = near.words {
        // Of a shared text each question of the set takes a part; at least so many of them stand.
        let reads =
            |q: &&Question| (words_to_read(q) + shared_words(q).div_ceil(least_of_set(q))) as i64;
        let alone = |q: &&Question| (words_to_read(q) + shared_words(q)) as i64;
        sums.push(at_most(
            "words to read".to_owned(),
            questions.iter().map(reads).collect(),
            less(i64::from(words), &alone),
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
        let most = less(i64::from(theory.minutes) * 60, &seconds);
        sums.push(at_most("seconds to answer".to_owned(), weights, most));
    }
    for bound in &near.used_lately {
        let since = &bound.since;
        let lately = |q: &&Question| {
            let last = known(q).and_then(|calibration| calibration.last_used.as_ref());
            // Days are written so that their order is that of their letters.
            i64::from(last.is_some_and(|day| day >= since))
        };
        let weights = questions.iter().map(lately).collect();
        sums.push(at_most(
            format!("questions used since {since}"),
            weights,
            i64::from(bound.at_most),
        ));
    }
    if let Some(UsedOften { sittings, at_most }) = near.used_often {
        let often = |q: &&Question| {
            let stood = known(q).and_then(|calibration| calibration.sittings);
            i64::from(stood.is_some_and(|stood| stood >= sittings))
        };
        let weights = questions.iter().map(often).collect();
        sums.push(at_most_of(
            &place,
            format!("questions that stood in {sittings} sittings or more"),
            weights,
            i64::from(at_most),
        ));
    }
    if let Some(pictures) = near.pictures {
        let shows = |q: &&Question| i64::from(q.picture.is_some());
        let weights = questions.iter().map(shows).collect();
        sums.push(at_most_of(
            &place,
            "questions with a picture".to_owned(),
            weights,
            less(i64::from(pictures), &shows),
        ));
    }
    if let Some(drawn) = near.drawn_numbers {
        let draws = |q: &&Question| i64::from(q.kind.drawings(1).is_some());
        let weights = questions.iter().map(draws).collect();
        sums.push(at_most_of(
            &place,
            "questions with drawn numbers".to_owned(),
            weights,
            less(i64::from(drawn), &draws),
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
