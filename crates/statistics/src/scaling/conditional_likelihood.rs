//! The conditional likelihood of Rasch models: given each candidate's total, abilities drop out.
//!
//! Source: Andersen 1972, eq. 2.4 and 2.7; Fischer & Molenaar 1995, ch. 3 and 15 (several categories).
//! log L = -Σ n(j,h) Σ τ(j,t) - Σ n(r) log γ(r), over candidates with neither nothing nor everything,
//! without the constant that counts arrangements; all thresholds sum to 0.

use super::maximise::{Maximum, Objective, maximise};
use super::response_table::ResponseTable;
use super::score_distribution::score_distribution;
use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// Counts of the candidates who tell something.
pub(crate) struct ConditionalLikelihood {
    /// By question and threshold: how many answered in that category or higher.
    passed: Vec<Vec<f64>>,
    /// How many have each total.
    totals: Vec<f64>,
    /// Candidates with neither nothing nor everything.
    pub(crate) persons: usize,
}

/// Thresholds with standard errors, by question.
pub(crate) struct ConditionalFit {
    pub(crate) thresholds: Vec<Vec<f64>>,
    pub(crate) standard_errors: Vec<Vec<f64>>,
    pub(crate) log_likelihood: f64,
    pub(crate) persons: usize,
}

impl ConditionalLikelihood {
    /// Counts a table without gaps.
    ///
    /// # Errors
    /// `Refusal::TooFew`, `Refusal::NotANumber` at a gap, and what `category_counts` refuses, judged
    /// by the candidates that stay.
    pub(crate) fn of(
        table: &ResponseTable,
        least: usize,
        reason: &'static str,
    ) -> Result<Self, Refusal> {
        at_least(2, table.items(), "questions", "a comparison needs two")?;
        let highest: Vec<usize> = table
            .category_counts()?
            .iter()
            .map(|counts| counts.len() - 1)
            .collect();
        let top: usize = highest.iter().sum();
        let kept: Vec<Vec<usize>> = table
            .complete_rows()?
            .into_iter()
            .filter(|row| (1..top).contains(&row.iter().sum()))
            .collect();
        at_least(
            least,
            kept.len(),
            "candidates with neither no marks nor all",
            reason,
        )?;
        let mut passed: Vec<Vec<f64>> = highest.iter().map(|high| vec![0.0; *high]).collect();
        let mut totals = vec![0.0; top + 1];
        for row in &kept {
            totals[row.iter().sum::<usize>()] += 1.0;
            for (category, passed) in row.iter().zip(&mut passed) {
                for count in passed.iter_mut().take(*category) {
                    *count += 1.0;
                }
            }
        }
        let persons = kept.len();
        for (column, passed) in passed.iter().enumerate() {
            let mut above = persons as f64;
            for count in passed {
                if *count == above || *count == 0.0 {
                    return Err(Refusal::ConstantColumn { column });
                }
                above = *count;
            }
        }
        if highest.iter().all(|high| *high == 1) {
            connected(&kept, table.items())?;
        }
        Ok(Self {
            passed,
            totals,
            persons,
        })
    }

    /// Finds the thresholds.
    ///
    /// # Errors
    /// As [`maximise`].
    pub(crate) fn fit(&self, of: &'static str) -> Result<ConditionalFit, Refusal> {
        let mut start = Vec::new();
        for passed in &self.passed {
            let mut above = self.persons as f64;
            for (place, count) in passed.iter().enumerate() {
                let next = passed.get(place + 1).copied().unwrap_or(0.0);
                start.push(libm::log((above - count) / (count - next)));
                above = *count;
            }
        }
        let middle = sum(start.iter().copied()) / start.len() as f64;
        start.pop();
        let start = start.iter().map(|threshold| threshold - middle).collect();
        let top = maximise(self, start, of)?;
        Ok(self.result(&top))
    }

    fn result(&self, top: &Maximum) -> ConditionalFit {
        let free = top.point.len();
        let thresholds = self.by_question(&self.all(&top.point));
        let mut errors: Vec<f64> = (0..free).map(|place| top.standard_error(place)).collect();
        errors.push(top.variance_of(&vec![-1.0; free]).sqrt());
        ConditionalFit {
            standard_errors: self.by_question(&errors),
            thresholds,
            log_likelihood: top.value,
            persons: self.persons,
        }
    }

