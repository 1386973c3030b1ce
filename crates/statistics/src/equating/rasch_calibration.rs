//! Where do the questions of two forms lie on one Rasch scale, when some of them are shared?
//!
//! Sources: Wingersky & Lord 1984 (both forms at once, shared questions once); Kim 2006 (fixed
//! parameters: Y first, then X with the shared questions held where they were). Marginal maximum
//! likelihood with normal abilities: group Y has mean 0, group X any mean, each its own variance.
//! EM steps (Bock & Aitkin 1981) on 161 equally spaced abilities from −8 to 8. Invalid: shared
//! questions that drifted; abilities far from normal; questions that discriminate unequally.
//! Smallest: 30 candidates a form (Linacre 1994, from memory). No standard errors here; resample.
//! Ties: none. Missing: refused, so that the total carries all there is to know.

use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::sum;

/// Steps after which the search is given up.
const STEPS: usize = 5000;
/// Number of abilities at which the likelihood is summed.
const PLACES: i32 = 161;

/// Both forms on the scale of form Y.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct RaschCalibration {
    /// Difficulty of each question of X.
    pub x_difficulties: Vec<f64>,
    /// Difficulty of each question of Y.
    pub y_difficulties: Vec<f64>,
    /// Mean ability of the group that took X; that of the other is 0.
    pub x_mean: f64,
    /// Variance of ability in the group that took X.
    pub x_variance: f64,
    /// Variance of ability in the group that took Y.
    pub y_variance: f64,
    /// Logarithm of the likelihood: of both groups together, or of X given the shared questions.
    pub log_likelihood: f64,
    /// Candidates who took X, and Y.
    pub n: [usize; 2],
}

/// Calibrates both forms at once; `shared` pairs the place of a question in X with that in Y.
///
/// # Errors
/// `Refusal::TooFew` candidates or shared questions; `Refusal::OutOfRange` for marks other than 0
/// and 1 or places that do not exist; `Refusal::ConstantColumn`; `Refusal::NotDefined` when a group
/// shows no spread of ability; `Refusal::NotSettled`.
pub fn concurrent_calibration(
    x: &ScoreTable,
    y: &ScoreTable,
    shared: &[(usize, usize)],
) -> Result<RaschCalibration, Refusal> {
    let place_of_x = places_of_x(x, y, shared)?;
    let count = place_of_x
        .iter()
        .copied()
        .max()
        .unwrap_or(0)
        .max(y.items() - 1)
        + 1;
    let mut groups = [
        Group::new(x, place_of_x.clone(), true)?,
        Group::new(y, (0..y.items()).collect(), false)?,
    ];
    let mut difficulties = vec![0.0; count];
    let log_likelihood = settle(&mut groups, &mut difficulties, &vec![false; count])?;
    let [of_x, of_y] = &groups;
    Ok(RaschCalibration {
        x_difficulties: picked(&difficulties, &place_of_x),
        y_difficulties: picked(&difficulties, &of_y.places),
        x_mean: of_x.mean,
        x_variance: of_x.variance,
        y_variance: of_y.variance,
        log_likelihood,
        n: [x.persons(), y.persons()],
    })
}

/// Calibrates Y by itself and then X with the shared questions held at their places in Y.
///
/// # Errors
/// As [`concurrent_calibration`].
pub fn fixed_anchor_calibration(
    x: &ScoreTable,
    y: &ScoreTable,
    shared: &[(usize, usize)],
) -> Result<RaschCalibration, Refusal> {
    let place_of_x = places_of_x(x, y, shared)?;
    let mut first = [Group::new(y, (0..y.items()).collect(), false)?];
    let mut y_difficulties = vec![0.0; y.items()];
    settle(&mut first, &mut y_difficulties, &vec![false; y.items()])?;
    let mut held = vec![false; x.items()];
    let mut x_difficulties = vec![0.0; x.items()];
    for ((difficulty, held), place) in x_difficulties.iter_mut().zip(&mut held).zip(&place_of_x) {
        if let Some(known) = y_difficulties.get(*place) {
            *difficulty = *known;
            *held = true;
        }
    }
    let mut second = [Group::new(x, (0..x.items()).collect(), true)?];
    let log_likelihood = settle(&mut second, &mut x_difficulties, &held)?;
    let ([of_y], [of_x]) = (first, second);
    Ok(RaschCalibration {
        x_difficulties,
        y_difficulties,
        x_mean: of_x.mean,
        x_variance: of_x.variance,
        y_variance: of_y.variance,
        log_likelihood,
        n: [x.persons(), y.persons()],
    })
}

