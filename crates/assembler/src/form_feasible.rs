//! Whether clauses can hold together at all, decided exactly by a program in whole numbers.
//!
//! Questions that no clause tells apart are one kind, and what is unknown is how many of a kind
//! stand on exactly which forms. Without an overlap the forms do not touch each other and one is
//! looked at; with none allowed each question has one form; else every set of forms is a pattern,
//! which is carried out up to [`MOST_FORMS`] forms. The search of the solver is bounded in nodes
//! and never in time; where it stops, nothing is claimed.

use std::collections::{BTreeMap, BTreeSet};

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolveOptions, Variable};

use crate::form_model::FormModel;

/// With an overlap that must be counted, up to so many forms are decided.
pub const MOST_FORMS: usize = 5;
/// Nodes of the solver's search for a small program.
const NODES: u64 = 3_000;
/// Unknowns times nodes: a larger program is searched in fewer nodes, since each costs more.
const WORK: u64 = 150_000;
/// Unknowns beyond which nothing is tried.
const MOST_UNKNOWNS: usize = 6_000;

/// A clause of a program, for leaving it out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Clause {
    /// A bounded sum.
    Sum(usize),
    /// A shared stem.
    Set(usize),
    /// A pair of enemies, as a place in the program's list.
    Enemies(usize),
    /// The questions that stand on every form.
    Anchors,
    /// What two forms may have in common.
    Overlap,
    /// A line of the blueprint.
    Line(usize),
    /// How many questions a form has, where lines ask for ranges.
    Length,
}

/// All clauses of a program, those first that an explanation can best do without.
#[must_use]
pub fn clauses(model: &FormModel) -> Vec<Clause> {
    let mut all: Vec<Clause> = (0..model.lines.len()).map(Clause::Line).collect();
    if !model.lines_are_exact() {
        all.push(Clause::Length);
    }
    all.extend((0..model.enemies.len()).map(Clause::Enemies));
    all.extend((0..model.sets.len()).map(Clause::Set));
    all.extend((0..model.sums.len()).map(Clause::Sum));
    if !model.anchors.is_empty() {
        all.push(Clause::Anchors);
    }
    if model.overlap.is_some() && model.forms > 1 {
        all.push(Clause::Overlap);
    }
    all
}

/// Whether forms exist.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Feasible {
    /// They do.
    Yes,
    /// They do not.
    No,
    /// Not decided within the bounds of this file.
    Undecided,
}

/// One kind of question.
struct Kind {
    /// Any question of it.
    item: usize,
    number: usize,
}

