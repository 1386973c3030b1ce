//! Which choice does a candidate of an ability make? The curves of all choices, from the answers.
//!
//! Source: Bock 1972 (nominal response model), by marginal maximum likelihood (Bock & Aitkin 1981) with
//! abilities standard normal; each slope has a normal prior of deviation 1 about 0 and each intercept
//! one of deviation 2 (this project's choice: without them a choice that nobody made runs to minus
//! infinity, and so does one that the ten weakest alone made). The priors also fix the free constant of
//! each question: its parameters sum to 0. Abilities afterwards: maximum likelihood, which has one top
//! since the likelihood is concave in ability, held within -6 to 6. Invalid: several dimensions.
//! Smallest: 3 questions and 30 candidates here; what the indices of likeness ask for, they say
//! themselves. Missing: a blank takes no part, at random given the choices that are there.

use crate::refusal::{Refusal, at_least};
use crate::scaling::quadrature::{POINTS, points, weights};
use crate::similarity::answer_sheets::AnswerSheets;
use crate::similarity::nominal_response::NominalItem;
use crate::small_system::solve;
use crate::sums::sum;

/// Deviation of the prior of a slope.
const SLOPE: f64 = 1.0;
/// Deviation of the prior of an intercept.
const INTERCEPT: f64 = 2.0;
/// Steps after which the search is given up.
const STEPS: usize = 1_000;
/// A step that moves no parameter further than this is the last.
const SETTLED: f64 = 1e-4;
/// The ends between which abilities are looked for.
const FARTHEST: f64 = 6.0;

/// The curves of all choices and the candidates' abilities.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct NominalFit {
    /// One for each question.
    pub items: Vec<NominalItem>,
    /// One for each candidate; none for a sheet that is all blank.
    pub abilities: Vec<Option<f64>>,
    /// Candidates with at least one choice.
    pub persons: usize,
}

/// Estimates the curves; `choices` says how many each question has.
///
/// # Errors
/// `Refusal::UnequalLengths`, `Refusal::OutOfRange` for a choice beyond those, `Refusal::TooFew`,
/// `Refusal::NotSettled`.
pub fn nominal_fit(sheets: &AnswerSheets, choices: &[usize]) -> Result<NominalFit, Refusal> {
    at_least(
        3,
        sheets.questions(),
        "questions",
        "slopes are identified from three on",
    )?;
    if choices.len() != sheets.questions() {
        return Err(Refusal::UnequalLengths {
            of: "numbers of choices beside questions",
            have: choices.len(),
            expected: sheets.questions(),
        });
    }
    let rows: Vec<Vec<(usize, usize)>> = sheets
        .rows()
        .map(|row| {
            row.iter()
                .enumerate()
                .filter_map(|(item, choice)| choice.map(|choice| (item, choice)))
                .collect()
        })
        .collect();
    for (item, choice) in rows.iter().flatten() {
        if choices.get(*item).is_none_or(|all| choice >= all) {
            return Err(Refusal::OutOfRange {
                of: "a choice",
                value: *choice as f64,
                allowed: "below the number of choices of its question",
            });
        }
    }
    let persons = rows.iter().filter(|row| !row.is_empty()).count();
    at_least(
        30,
        persons,
        "candidates with answers",
        "curves of fewer are their priors",
    )?;
    let precision = [1.0 / (SLOPE * SLOPE), 1.0 / (INTERCEPT * INTERCEPT)];
    let fitted = search(&rows, start(sheets, choices), precision)?;
    let items: Vec<NominalItem> = fitted
        .into_iter()
        .map(|item| NominalItem::new(item.slopes, item.intercepts))
        .collect::<Result<_, _>>()?;
    Ok(NominalFit {
        abilities: rows.iter().map(|row| ability(&items, row)).collect(),
        items,
        persons,
    })
}

/// A question under way.
#[derive(Debug, Clone)]
struct Raw {
    slopes: Vec<f64>,
    intercepts: Vec<f64>,
}

/// The key rises with ability, all others fall alike; intercepts as often as a choice was made.
fn start(sheets: &AnswerSheets, choices: &[usize]) -> Vec<Raw> {
    let mut counts: Vec<Vec<f64>> = choices.iter().map(|all| vec![0.5; *all]).collect();
    for row in sheets.rows() {
        for (item, choice) in row.iter().enumerate() {
            if let Some(count) = choice.and_then(|choice| counts.get_mut(item)?.get_mut(choice)) {
                *count += 1.0;
            }
        }
    }
    counts
        .iter()
        .zip(sheets.key())
        .map(|(counts, key)| {
            let all = counts.len() as f64;
            let logs: Vec<f64> = counts.iter().map(|count| libm::log(*count)).collect();
            let middle = sum(logs.iter().copied()) / all;
            Raw {
                slopes: (0..counts.len())
                    .map(|choice| {
                        if choice == *key {
                            0.5
                        } else {
                            -0.5 / (all - 1.0).max(1.0)
                        }
                    })
                    .collect(),
                intercepts: logs.iter().map(|log| log - middle).collect(),
            }
        })
        .collect()
}

