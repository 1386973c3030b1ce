//! Components of variance where not every cell is filled: candidates who met other questions or
//! other markers than the rest.
//!
//! Source: restricted maximum likelihood (Patterson & Thompson 1971) for y = μ + Σ Zᵣuᵣ + e, every
//! effect a draw of its own spread; Fisher's scoring on the variances (Searle, Casella & McCulloch
//! 1992, ch. 6, number from memory). With B the crossproducts of the columns about their means and D
//! the spreads relative to the residual's, Z′PZ = (B − BD(DBD + I)⁻¹DB)/σ², and all that a step
//! needs follows from it by P = PVP, so no matrix is larger than the number of levels. In a full
//! table in which no component would be negative this is the analysis of variance
//! ([`super::persons_by_items`]). Components that would be negative are held at 0 and counted.
//! Invalid: cells that are empty because of what would stand in them (the weak who gave up). Smallest:
//! two levels of each effect and more marks than levels of any one; what carries a decision wants far
//! more, common practice about 50 persons, no source. Ties: none. Missing: simply not in the list.

use crate::refusal::{Refusal, at_least};
use crate::scaling::symmetric_matrix::Cholesky;
use crate::small_system::solve;
use crate::sums::{mean, sum};

/// Steps after which the search is given up.
const STEPS: usize = 300;
/// The most levels of all effects together: the cost grows with their cube.
const MOST_LEVELS: usize = 3_000;

/// One effect's component.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Component {
    /// The variance, never below 0.
    pub variance: f64,
    /// Its standard error for many levels; refused where it is held at 0.
    pub standard_error: Result<f64, Refusal>,
    /// How many levels the effect has.
    pub levels: usize,
}

/// All components.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct UnbalancedComponents {
    /// One for each effect, in the order given.
    pub effects: Vec<Component>,
    /// What is left.
    pub residual: Component,
    /// The mean, weighted by what each mark tells.
    pub mean: f64,
    /// Twice the negative restricted log likelihood, constant included.
    pub criterion: f64,
    /// Number of marks.
    pub n: usize,
    /// How many components were held at 0.
    pub held_at_zero: usize,
}

/// Fits the components of `values`; `effects` holds for each effect the level of each value, a
/// product of two effects being one whose levels are their pairs.
///
/// # Errors
/// `Refusal::TooFew`, `Refusal::UnequalLengths`, `Refusal::NotANumber`, `Refusal::NoVariance`;
/// `Refusal::OutOfRange` for too many levels; `Refusal::NotDefined` when effects cannot be told
/// apart or nothing is left over; `Refusal::NotSettled`.
pub fn unbalanced_components(
    values: &[f64],
    effects: &[Vec<usize>],
) -> Result<UnbalancedComponents, Refusal> {
    let data = Data::new(values, effects)?;
    let parts = effects.len();
    let total = data.squares / (data.n - 1.0);
    // The last place is the residual.
    let mut at = vec![total / (parts + 1) as f64; parts + 1];
    let mut free = vec![true; parts + 1];
    let mut here = data.state(&at)?;
    for _ in 0..STEPS {
        let (score, information) = data.slopes(&at, &here);
        for (place, free) in free.iter_mut().enumerate().take(parts) {
            let held = at.get(place).is_some_and(|v| *v <= 0.0);
            *free = !held || score.get(place).is_some_and(|slope| *slope > 0.0);
        }
        let step = direction(&score, &information, &free)?;
        let gain: f64 = score.iter().zip(&step).map(|(s, d)| s * d).sum();
        let mut part = 1.0;
        let mut moved = None;
        // Halved until the likelihood does not fall; what would pass 0 stops there.
        for _ in 0..60 {
            let next: Vec<f64> = at
                .iter()
                .zip(&step)
                .enumerate()
                .map(|(place, (v, d))| {
                    let to = v + part * d;
                    if place == parts {
                        to.max(v * 0.1)
                    } else {
                        to.max(0.0)
                    }
                })
                .collect();
            if let Ok(there) = data.state(&next)
                && there.criterion <= here.criterion + 1e-12 * here.criterion.abs()
            {
                moved = Some((next, there));
                break;
            }
            part /= 2.0;
        }
        let Some((next, there)) = moved else { break };
        let change = next
            .iter()
            .zip(&at)
            .map(|(one, other)| (one - other).abs())
            .fold(0.0, f64::max);
        at = next;
        here = there;
        if change <= 1e-11 * total || gain.abs() < 1e-18 {
            return data.made(&at, &here);
        }
    }
    // No step betters it any more: the end, if the slopes agree.
    let (score, _) = data.slopes(&at, &here);
    let level = score
        .iter()
        .zip(&at)
        .all(|(slope, v)| (slope * v).abs() < 1e-5 && (*v > 0.0 || *slope <= 1e-5 / total));
    if level {
        return data.made(&at, &here);
    }
    Err(Refusal::NotSettled {
        of: "the restricted likelihood",
        steps: STEPS,
    })
}

