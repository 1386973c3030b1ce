//! How near forms could come at best: a lower bound of the largest deviation, by a linear program.
//!
//! The forms of a program are alike: from any set of forms another comes by renaming them, and the
//! mean of all renamings keeps every linear clause and has no larger deviation. So one number for
//! each question, on how many forms it stands, is enough for the relaxation: a problem of
//! `questions` variables and not of `questions × forms`. A question on `u` forms is common to
//! `u (u − 1) / 2 ≥ 0, 1, 2, …` pairs, which is entered in pieces of rising price; the sum over
//! all questions is at most the overlap times the number of pairs. Shared stems are left out, which
//! can only lower the bound. The solver works in floating point: the bound is told, and never
//! decides about a form.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

use crate::form_model::{FormModel, WHOLE};

/// Weights are divided by this, so that a question has about 1.
const SCALE: f64 = (WHOLE / 100) as f64;

/// What is known about how near forms could come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bound {
    /// No forms have a smaller largest deviation, in units of [`WHOLE`] (0 where the targets can be
    /// reached as far as the relaxation sees).
    AtLeast(f64),
    /// Not even the relaxation has a solution: the clauses cannot hold together.
    Impossible,
    /// The solver gave up.
    Unknown,
}

/// The bound of a program.
#[must_use]
pub fn deviation_bound(model: &FormModel) -> Bound {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let forms = model.forms as f64;
    let anchors = &model.anchors;
    let is_anchor = |item: usize| anchors.binary_search(&item).is_ok();
    // The pieces of each question's number of forms.
    let pieces: Vec<Vec<(Variable, f64)>> = (0..model.items.len())
        .map(|item| {
            if is_anchor(item) {
                return Vec::new();
            }
            let shared = model.items.get(item).is_some_and(|i| i.shared_counts);
            match model.overlap {
                Some(overlap) if shared && model.forms > 1 => {
                    let mut pieces = vec![(problem.add_var(0.0, (0.0, 1.0)), 0.0)];
                    if overlap > 0 {
                        pieces.push((problem.add_var(0.0, (0.0, 1.0)), 1.0));
                        if model.forms > 2 {
                            pieces.push((problem.add_var(0.0, (0.0, forms - 2.0)), 2.0));
                        }
                    }
                    pieces
                }
                Some(_) | None => vec![(problem.add_var(0.0, (0.0, forms)), 0.0)],
            }
        })
        .collect();
    let sum_of = |problem: &mut Problem,
                  weight: &dyn Fn(usize) -> f64,
                  slack: Option<(Variable, f64)>,
                  how: ComparisonOp,
                  bound: f64| {
        let mut row: Vec<(Variable, f64)> = Vec::new();
        let mut fixed = 0.0;
        for (item, pieces) in pieces.iter().enumerate() {
            let weight = weight(item);
            if weight == 0.0 {
                continue;
            }
            if is_anchor(item) {
                fixed += weight * forms;
            }
            row.extend(pieces.iter().map(|(piece, _)| (*piece, weight)));
        }
        row.extend(slack);
        problem.add_constraint(row, how, bound - fixed);
    };
    let line_of = |item: usize| model.items.get(item).map_or(usize::MAX, |i| i.line);
    for (number, line) in model.lines.iter().enumerate() {
        let weight = |item: usize| f64::from(u8::from(line_of(item) == number));
        if line.least == line.most {
            sum_of(
                &mut problem,
                &weight,
                None,
                ComparisonOp::Eq,
                line.least as f64 * forms,
            );
        } else {
            sum_of(
                &mut problem,
                &weight,
                None,
                ComparisonOp::Ge,
                line.least as f64 * forms,
            );
            sum_of(
                &mut problem,
                &weight,
                None,
                ComparisonOp::Le,
                line.most as f64 * forms,
            );
        }
    }
    if !model.lines_are_exact() {
        sum_of(
            &mut problem,
            &|_| 1.0,
            None,
            ComparisonOp::Eq,
            model.length as f64 * forms,
        );
    }
    for clause in &model.sums {
        let scale = clause
            .weights
            .iter()
            .map(|w| w.abs())
            .max()
            .unwrap_or(1)
            .max(1) as f64;
        let weight = |item: usize| clause.weights.get(item).copied().unwrap_or(0) as f64 / scale;
        if let Some(least) = clause.least {
            sum_of(
                &mut problem,
                &weight,
                None,
                ComparisonOp::Ge,
                least as f64 / scale * forms,
            );
        }
        if let Some(most) = clause.most {
            sum_of(
                &mut problem,
                &weight,
                None,
                ComparisonOp::Le,
                most as f64 / scale * forms,
            );
        }
    }
    // Summed over the forms, a deviation of d on each is forms × d.
    let deviation = problem.add_var(1.0, (0.0, f64::INFINITY));
    for target in &model.targets {
        let weight = |item: usize| target.weights.get(item).copied().unwrap_or(0) as f64 / SCALE;
        let wanted = target.wanted as f64 / SCALE * forms;
        sum_of(
            &mut problem,
            &weight,
            Some((deviation, -1.0)),
            ComparisonOp::Le,
            wanted,
        );
        sum_of(
            &mut problem,
            &weight,
            Some((deviation, 1.0)),
            ComparisonOp::Ge,
            wanted,
        );
    }
    enemies(model, &pieces, &mut problem);
    if let Some(overlap) = model.overlap
        && overlap > 0
        && model.forms > 1
    {
        let row: Vec<(Variable, f64)> = pieces
            .iter()
            .flatten()
            .filter(|(_, price)| *price > 0.0)
            .copied()
            .collect();
        let pairs = forms * (forms - 1.0) / 2.0;
        problem.add_constraint(row, ComparisonOp::Le, overlap as f64 * pairs);
    }
    match problem.solve() {
        Ok(outcome) => match outcome.solution() {
            Some(solution) => Bound::AtLeast((solution.objective() / forms * SCALE).max(0.0)),
            None => Bound::Unknown,
        },
        Err(microlp::Error::Infeasible) => Bound::Impossible,
        Err(_) => Bound::Unknown,
    }
}

/// Two enemies together stand on as many forms as there are; said only where their own bounds do
/// not say it already.
fn enemies(model: &FormModel, pieces: &[Vec<(Variable, f64)>], problem: &mut Problem) {
    let alone = model.overlap == Some(0);
    for &(one, other) in &model.enemies {
        let (Some(first), Some(second)) = (pieces.get(one), pieces.get(other)) else {
            continue;
        };
        if alone && model.forms > 1 && !first.is_empty() && !second.is_empty() {
            continue;
        }
        // An anchor stands on every form and leaves its enemies none.
        let room = if first.is_empty() || second.is_empty() {
            0.0
        } else {
            model.forms as f64
        };
        let row: Vec<(Variable, f64)> = first
            .iter()
            .chain(second)
            .map(|(piece, _)| (*piece, 1.0))
            .collect();
        if one != other && !row.is_empty() {
            problem.add_constraint(row, ComparisonOp::Le, room);
        }
    }
}
