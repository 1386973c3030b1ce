//! What longer or shorter parts would buy: a decision study from the simulated marks.
//!
//! Persons by questions (or glasses), one mark each: variance of persons, of questions, and of all
//! else ([`persons_by_items`]; Brennan 2001). Theory takes the first run of everybody, form by form,
//! weighted by scripts. Tasting takes both runs, so that one glass has a study too: what a taster
//! makes of a glass is drawn anew, so that each run is a glass as hard as the other; the variance
//! between samples comes from the first run alone. The simulation error is that of ten batches of
//! sittings.

use std::collections::BTreeMap;

use exam_plan::Exam;
use serde::Serialize;
use statistics::ScoreTable;
use statistics::generalisability::persons_by_items::persons_by_items;
use statistics::sums::{Divisor, variance};

use super::forecast::Simulated;
use super::prepared::Prepared;
use crate::decide::Part;

/// Batches for the simulation error.
const BATCHES: usize = 10;
/// A study of a batch needs so many people.
const FEWEST: usize = 30;

/// What a part of another length would yield.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Longer {
    /// The part.
    pub part: Part,
    /// Questions or samples now.
    pub now: usize,
    /// So many more; 0 for the part as it is.
    pub more: usize,
    /// The reliability then: how well it tells candidates apart.
    pub reliability: f64,
    /// Its simulation error; none with too few sittings.
    pub simulation_error: Option<f64>,
    /// The standard error of a candidate's share of the marks against a fixed cut, other questions
    /// or samples being as likely; none where one sample says nothing about others.
    pub error_of_share: Option<f64>,
}

/// Components of a part, per question or glass.
#[derive(Debug, Clone, Copy, Default)]
struct Components {
    person: f64,
    item: Option<f64>,
    residual: f64,
    /// Full marks of one question or glass on average.
    of: f64,
    weight: f64,
}

impl Components {
    fn reliability(&self, items: usize) -> Option<f64> {
        let person = self.person.max(0.0);
        let whole = person + self.residual / items.max(1) as f64;
        (whole > 0.0).then(|| person / whole)
    }
    fn error_of_share(&self, items: usize) -> Option<f64> {
        let variance = (self.item?.max(0.0) + self.residual) / items.max(1) as f64;
        (self.of > 0.0).then(|| variance.sqrt() / self.of)
    }
}

/// Studies of both parts: as they are, and longer.
pub(super) fn longer(exam: &Exam, prepared: &Prepared<'_>, simulated: &[Simulated]) -> Vec<Longer> {
    let plan = &exam.plan;
    let theory = plan.theory.as_ref().map(|part| part.counted() as usize);
    let tasting = plan.tasting.as_ref().map(|part| part.samples.len());
    let mut found = Vec::new();
    for (part, now, steps) in [
        (Part::Theory, theory, &[0, 10, 20][..]),
        (Part::Tasting, tasting, &[0, 1, 2, 4][..]),
    ] {
        let Some(now) = now.filter(|now| *now > 0) else {
            continue;
        };
        let study = |simulated: &[Simulated]| match part {
            Part::Theory => of_theory(prepared, simulated),
            Part::Tasting => of_tasting(prepared, simulated),
        };
        let Some(made) = study(simulated) else {
            continue;
        };
        let places = prepared.places.len().max(1);
        let simulated = with_single_marks(simulated);
        let in_batch = simulated.len().div_ceil(places * BATCHES).max(1) * places;
        let batches: Vec<Components> = if in_batch < FEWEST {
            Vec::new()
        } else {
            let chunks = simulated.chunks(in_batch);
            chunks.filter_map(study).collect()
        };
        for &more in steps {
            let Some(reliability) = made.reliability(now + more) else {
                continue;
            };
            let of_batches: Vec<f64> = batches
                .iter()
                .filter_map(|batch| batch.reliability(now + more))
                .collect();
            let simulation_error = variance(&of_batches, Divisor::CountLessOne)
                .ok()
                .map(|variance| (variance / of_batches.len() as f64).sqrt());
            found.push(Longer {
                part,
                now,
                more,
                reliability,
                simulation_error,
                error_of_share: made.error_of_share(now + more),
            });
        }
    }
    found
}