/// A step of Fisher's scoring over the free components.
fn direction(score: &[f64], information: &[Vec<f64>], free: &[bool]) -> Result<Vec<f64>, Refusal> {
    let kept = |values: &[f64]| -> Vec<f64> {
        let both = values.iter().zip(free);
        both.filter(|(_, free)| **free).map(|(v, _)| *v).collect()
    };
    let matrix: Vec<Vec<f64>> = information
        .iter()
        .zip(free)
        .filter(|(_, free)| **free)
        .map(|(row, _)| kept(row))
        .collect();
    let solution = solve(&matrix, &kept(score)).ok_or(APART)?;
    let mut next = solution.into_iter();
    Ok(free
        .iter()
        .map(|free| {
            if *free {
                next.next().unwrap_or(0.0)
            } else {
                0.0
            }
        })
        .collect())
}

const APART: Refusal = Refusal::NotDefined {
    of: "the components of variance",
    because: "the effects cannot be told apart in these cells",
};

/// Crossproducts of the indicator columns about their means.
struct Data {
    n: f64,
    /// Σ (y − ȳ)².
    squares: f64,
    /// Effect of each column.
    effect_of: Vec<usize>,
    levels: Vec<usize>,
    /// B by rows.
    crossed: Vec<f64>,
    /// Z′(y − ȳ).
    target: Vec<f64>,
    /// Number of values at each column, and their mean.
    counts: Vec<f64>,
    middle: f64,
}

/// What a set of variances comes to.
struct State {
    /// −2 times the restricted log likelihood.
    criterion: f64,
    /// Z′PZ by rows.
    projected: Vec<f64>,
    /// Z′Py.
    residuals: Vec<f64>,
    /// y′Py.
    weighted_squares: f64,
}

impl Data {
    fn new(values: &[f64], effects: &[Vec<usize>]) -> Result<Self, Refusal> {
        at_least(1, effects.len(), "effects", "there is nothing to split")?;
        at_least(3, values.len(), "marks", "a spread and a rest want three")?;
        if let Some(place) = values.iter().position(|value| !value.is_finite()) {
            return Err(Refusal::NotANumber {
                row: place,
                column: 0,
            });
        }
        let mut columns: Vec<Vec<usize>> = Vec::new();
        let (mut effect_of, mut levels) = (Vec::new(), Vec::new());
        for (effect, places) in effects.iter().enumerate() {
            if places.len() != values.len() {
                return Err(Refusal::UnequalLengths {
                    of: "levels beside marks",
                    have: places.len(),
                    expected: values.len(),
                });
            }
            let mut known: Vec<usize> = places.clone();
            known.sort_unstable();
            known.dedup();
            at_least(2, known.len(), "levels of an effect", "a spread needs two")?;
            at_least(
                known.len() + 1,
                values.len(),
                "marks",
                "more than levels of any effect, else it is not told from the rest",
            )?;
            if columns.len() + known.len() > MOST_LEVELS {
                return Err(Refusal::OutOfRange {
                    of: "number of levels",
                    value: (columns.len() + known.len()) as f64,
                    allowed: "at most 3000 of all effects together",
                });
            }
            levels.push(known.len());
            let first = columns.len();
            columns.resize(first + known.len(), Vec::new());
            effect_of.resize(first + known.len(), effect);
            for (row, level) in places.iter().enumerate() {
                let place = known.binary_search(level).unwrap_or(0);
                if let Some(column) = columns.get_mut(first + place) {
                    column.push(row);
                }
            }
        }
        let n = values.len() as f64;
        let middle = mean(values)?;
        let about: Vec<f64> = values.iter().map(|value| value - middle).collect();
        let squares = sum(about.iter().map(|value| value * value));
        if squares <= 0.0 {
            return Err(Refusal::NoVariance { of: "marks" });
        }
        let counts: Vec<f64> = columns.iter().map(|rows| rows.len() as f64).collect();
        let mut crossed = Vec::with_capacity(columns.len() * columns.len());
        for (one, own) in columns.iter().zip(&counts) {
            for (other, others) in columns.iter().zip(&counts) {
                crossed.push(shared(one, other) - own * others / n);
            }
        }
        let target = columns
            .iter()
            .map(|rows| sum(rows.iter().filter_map(|row| about.get(*row).copied())))
            .collect();
        Ok(Self {
            n,
            squares,
            effect_of,
            levels,
            crossed,
            target,
            counts,
            middle,
        })
    }