/// The place of each question of X in the joint list: first those of Y, then the rest of X.
fn places_of_x(
    x: &ScoreTable,
    y: &ScoreTable,
    shared: &[(usize, usize)],
) -> Result<Vec<usize>, Refusal> {
    at_least(
        1,
        shared.len(),
        "shared questions",
        "nothing else joins the forms",
    )?;
    let mut joined: Vec<Option<usize>> = vec![None; x.items()];
    for (in_x, in_y) in shared {
        let out = |place: usize| Refusal::OutOfRange {
            of: "place of a shared question",
            value: place as f64,
            allowed: "one of each form, each named once",
        };
        let taken = joined.contains(&Some(*in_y));
        let slot = joined.get_mut(*in_x).ok_or(out(*in_x))?;
        if *in_y >= y.items() || taken || slot.is_some() {
            return Err(out(*in_y));
        }
        *slot = Some(*in_y);
    }
    let mut next = y.items();
    Ok(joined
        .into_iter()
        .map(|place| {
            place.unwrap_or_else(|| {
                next += 1;
                next - 1
            })
        })
        .collect())
}

fn picked(difficulties: &[f64], places: &[usize]) -> Vec<f64> {
    places
        .iter()
        .filter_map(|place| difficulties.get(*place).copied())
        .collect()
}

/// A group: how many have each total, how many answered each question right, and its abilities.
struct Group {
    totals: Vec<f64>,
    right: Vec<f64>,
    places: Vec<usize>,
    persons: f64,
    mean_is_free: bool,
    mean: f64,
    variance: f64,
}

impl Group {
    fn new(scores: &ScoreTable, places: Vec<usize>, mean_is_free: bool) -> Result<Self, Refusal> {
        at_least(
            30,
            scores.persons(),
            "candidates on a form",
            "Linacre 1994, from memory",
        )?;
        let mut totals = vec![0.0; scores.items() + 1];
        let mut right = vec![0.0; scores.items()];
        for row in scores.rows() {
            let mut total = 0;
            for (right, mark) in right.iter_mut().zip(row) {
                if *mark != 0.0 && *mark != 1.0 {
                    return Err(Refusal::OutOfRange {
                        of: "a mark",
                        value: *mark,
                        allowed: "0 or 1",
                    });
                }
                *right += mark;
                total += usize::from(*mark > 0.5);
            }
            if let Some(count) = totals.get_mut(total) {
                *count += 1.0;
            }
        }
        let persons = scores.persons() as f64;
        let constant = |count: &f64| *count == 0.0 || *count == persons;
        if let Some(column) = right.iter().position(constant) {
            return Err(Refusal::ConstantColumn { column });
        }
        Ok(Self {
            totals,
            right,
            places,
            persons,
            mean_is_free,
            mean: 0.0,
            variance: 1.0,
        })
    }

    /// Expected number of candidates at each ability, and the logarithm of the likelihood.
    fn expected(&self, abilities: &[f64], difficulties: &[f64]) -> (Vec<f64>, f64) {
        let own = picked(difficulties, &self.places);
        let prior: Vec<f64> = abilities
            .iter()
            .map(|a| libm::exp(-(a - self.mean) * (a - self.mean) / (2.0 * self.variance)))
            .collect();
        let whole = libm::log(sum(prior.iter().copied()));
        // ln of prior over Π(1 + e^(θ − b)); with the total's own part this is the likelihood.
        let level: Vec<f64> = abilities
            .iter()
            .map(|a| {
                let away = (a - self.mean) * (a - self.mean) / (2.0 * self.variance);
                -away - whole - sum(own.iter().map(|b| libm::log1p(libm::exp(a - b))))
            })
            .collect();
        let mut at_ability = vec![0.0; abilities.len()];
        let mut likelihood = -sum(own.iter().zip(&self.right).map(|(b, right)| b * right));
        for (total, count) in self.totals.iter().enumerate().filter(|(_, n)| **n > 0.0) {
            let logs: Vec<f64> = level
                .iter()
                .zip(abilities)
                .map(|(level, a)| level + total as f64 * a)
                .collect();
            let largest = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            let parts: Vec<f64> = logs.iter().map(|log| libm::exp(log - largest)).collect();
            let together = sum(parts.iter().copied());
            likelihood += count * (largest + libm::log(together));
            for (at, part) in at_ability.iter_mut().zip(&parts) {
                *at += count * part / together;
            }
        }
        (at_ability, likelihood)
    }
}