    fn all(&self, free: &[f64]) -> Vec<f64> {
        let mut all = free.to_vec();
        all.push(-sum(free.iter().copied()));
        all
    }

    fn by_question(&self, flat: &[f64]) -> Vec<Vec<f64>> {
        let mut rest = flat.iter().copied();
        self.passed
            .iter()
            .map(|passed| rest.by_ref().take(passed.len()).collect())
            .collect()
    }

    /// Log-likelihood, and by question, threshold and total the probability of passing it; none where
    /// a parameter is beyond all numbers.
    #[allow(clippy::type_complexity)]
    fn tables(&self, thresholds: &[Vec<f64>]) -> Option<(f64, Vec<Vec<Vec<f64>>>)> {
        // Weights of categories, scaled to probabilities; `scale` remembers by how much.
        let mut scale = 0.0;
        let items: Vec<Vec<f64>> = thresholds
            .iter()
            .map(|steps| {
                let minus: Vec<f64> = steps.iter().map(|step| -step).collect();
                let shares = super::item_curve::adjacent(0.0, &minus);
                scale -= libm::log(shares.first().copied().unwrap_or(1.0));
                shares
            })
            .collect();
        let sums = score_distribution(&items);
        let mut value = 0.0;
        for (total, count) in self.totals.iter().enumerate() {
            if *count > 0.0 {
                value -= count * (libm::log(sums.whole[total]) + scale);
            }
        }
        for (steps, passed) in thresholds.iter().zip(&self.passed) {
            for (step, count) in steps.iter().zip(passed) {
                value -= step * count;
            }
        }
        let by_total = items
            .iter()
            .zip(&sums.without)
            .map(|(shares, without)| {
                let mut passing = vec![vec![0.0; self.totals.len()]; shares.len() - 1];
                for (total, whole) in sums.whole.iter().enumerate() {
                    let mut above = 0.0;
                    for category in (1..shares.len()).rev() {
                        if let Some(rest) = total.checked_sub(category).and_then(|r| without.get(r))
                        {
                            above += shares[category] * rest / whole;
                        }
                        passing[category - 1][total] = above;
                    }
                }
                passing
            })
            .collect();
        value.is_finite().then_some((value, by_total))
    }
}

impl Objective for ConditionalLikelihood {
    fn value_and_gradient(&self, at: &[f64]) -> Option<(f64, Vec<f64>)> {
        let thresholds = self.by_question(&self.all(at));
        let (value, passing) = self.tables(&thresholds)?;
        let mut gradient = Vec::with_capacity(at.len() + 1);
        for (passing, passed) in passing.iter().zip(&self.passed) {
            for (by_total, seen) in passing.iter().zip(passed) {
                let expected: f64 = by_total.iter().zip(&self.totals).map(|(p, n)| p * n).sum();
                gradient.push(expected - seen);
            }
        }
        let last = gradient.pop()?;
        for slope in &mut gradient {
            *slope -= last;
        }
        Some((value, gradient))
    }

    /// Questions as if independent given the total: the covariances within each question.
    fn rough_information(&self, at: &[f64]) -> Option<Vec<f64>> {
        let thresholds = self.by_question(&self.all(at));
        let (_, passing) = self.tables(&thresholds)?;
        let size = at.len() + 1;
        let mut full = vec![0.0; size * size];
        let mut from = 0;
        for passing in &passing {
            for (one, first) in passing.iter().enumerate() {
                for (other, second) in passing.iter().enumerate() {
                    let both = &passing[one.max(other)];
                    full[(from + one) * size + from + other] = self
                        .totals
                        .iter()
                        .enumerate()
                        .map(|(total, n)| n * (both[total] - first[total] * second[total]))
                        .sum();
                }
            }
            from += passing.len();
        }
        // The last threshold is minus the sum of the others.
        let last = size - 1;
        let mut reduced = vec![0.0; last * last];
        for row in 0..last {
            for column in 0..last {
                reduced[row * last + column] = full[row * size + column]
                    - full[row * size + last]
                    - full[last * size + column]
                    + full[last * size + last];
            }
        }
        Some(reduced)
    }
}