    /// The spread of each column relative to the residual's.
    fn relative(&self, at: &[f64]) -> Vec<f64> {
        let residual = at.last().copied().unwrap_or(1.0);
        self.effect_of
            .iter()
            .map(|effect| (at.get(*effect).copied().unwrap_or(0.0) / residual).sqrt())
            .collect()
    }

    fn state(&self, at: &[f64]) -> Result<State, Refusal> {
        let residual = at.last().copied().unwrap_or(0.0);
        if residual.is_nan() || residual <= 0.0 {
            return Err(NOTHING_LEFT);
        }
        let q = self.effect_of.len();
        let spread = self.relative(at);
        // DB, and DBD + I.
        let mut scaled = self.crossed.clone();
        let mut inner = self.crossed.clone();
        for (row, (line, inside)) in scaled.chunks_mut(q).zip(inner.chunks_mut(q)).enumerate() {
            let own = spread.get(row).copied().unwrap_or(0.0);
            for (place, (value, within)) in line.iter_mut().zip(inside.iter_mut()).enumerate() {
                *value *= own;
                *within *= own * spread.get(place).copied().unwrap_or(0.0);
                if place == row {
                    *within += 1.0;
                }
            }
        }
        let factor = Cholesky::of(&inner, q).ok_or(APART)?;
        let log_inner = factor.log_determinant();
        let weighted: Vec<f64> = spread
            .iter()
            .zip(&self.target)
            .map(|(d, z)| d * z)
            .collect();
        let solved = factor.solve(&weighted);
        let explained: f64 = sum(weighted.iter().zip(&solved).map(|(a, b)| a * b));
        let weighted_squares = (self.squares - explained).max(0.0) / residual;
        let residuals = (0..q)
            .map(|place| {
                // Column `place` of DB is its row of BD.
                let taken = sum((0..q).map(|row| {
                    scaled.get(row * q + place).copied().unwrap_or(0.0)
                        * solved.get(row).copied().unwrap_or(0.0)
                }));
                (self.target.get(place).copied().unwrap_or(0.0) - taken) / residual
            })
            .collect();
        // With L the factor, BD(LL′)⁻¹DB is the crossproduct of the columns of L⁻¹DB.
        let mut halves = Vec::with_capacity(q * q);
        for place in 0..q {
            let column: Vec<f64> = (0..q)
                .map(|row| scaled.get(row * q + place).copied().unwrap_or(0.0))
                .collect();
            halves.extend(factor.half_solve(&column));
        }
        let mut projected = Vec::with_capacity(q * q);
        for (one, line) in halves.chunks(q).zip(self.crossed.chunks(q)) {
            for (other, value) in halves.chunks(q).zip(line) {
                let taken: f64 = one.iter().zip(other).map(|(a, b)| a * b).sum();
                projected.push((value - taken) / residual);
            }
        }
        Ok(State {
            criterion: (self.n - 1.0) * (libm::log(residual) + libm::log(std::f64::consts::TAU))
                + libm::log(self.n)
                + log_inner
                + weighted_squares,
            projected,
            residuals,
            weighted_squares,
        })
    }