/// Whether forms exist that keep these clauses of a program; targets do not matter.
#[must_use]
pub fn feasible(model: &FormModel, kept: &BTreeSet<Clause>) -> Feasible {
    let overlap = match model.overlap {
        Some(overlap) if kept.contains(&Clause::Overlap) => Some(overlap),
        Some(_) | None => None,
    };
    let anchors: &[usize] = if kept.contains(&Clause::Anchors) {
        &model.anchors
    } else {
        &[]
    };
    let forms = match overlap {
        None => 1,
        Some(_) => model.forms.max(1),
    };
    let patterns: Vec<u32> = match overlap {
        None => vec![1],
        Some(0) if forms <= 31 => (0..forms).map(|form| 1 << form).collect(),
        Some(_) if forms <= MOST_FORMS => (1..1_u32 << forms).collect(),
        Some(_) => return Feasible::Undecided,
    };
    let kinds = kinds(model, kept, anchors);
    if kinds.len().saturating_mul(patterns.len()) > MOST_UNKNOWNS {
        return Feasible::Undecided;
    }
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let mut unknown: Vec<Vec<(u32, Variable)>> = Vec::with_capacity(kinds.len());
    for kind in &kinds {
        // Questions of one kind are interchangeable, and those that do not count as common may
        // stand on every form.
        let counts = model.items.get(kind.item).is_some_and(|i| i.shared_counts);
        let most = i32::try_from(kind.number).unwrap_or(i32::MAX);
        let row: Vec<(u32, Variable)> = if counts || forms == 1 {
            let new = |&pattern: &u32| (pattern, problem.add_integer_var(0.0, (0, most)));
            patterns.iter().map(new).collect()
        } else {
            let new = |form| (1_u32 << form, problem.add_integer_var(0.0, (0, most)));
            (0..forms).map(new).collect()
        };
        if counts && row.len() > 1 {
            let all = row.iter().map(|(_, unknown)| (*unknown, 1.0));
            problem.add_constraint(
                all.collect::<Vec<_>>(),
                ComparisonOp::Le,
                kind.number as f64,
            );
        }
        unknown.push(row);
    }
    for form in 0..forms {
        one_form(model, kept, anchors, &kinds, &unknown, form, &mut problem);
    }
    if let Some(overlap) = overlap
        && overlap > 0
    {
        for one in 0..forms {
            for other in 0..one {
                let both = (1_u32 << one) | (1 << other);
                let row: Vec<(Variable, f64)> = unknown
                    .iter()
                    .flatten()
                    .filter(|(pattern, _)| pattern & both == both)
                    .map(|(_, unknown)| (*unknown, 1.0))
                    .collect();
                problem.add_constraint(row, ComparisonOp::Le, overlap as f64);
            }
        }
    }
    let mut options = SolveOptions::default();
    let size: usize = unknown.iter().map(Vec::len).sum();
    options.node_limit = Some((WORK / (size as u64).max(1)).clamp(30, NODES));
    match problem.solve_with(options) {
        Ok(outcome) if outcome.solution().is_some() => Feasible::Yes,
        Ok(_) => Feasible::Undecided,
        Err(microlp::Error::Infeasible) => Feasible::No,
        Err(_) => Feasible::Undecided,
    }
}

/// The kinds of questions beside the anchors. Enemies of anchors cannot stand anywhere.
fn kinds(model: &FormModel, kept: &BTreeSet<Clause>, anchors: &[usize]) -> Vec<Kind> {
    let mut enemies: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (number, &(one, other)) in model.enemies.iter().enumerate() {
        if kept.contains(&Clause::Enemies(number)) && one != other {
            enemies.entry(one).or_default().push(other);
            enemies.entry(other).or_default().push(one);
        }
    }
    let mut kinds: BTreeMap<Vec<i64>, Kind> = BTreeMap::new();
    for (number, item) in model.items.iter().enumerate() {
        if anchors.contains(&number) {
            continue;
        }
        let hostile = enemies.get(&number);
        if hostile.is_some_and(|list| list.iter().any(|enemy| anchors.contains(enemy))) {
            continue;
        }
        let mut sign = vec![item.line as i64, i64::from(item.shared_counts)];
        for (place, clause) in model.sums.iter().enumerate() {
            if kept.contains(&Clause::Sum(place)) {
                sign.push(clause.weights.get(number).copied().unwrap_or(0));
            }
        }
        for (place, set) in model.sets.iter().enumerate() {
            if kept.contains(&Clause::Set(place)) {
                sign.push(i64::from(set.items.contains(&number)));
            }
        }
        // A question with enemies is a kind of its own.
        sign.push(hostile.map_or(-1, |_| number as i64));
        let kind = kinds.entry(sign).or_insert(Kind {
            item: number,
            number: 0,
        });
        kind.number += 1;
    }
    kinds.into_values().collect()
}