/// Expectation and one step of Newton's for each question in turn, until nothing moves.
fn search(
    rows: &[Vec<(usize, usize)>],
    mut items: Vec<Raw>,
    precision: [f64; 2],
) -> Result<Vec<Raw>, Refusal> {
    for _ in 0..STEPS {
        let expected = expected_counts(rows, &items);
        let mut furthest: f64 = 0.0;
        for (item, counts) in items.iter_mut().zip(&expected) {
            furthest = furthest.max(step(item, counts, precision)?);
        }
        if furthest <= SETTLED {
            return Ok(items);
        }
    }
    Err(Refusal::NotSettled {
        of: "the curves of the choices",
        steps: STEPS,
    })
}

/// By question and choice: how many are expected at each point to have made it.
fn expected_counts(rows: &[Vec<(usize, usize)>], items: &[Raw]) -> Vec<Vec<[f64; POINTS]>> {
    let logs: Vec<Vec<[f64; POINTS]>> = items
        .iter()
        .map(|item| {
            let mut of_choices = vec![[0.0; POINTS]; item.slopes.len()];
            for (point, z) in points().into_iter().enumerate() {
                for (choice, log) in log_probabilities(item, z).into_iter().enumerate() {
                    of_choices[choice][point] = log;
                }
            }
            of_choices
        })
        .collect();
    let prior = weights().map(libm::log);
    let mut counts: Vec<Vec<[f64; POINTS]>> = items
        .iter()
        .map(|item| vec![[0.0; POINTS]; item.slopes.len()])
        .collect();
    for row in rows.iter().filter(|row| !row.is_empty()) {
        let mut here = prior;
        for (item, choice) in row {
            for (total, log) in here.iter_mut().zip(&logs[*item][*choice]) {
                *total += log;
            }
        }
        let largest = here.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let heights = here.map(|log| libm::exp(log - largest));
        let whole: f64 = heights.iter().sum();
        for (item, choice) in row {
            for (count, height) in counts[*item][*choice].iter_mut().zip(&heights) {
                *count += height / whole;
            }
        }
    }
    counts
}

fn log_probabilities(item: &Raw, z: f64) -> Vec<f64> {
    let powers: Vec<f64> = item
        .slopes
        .iter()
        .zip(&item.intercepts)
        .map(|(slope, intercept)| slope * z + intercept)
        .collect();
    let largest = powers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let whole: f64 = powers.iter().map(|p| libm::exp(p - largest)).sum();
    let log = largest + libm::log(whole);
    powers.into_iter().map(|power| power - log).collect()
}

/// One step of Newton's on a question's parameters; how far the furthest moved.
fn step(item: &mut Raw, counts: &[[f64; POINTS]], precision: [f64; 2]) -> Result<f64, Refusal> {
    let all = item.slopes.len();
    let mut gradient = vec![0.0; 2 * all];
    let mut curvature = vec![vec![0.0; 2 * all]; 2 * all];
    for choice in 0..all {
        gradient[choice] = -item.slopes[choice] * precision[0];
        gradient[all + choice] = -item.intercepts[choice] * precision[1];
        curvature[choice][choice] = precision[0];
        curvature[all + choice][all + choice] = precision[1];
    }
    for (point, z) in points().into_iter().enumerate() {
        let here: f64 = counts.iter().map(|count| count[point]).sum();
        let shares: Vec<f64> = log_probabilities(item, z)
            .into_iter()
            .map(libm::exp)
            .collect();
        for (one, share) in shares.iter().enumerate() {
            let left = counts[one][point] - here * share;
            gradient[one] += z * left;
            gradient[all + one] += left;
            for (other, beside) in shares.iter().enumerate() {
                let same = if one == other { *share } else { 0.0 };
                let weight = here * (same - share * beside);
                curvature[one][other] += z * z * weight;
                curvature[one][all + other] += z * weight;
                curvature[all + one][other] += z * weight;
                curvature[all + one][all + other] += weight;
            }
        }
    }
    let moves = solve(&curvature, &gradient).ok_or(Refusal::NotDefined {
        of: "a step of the curves of the choices",
        because: "the answers and the priors do not tell the parameters apart",
    })?;
    let furthest = moves.iter().fold(0.0_f64, |most, one| most.max(one.abs()));
    // Far from the top a whole step can overshoot.
    let part = if furthest > 1.0 { 1.0 / furthest } else { 1.0 };
    for (value, by) in item
        .slopes
        .iter_mut()
        .chain(&mut item.intercepts)
        .zip(&moves)
    {
        *value += part * by;
    }
    Ok(furthest * part)
}