    /// Slopes of the log likelihood by each variance, and Fisher's information.
    fn slopes(&self, at: &[f64], here: &State) -> (Vec<f64>, Vec<Vec<f64>>) {
        let parts = self.levels.len();
        let q = self.effect_of.len();
        let residual = at.last().copied().unwrap_or(1.0);
        // Over each pair of effects: squares of Z′PZ; over each effect: its trace, squares of Z′Py.
        let mut pairs = vec![vec![0.0; parts]; parts];
        let (mut traces, mut squares) = (vec![0.0; parts], vec![0.0; parts]);
        for (row, line) in here.projected.chunks(q).enumerate() {
            let Some(effect) = self.effect_of.get(row).copied() else {
                continue;
            };
            for (value, other) in line.iter().zip(&self.effect_of) {
                if let Some(slot) = pairs.get_mut(effect).and_then(|p| p.get_mut(*other)) {
                    *slot += value * value;
                }
            }
            if let (Some(trace), Some(value)) = (traces.get_mut(effect), line.get(row)) {
                *trace += value;
            }
            if let (Some(slot), Some(value)) = (squares.get_mut(effect), here.residuals.get(row)) {
                *slot += value * value;
            }
        }
        let weighted = |values: &[f64]| -> f64 { values.iter().zip(at).map(|(a, v)| a * v).sum() };
        // tr(PV) = n − 1 and P = PVP give what belongs to the residual.
        let trace = (self.n - 1.0 - weighted(&traces)) / residual;
        let with_rest: Vec<f64> = traces
            .iter()
            .zip(&pairs)
            .map(|(trace, row)| (trace - weighted(row)) / residual)
            .collect();
        let of_rest = (trace - weighted(&with_rest)) / residual;
        let rest_squares = (here.weighted_squares - weighted(&squares)) / residual;
        let mut score: Vec<f64> = squares
            .iter()
            .zip(&traces)
            .map(|(square, trace)| (square - trace) / 2.0)
            .collect();
        score.push((rest_squares - trace) / 2.0);
        let mut information: Vec<Vec<f64>> = pairs
            .into_iter()
            .zip(&with_rest)
            .map(|(mut row, rest)| {
                row.push(*rest);
                row.iter().map(|value| value / 2.0).collect()
            })
            .collect();
        let mut last = with_rest;
        last.push(of_rest);
        information.push(last.iter().map(|value| value / 2.0).collect());
        (score, information)
    }

    fn made(&self, at: &[f64], here: &State) -> Result<UnbalancedComponents, Refusal> {
        let total = self.squares / (self.n - 1.0);
        let residual = at.last().copied().unwrap_or(0.0);
        if residual <= 1e-10 * total {
            return Err(NOTHING_LEFT);
        }
        let (_, information) = self.slopes(at, here);
        let kept: Vec<bool> = at.iter().map(|variance| *variance > 0.0).collect();
        let errors: Vec<Result<f64, Refusal>> = (0..at.len())
            .map(|place| {
                if !kept.get(place).copied().unwrap_or(false) {
                    return Err(Refusal::NotDefined {
                        of: "the error of a component",
                        because: "the component is held at 0",
                    });
                }
                let mut unit = vec![0.0; at.len()];
                if let Some(one) = unit.get_mut(place) {
                    *one = 1.0;
                }
                let column = direction(&unit, &information, &kept)?;
                Ok(column.get(place).copied().unwrap_or(0.0).max(0.0).sqrt())
            })
            .collect();
        let mut components = at
            .iter()
            .zip(errors)
            .enumerate()
            .map(|(place, (v, error))| Component {
                variance: *v,
                standard_error: error,
                levels: self.levels.get(place).copied().unwrap_or(self.n as usize),
            });
        let effects: Vec<Component> = components.by_ref().take(self.levels.len()).collect();
        let residual = components.next().ok_or(APART)?;
        Ok(UnbalancedComponents {
            mean: self.weighted_mean(at)?,
            held_at_zero: effects.iter().filter(|part| part.variance <= 0.0).count(),
            effects,
            residual,
            criterion: here.criterion,
            n: self.n as usize,
        })
    }

    /// 1′V⁻¹y / 1′V⁻¹1, about the plain mean.
    fn weighted_mean(&self, at: &[f64]) -> Result<f64, Refusal> {
        let q = self.effect_of.len();
        let spread = self.relative(at);
        // Z′Z is B with the product of the means put back.
        let mut inner = self.crossed.clone();
        for (row, line) in inner.chunks_mut(q).enumerate() {
            let own = spread.get(row).copied().unwrap_or(0.0);
            let count = self.counts.get(row).copied().unwrap_or(0.0);
            for (place, value) in line.iter_mut().enumerate() {
                let other = self.counts.get(place).copied().unwrap_or(0.0);
                *value += count * other / self.n;
                *value *= own * spread.get(place).copied().unwrap_or(0.0);
                if place == row {
                    *value += 1.0;
                }
            }
        }
        let factor = Cholesky::of(&inner, q).ok_or(APART)?;
        let ones: Vec<f64> = spread
            .iter()
            .zip(&self.counts)
            .map(|(d, c)| d * c)
            .collect();
        let solved = factor.solve(&ones);
        let weights = self.n - sum(ones.iter().zip(&solved).map(|(a, b)| a * b));
        let values = sum(spread
            .iter()
            .zip(&self.target)
            .zip(&solved)
            .map(|((d, z), s)| d * z * s));
        Ok(self.middle - values / weights)
    }
}