/// Moves difficulties and groups until nothing moves; the logarithm of the likelihood there.
fn settle(groups: &mut [Group], difficulties: &mut [f64], held: &[bool]) -> Result<f64, Refusal> {
    let abilities: Vec<f64> = (0..PLACES)
        .map(|place| f64::from(place) / 10.0 - 8.0)
        .collect();
    for _ in 0..STEPS {
        let mut right = vec![0.0; difficulties.len()];
        let mut at_question = vec![vec![0.0; abilities.len()]; difficulties.len()];
        let mut likelihood = 0.0;
        let mut moved: f64 = 0.0;
        for group in groups.iter_mut() {
            let (at_ability, own) = group.expected(&abilities, difficulties);
            likelihood += own;
            for (place, count) in group.places.iter().zip(&group.right) {
                if let (Some(right), Some(row)) =
                    (right.get_mut(*place), at_question.get_mut(*place))
                {
                    *right += count;
                    for (at, count) in row.iter_mut().zip(&at_ability) {
                        *at += count;
                    }
                }
            }
            let average = |of: &dyn Fn(f64) -> f64| {
                sum(abilities.iter().zip(&at_ability).map(|(a, n)| n * of(*a))) / group.persons
            };
            let mean = if group.mean_is_free {
                average(&|a| a)
            } else {
                0.0
            };
            let variance = average(&|a| (a - mean) * (a - mean));
            if variance < 0.01 {
                return Err(Refusal::NotDefined {
                    of: "the calibration",
                    because: "a group shows no spread of ability",
                });
            }
            moved = moved
                .max((mean - group.mean).abs())
                .max((variance - group.variance).abs());
            group.mean = mean;
            group.variance = variance;
        }
        for (((difficulty, held), right), at_ability) in difficulties
            .iter_mut()
            .zip(held)
            .zip(&right)
            .zip(&at_question)
        {
            if !held {
                let step = newton_step(*difficulty, *right, &abilities, at_ability);
                *difficulty += step;
                moved = moved.max(step.abs());
            }
        }
        if moved < 1e-9 {
            return Ok(likelihood);
        }
    }
    Err(Refusal::NotSettled {
        of: "the calibration",
        steps: STEPS,
    })
}

/// One step of a difficulty towards as many right answers as were seen, at most 1 logit.
fn newton_step(difficulty: f64, right: f64, abilities: &[f64], at_ability: &[f64]) -> f64 {
    let (mut expected, mut slope) = (0.0, 0.0);
    for (ability, count) in abilities.iter().zip(at_ability) {
        let p = 1.0 / (1.0 + libm::exp(difficulty - ability));
        expected += count * p;
        slope += count * p * (1.0 - p);
    }
    ((expected - right) / slope.max(f64::MIN_POSITIVE)).clamp(-1.0, 1.0)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    /// 400 candidates by 8 questions, drawn by a written-down rule with a given lead.
    fn form(lead: f64, offset: u32) -> ScoreTable {
        let rows: Vec<Vec<f64>> = (0..400_u32)
            .map(|person| {
                let ability = f64::from(person % 21) / 7.0 - 1.4 + lead;
                (0..8_u32)
                    .map(|item| {
                        let difficulty = f64::from(item) / 3.0 - 1.2;
                        let draw =
                            (person * 7919 + item * 104_729 + person * item * 613 + offset) % 1009;
                        let p = 1.0 / (1.0 + libm::exp(difficulty - ability));
                        f64::from(u8::from(f64::from(draw) / 1009.0 < p))
                    })
                    .collect()
            })
            .collect();
        ScoreTable::new(&rows).unwrap()
    }

    #[test]
    fn a_form_beside_itself_has_no_lead() {
        let form = form(0.0, 0);
        let shared: Vec<(usize, usize)> = (0..8).map(|place| (place, place)).collect();
        let made = concurrent_calibration(&form, &form, &shared).unwrap();
        assert!(made.x_mean.abs() < 1e-5, "{made:?}");
        assert_eq!(made.x_difficulties, made.y_difficulties);
        assert!((made.x_variance - made.y_variance).abs() < 1e-5);
        let fixed = fixed_anchor_calibration(&form, &form, &shared).unwrap();
        assert!(fixed.x_mean.abs() < 1e-5);
    }

    #[test]
    fn a_lead_is_found_by_the_shared_questions() {
        let (y, x) = (form(0.0, 0), form(0.7, 17));
        let shared = [(0, 0), (2, 2), (4, 4), (6, 6)];
        for made in [
            concurrent_calibration(&x, &y, &shared).unwrap(),
            fixed_anchor_calibration(&x, &y, &shared).unwrap(),
        ] {
            assert!((made.x_mean - 0.7).abs() < 0.25, "{}", made.x_mean);
        }
    }

    #[test]
    fn places_that_do_not_fit_are_refused() {
        let form = form(0.0, 0);
        for shared in [vec![], vec![(0, 8)], vec![(8, 0)], vec![(0, 0), (1, 0)]] {
            assert!(concurrent_calibration(&form, &form, &shared).is_err());
        }
    }
}