/// The clauses of one form.
fn one_form(
    model: &FormModel,
    kept: &BTreeSet<Clause>,
    anchors: &[usize],
    kinds: &[Kind],
    unknown: &[Vec<(u32, Variable)>],
    form: usize,
    problem: &mut Problem,
) {
    let on_form = |kind: usize| {
        unknown
            .get(kind)
            .into_iter()
            .flatten()
            .filter(move |(pattern, _)| pattern & (1 << form) != 0)
            .map(|(_, unknown)| *unknown)
    };
    // Where nothing can be chosen any more, a clause that the anchors break must still be seen.
    let never = |problem: &mut Problem| {
        let none = problem.add_var(0.0, (0.0, 0.0));
        problem.add_constraint([(none, 1.0)], ComparisonOp::Ge, 1.0);
    };
    let sum = |problem: &mut Problem,
               weight: &dyn Fn(usize) -> f64,
               least: Option<f64>,
               most: Option<f64>| {
        let fixed: f64 = anchors.iter().map(|&anchor| weight(anchor)).sum();
        let row: Vec<(Variable, f64)> = kinds
            .iter()
            .enumerate()
            .map(|(number, kind)| (number, weight(kind.item)))
            .filter(|(_, weight)| *weight != 0.0)
            .flat_map(|(number, weight)| on_form(number).map(move |unknown| (unknown, weight)))
            .collect();
        for (bound, how) in [(least, ComparisonOp::Ge), (most, ComparisonOp::Le)] {
            let Some(bound) = bound else { continue };
            if row.is_empty() {
                let broken = match how {
                    ComparisonOp::Ge => fixed < bound,
                    ComparisonOp::Le | ComparisonOp::Eq => fixed > bound,
                };
                if broken {
                    never(problem);
                }
            } else {
                problem.add_constraint(row.clone(), how, bound - fixed);
            }
        }
    };
    for (number, line) in model.lines.iter().enumerate() {
        if kept.contains(&Clause::Line(number)) {
            let weight = |item: usize| {
                let here = model.items.get(item).is_some_and(|i| i.line == number);
                f64::from(u8::from(here))
            };
            sum(
                problem,
                &weight,
                Some(line.least as f64),
                Some(line.most as f64),
            );
        }
    }
    // Where every line asks for one number, the length says nothing more.
    if !model.lines_are_exact() && kept.contains(&Clause::Length) {
        let length = model.length as f64;
        sum(problem, &|_| 1.0, Some(length), Some(length));
    }
    for (number, clause) in model.sums.iter().enumerate() {
        if kept.contains(&Clause::Sum(number)) {
            let weight = |item: usize| clause.weights.get(item).copied().unwrap_or(0) as f64;
            let as_f64 = |bound: i64| bound as f64;
            sum(
                problem,
                &weight,
                clause.least.map(as_f64),
                clause.most.map(as_f64),
            );
        }
    }
    for (number, set) in model.sets.iter().enumerate() {
        if !kept.contains(&Clause::Set(number)) {
            continue;
        }
        let fixed = anchors
            .iter()
            .filter(|anchor| set.items.contains(anchor))
            .count() as f64;
        let members: Vec<(Variable, f64)> = kinds
            .iter()
            .enumerate()
            .filter(|(_, kind)| set.items.contains(&kind.item))
            .flat_map(|(place, _)| on_form(place).map(|unknown| (unknown, 1.0)))
            .collect();
        let stands = problem.add_integer_var(0.0, (i32::from(fixed > 0.0), 1));
        let with = |weight: f64| {
            let mut row = members.clone();
            row.push((stands, weight));
            row
        };
        problem.add_constraint(with(-(set.most as f64)), ComparisonOp::Le, -fixed);
        problem.add_constraint(with(-(set.least as f64)), ComparisonOp::Ge, -fixed);
    }
    for (number, &(one, other)) in model.enemies.iter().enumerate() {
        if !kept.contains(&Clause::Enemies(number)) || one == other {
            continue;
        }
        let row: Vec<(Variable, f64)> = kinds
            .iter()
            .enumerate()
            .filter(|(_, kind)| kind.item == one || kind.item == other)
            .flat_map(|(place, _)| on_form(place).map(|unknown| (unknown, 1.0)))
            .collect();
        if anchors.contains(&one) && anchors.contains(&other) {
            never(problem);
        } else if !row.is_empty() {
            problem.add_constraint(row, ComparisonOp::Le, 1.0);
        }
    }
}