const NOTHING_LEFT: Refusal = Refusal::NotDefined {
    of: "the restricted likelihood",
    because: "the effects leave nothing over",
};

/// How many rows two rising lists have in common.
fn shared(one: &[usize], other: &[usize]) -> f64 {
    let (mut first, mut second) = (one.iter().peekable(), other.iter().peekable());
    let mut both = 0_usize;
    while let (Some(a), Some(b)) = (first.peek(), second.peek()) {
        match a.cmp(b) {
            std::cmp::Ordering::Less => {
                first.next();
            }
            std::cmp::Ordering::Greater => {
                second.next();
            }
            std::cmp::Ordering::Equal => {
                both += 1;
                first.next();
                second.next();
            }
        }
    }
    both as f64
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::generalisability::persons_by_items::persons_by_items;
    use crate::score_table::ScoreTable;

    /// Persons by questions with a spread of both.
    fn rows() -> Vec<Vec<f64>> {
        (0..12_u32)
            .map(|person| {
                (0..7_u32)
                    .map(|item| {
                        let noise = f64::from((person * 7919 + item * 104_729) % 23) / 6.0;
                        f64::from(person * 5 % 12) + 0.8 * f64::from(item * 3 % 7) + noise
                    })
                    .collect()
            })
            .collect()
    }

    fn long(rows: &[Vec<f64>], keep: impl Fn(usize, usize) -> bool) -> (Vec<f64>, Vec<Vec<usize>>) {
        let (mut values, mut persons, mut items) = (Vec::new(), Vec::new(), Vec::new());
        for (person, row) in rows.iter().enumerate() {
            for (item, value) in row
                .iter()
                .enumerate()
                .filter(|(item, _)| keep(person, *item))
            {
                values.push(*value);
                persons.push(person);
                items.push(item);
            }
        }
        (values, vec![persons, items])
    }

    #[test]
    fn a_full_table_gives_the_analysis_of_variance() {
        let rows = rows();
        let (values, effects) = long(&rows, |_, _| true);
        let made = unbalanced_components(&values, &effects).unwrap();
        let plain = persons_by_items(&ScoreTable::new(&rows).unwrap()).unwrap();
        assert!((made.effects[0].variance - plain.person_variance).abs() < 1e-7);
        assert!((made.effects[1].variance - plain.item_variance).abs() < 1e-7);
        assert!((made.residual.variance - plain.residual_variance).abs() < 1e-7);
        assert!((made.mean - plain.mean).abs() < 1e-10);
        assert_eq!(made.held_at_zero, 0);
    }

    #[test]
    fn gaps_change_the_figures_and_the_order_of_the_marks_does_not() {
        let (values, effects) = long(&rows(), |person, item| (person + item) % 4 != 0);
        let made = unbalanced_components(&values, &effects).unwrap();
        let turned = |list: &Vec<usize>| list.iter().rev().copied().collect::<Vec<_>>();
        let backwards: Vec<f64> = values.iter().rev().copied().collect();
        let other =
            unbalanced_components(&backwards, &[turned(&effects[0]), turned(&effects[1])]).unwrap();
        assert!((made.effects[0].variance - other.effects[0].variance).abs() < 1e-7);
        assert!((made.criterion - other.criterion).abs() < 1e-9);
        assert!(made.effects[0].standard_error.unwrap() > 0.0);
    }

    #[test]
    fn what_cannot_be_split_is_refused() {
        let (values, effects) = long(&rows(), |_, _| true);
        let twice = [effects[0].clone(), effects[0].clone()];
        assert!(unbalanced_components(&values, &twice).is_err());
        let cells: Vec<usize> = (0..values.len()).collect();
        assert!(matches!(
            unbalanced_components(&values, &[cells]),
            Err(Refusal::TooFew { .. })
        ));
        let flat = vec![1.0; values.len()];
        assert!(matches!(
            unbalanced_components(&flat, &effects),
            Err(Refusal::NoVariance { .. })
        ));
        let exact: Vec<f64> = effects[0].iter().map(|person| *person as f64).collect();
        assert!(unbalanced_components(&exact, &effects).is_err());
    }
}