/// The ability under which these choices are likeliest.
fn ability(items: &[NominalItem], row: &[(usize, usize)]) -> Option<f64> {
    if row.is_empty() {
        return None;
    }
    // The slope of the log-likelihood falls with ability: what was chosen less what is expected.
    let slope = |ability: f64| {
        sum(row.iter().filter_map(|(item, choice)| {
            let item = items.get(*item)?;
            Some(item.slope(*choice)? - item.mean_slope(ability))
        }))
    };
    let (mut low, mut high) = (-FARTHEST, FARTHEST);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if slope(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(f64::midpoint(low, high))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::scaling::response_table::ResponseTable;
    use crate::scaling::two_parameter::two_parameter;

    /// Whole numbers mixed until they look like draws from 0 to 1; the same on every machine.
    fn draws(seed: u64) -> impl FnMut() -> f64 {
        let mut state = seed;
        move || {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            let mixed = (state >> 33) ^ (state >> 13);
            (mixed % 1_000_003) as f64 / 1_000_003.0
        }
    }

    /// Choices of `persons` on questions with these curves.
    fn simulated(items: &[NominalItem], persons: usize, seed: u64) -> Vec<Vec<Option<usize>>> {
        let mut draw = draws(seed);
        (0..persons)
            .map(|_| {
                let ability = (0..12).map(|_| draw()).sum::<f64>() - 6.0;
                items
                    .iter()
                    .map(|item| {
                        let (mut left, mut chosen) = (draw(), 0);
                        for (choice, share) in item.probabilities(ability).iter().enumerate() {
                            chosen = choice;
                            left -= share;
                            if left < 0.0 {
                                break;
                            }
                        }
                        Some(chosen)
                    })
                    .collect()
            })
            .collect()
    }

    #[test]
    fn with_two_choices_and_hardly_a_prior_it_is_the_two_parameter_model() {
        let curves: Vec<NominalItem> =
            [(0.4, -0.2), (0.6, 0.1), (0.5, 0.4), (0.8, -0.5), (0.3, 0.0)]
                .into_iter()
                .map(|(a, c)| NominalItem::new(vec![a, -a], vec![c, -c]).unwrap())
                .collect();
        let rows = simulated(&curves, 1_500, 3);
        let sheets = AnswerSheets::new(rows.clone(), vec![0; 5]).unwrap();
        let plain: Vec<Vec<(usize, usize)>> = rows
            .iter()
            .map(|row| {
                row.iter()
                    .enumerate()
                    .map(|(i, c)| (i, c.unwrap()))
                    .collect()
            })
            .collect();
        let made = search(&plain, start(&sheets, &[2; 5]), [1e-9; 2]).unwrap();
        let right: Vec<Vec<Option<u8>>> = rows
            .iter()
            .map(|row| row.iter().map(|c| Some(u8::from(c == &Some(0)))).collect())
            .collect();
        let other = two_parameter(&ResponseTable::new(&right).unwrap()).unwrap();
        for ((item, slope), intercept) in made.iter().zip(&other.slopes).zip(&other.intercepts) {
            assert!((item.slopes[0] - item.slopes[1] - slope.value).abs() < 0.02);
            assert!((item.intercepts[0] - item.intercepts[1] - intercept.value).abs() < 0.01);
        }
    }

    #[test]
    fn parameters_sum_to_nothing_and_shares_come_back() {
        let curves: Vec<NominalItem> = (0..12)
            .map(|item| {
                let hard = f64::from(item) / 6.0 - 1.0;
                NominalItem::new(
                    vec![0.9, -0.1, -0.3, -0.5],
                    vec![0.8 - hard, 0.2, -0.2, hard - 0.8],
                )
                .unwrap()
            })
            .collect();
        let rows = simulated(&curves, 2_000, 11);
        let sheets = AnswerSheets::new(rows, vec![0; 12]).unwrap();
        let made = nominal_fit(&sheets, &[4; 12]).unwrap();
        for (item, truth) in made.items.iter().zip(&curves) {
            assert!(sum((0..4).filter_map(|choice| item.slope(choice))).abs() < 1e-6);
            for ability in [-1.0, 0.0, 1.0] {
                for (one, other) in item
                    .probabilities(ability)
                    .iter()
                    .zip(truth.probabilities(ability))
                {
                    assert!((one - other).abs() < 0.06, "{one} {other}");
                }
            }
        }
        let mean = sum(made.abilities.iter().flatten().copied()) / 2_000.0;
        assert!(mean.abs() < 0.15, "{mean}");
    }

    #[test]
    fn a_choice_nobody_made_stays_finite_and_few_are_refused() {
        let rows: Vec<Vec<Option<usize>>> = (0..40)
            .map(|c| {
                vec![
                    Some(c % 2),
                    Some(c % 3 % 2),
                    Some(usize::from(c % 5 == 0)),
                    None,
                ]
            })
            .collect();
        let sheets = AnswerSheets::new(rows.clone(), vec![0; 4]).unwrap();
        let made = nominal_fit(&sheets, &[4; 4]).unwrap();
        assert!(
            made.items
                .iter()
                .all(|item| item.probabilities(0.5).iter().all(|p| *p > 0.0))
        );
        assert!(made.abilities.iter().all(Option::is_some));
        let few = AnswerSheets::new(rows[..29].to_vec(), vec![0; 4]).unwrap();
        assert!(matches!(
            nominal_fit(&few, &[4; 4]),
            Err(Refusal::TooFew { need: 30, .. })
        ));
        assert!(nominal_fit(&sheets, &[1; 4]).is_err());
    }
}