/// The scripts of which single marks were kept; they come first.
fn with_single_marks(simulated: &[Simulated]) -> &[Simulated] {
    let kept = simulated
        .partition_point(|one| !one.first.questions.is_empty() || !one.first.glasses.is_empty());
    simulated.get(..kept).unwrap_or(simulated)
}

/// How many of a kind would be needed for a reliability; none where persons hardly differ.
pub(super) fn needed_for(longer: &Longer, wanted: f64) -> Option<usize> {
    let now = longer.reliability;
    if now <= 0.05 || longer.more > 0 {
        return None;
    }
    // Spearman and Brown 1910: a part k times as long has reliability k r / (1 + (k - 1) r).
    let times = wanted * (1.0 - now) / (now * (1.0 - wanted));
    // A whole number that rounding lifted by a hair is still that number.
    let number = (longer.now as f64 * times - 1e-9).ceil();
    (number < 10_000.0).then_some(number as usize)
}

fn components(rows: &[Vec<f64>]) -> Option<Components> {
    let table = ScoreTable::new(rows).ok()?;
    let made = persons_by_items(&table).ok()?;
    Some(Components {
        person: made.person_variance,
        item: Some(made.item_variance),
        residual: made.residual_variance,
        of: 0.0,
        weight: rows.len() as f64,
    })
}

/// Theory, form by form.
fn of_theory(prepared: &Prepared<'_>, simulated: &[Simulated]) -> Option<Components> {
    let mut tables: BTreeMap<&str, (Vec<Vec<f64>>, f64)> = BTreeMap::new();
    let places = prepared.places.len().max(1);
    for (number, one) in simulated.iter().enumerate() {
        let place = prepared.places.get(number % places);
        let Some(form) = place.and_then(|place| place.form.as_ref()) else {
            continue;
        };
        if one.whole && one.first.questions.len() > 1 {
            let of = one
                .first
                .marks
                .theory
                .map_or(0.0, |marks| marks.of.as_f64());
            let table = tables.entry(form.as_str()).or_default();
            table.1 = of / one.first.questions.len() as f64;
            table.0.push(one.first.questions.clone());
        }
    }
    let made: Vec<Components> = tables
        .values()
        .filter_map(|(rows, of)| {
            let made = components(rows)?;
            Some(Components { of: *of, ..made })
        })
        .collect();
    let weight: f64 = made.iter().map(|one| one.weight).sum();
    if weight <= 0.0 {
        return None;
    }
    let mean = |of: &dyn Fn(&Components) -> f64| {
        made.iter().map(|one| one.weight * of(one)).sum::<f64>() / weight
    };
    Some(Components {
        person: mean(&|one| one.person),
        item: Some(mean(&|one| one.item.unwrap_or(0.0))),
        residual: mean(&|one| one.residual),
        of: mean(&|one| one.of),
        weight,
    })
}

/// Tasting, glasses in the order of the samples.
fn of_tasting(prepared: &Prepared<'_>, simulated: &[Simulated]) -> Option<Components> {
    let places = prepared.places.len().max(1);
    let (mut both, mut first_run) = (Vec::new(), Vec::new());
    let mut of = 0.0;
    for (number, one) in simulated.iter().enumerate().filter(|(_, one)| one.whole) {
        let Some(place) = prepared.places.get(number % places) else {
            continue;
        };
        let in_order = |marks: &[f64]| -> Vec<f64> {
            let mut by_sample: Vec<(&str, f64)> = place
                .glasses
                .iter()
                .zip(marks)
                .map(|(glass, marks)| (glass.sample.as_str(), *marks))
                .collect();
            by_sample.sort_by(|one, other| one.0.cmp(other.0));
            by_sample.into_iter().map(|(_, marks)| marks).collect()
        };
        let first = in_order(&one.first.glasses);
        if first.is_empty() {
            continue;
        }
        let marks = one.first.marks.tasting;
        of = marks.map_or(0.0, |marks| marks.of.as_f64()) / first.len() as f64;
        let mut row = first.clone();
        row.extend(in_order(&one.second_glasses));
        both.push(row);
        first_run.push(first);
    }
    let made = components(&both)?;
    let samples = first_run.first().map_or(0, Vec::len);
    let item = if samples > 1 {
        components(&first_run).and_then(|made| made.item)
    } else {
        None
    };
    Some(Components { item, of, ..made })
}