/// Refuses tables in which one set of questions was always answered better than the rest: the
/// distance between the sets would be infinite (Fischer 1981, theorem 2).
fn connected(rows: &[Vec<usize>], items: usize) -> Result<(), Refusal> {
    let mut beats = vec![vec![false; items]; items];
    for row in rows {
        for (one, right) in row.iter().enumerate() {
            if *right == 1 {
                for (other, wrong) in row.iter().enumerate() {
                    if *wrong == 0 {
                        beats[one][other] = true;
                    }
                }
            }
        }
    }
    let reaches_all = |beats: &dyn Fn(usize, usize) -> bool| {
        let mut seen = vec![false; items];
        seen[0] = true;
        let mut open = vec![0];
        while let Some(one) = open.pop() {
            for (other, seen) in seen.iter_mut().enumerate() {
                if !*seen && beats(one, other) {
                    *seen = true;
                    open.push(other);
                }
            }
        }
        seen.iter().all(|seen| *seen)
    };
    if reaches_all(&|one, other| beats[one][other]) && reaches_all(&|one, other| beats[other][one])
    {
        Ok(())
    } else {
        Err(Refusal::NotDefined {
            of: "the difficulty of questions",
            because: "nobody who failed a question of one set solved one of the other set: the \
                      distance between the sets has no finite estimate",
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn table(rows: &[[u8; 3]]) -> ResponseTable {
        let rows: Vec<Vec<Option<u8>>> = rows
            .iter()
            .map(|row| row.iter().map(|answer| Some(*answer)).collect())
            .collect();
        ResponseTable::new(&rows).unwrap()
    }

    #[test]
    fn two_questions_have_the_log_of_a_ratio() {
        // With two questions the conditional estimate is log(n01/n10) apart.
        let rows: Vec<Vec<Option<u8>>> = (0..12)
            .map(|place| vec![Some(u8::from(place < 9)), Some(u8::from(place >= 9))])
            .collect();
        let table = ResponseTable::new(&rows).unwrap();
        let made = ConditionalLikelihood::of(&table, 2, "a test").unwrap();
        let fit = made.fit("a test").unwrap();
        let apart = fit.thresholds[1][0] - fit.thresholds[0][0];
        assert!((apart - libm::log(3.0)).abs() < 1e-7);
        // Variance of a log odds: 1/9 + 1/3; each is half of the distance.
        let error = fit.standard_errors[0][0];
        assert!((error - 0.5 * (4.0_f64 / 9.0).sqrt()).abs() < 1e-6);
    }

    #[test]
    fn the_gradient_is_that_of_the_value() {
        let made = ConditionalLikelihood::of(
            &table(&[
                [0, 1, 2],
                [2, 1, 0],
                [1, 0, 1],
                [0, 2, 1],
                [1, 1, 0],
                [2, 0, 1],
            ]),
            2,
            "a test",
        )
        .unwrap();
        let at = [0.3, -0.2, 0.5, 0.1, -0.6];
        let (_, gradient) = made.value_and_gradient(&at).unwrap();
        for place in 0..at.len() {
            let moved = |width: f64| {
                let mut near = at;
                near[place] += width;
                made.value_and_gradient(&near).unwrap().0
            };
            let seen = (moved(1e-5) - moved(-1e-5)) / 2e-5;
            assert!((seen - gradient[place]).abs() < 1e-8, "{place}");
        }
    }

    #[test]
    fn sets_that_never_meet_are_refused() {
        let made = ConditionalLikelihood::of(
            &table(&[[1, 0, 0], [1, 1, 0], [1, 0, 1], [0, 0, 0]]),
            2,
            "a test",
        );
        assert!(matches!(made, Err(Refusal::ConstantColumn { column: 0 })));
        let guttman = ConditionalLikelihood::of(
            &table(&[[1, 0, 0], [0, 1, 0], [1, 1, 0], [1, 1, 1], [0, 0, 0]]),
            2,
            "a test",
        );
        assert!(guttman.is_err());
    }
}
