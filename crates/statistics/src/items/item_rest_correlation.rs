//! Do those who do well on the other questions do better on this one?
//!
//! Source: Henrysson 1963: Pearson's r of the question with the total of all others. Invalid: with
//! few candidates the figure is mostly noise; its interval says so. Constant question: refused.
//! Missing: none in the table.

use crate::descriptive::correlation_interval::{Correlation, fisher_interval};
use crate::interval::Confidence;
use crate::refusal::{Refusal, at_least};
use crate::score_table::ScoreTable;
use crate::sums::RunningSum;

/// One correlation per question, in their order; a refusal where the question or the rest does not
/// vary.
#[must_use]
pub fn item_rest_correlations(
    scores: &ScoreTable,
    confidence: Confidence,
) -> Vec<Result<Correlation, Refusal>> {
    let totals = scores.totals();
    let rounding = 8.0
        * f64::EPSILON
        * totals
            .iter()
            .fold(0.0_f64, |most, total| most.max(total.abs()));
    // Two passes over the rows as they lie, all questions at once.
    let (persons, n) = (scores.persons(), scores.persons() as f64);
    let mut spreads = vec![Spread::NOTHING; scores.items()];
    for (row, total) in scores.rows().zip(&totals) {
        for (spread, own) in spreads.iter_mut().zip(row) {
            spread.take(*own, total - own);
        }
    }
    let means: Vec<(f64, f64)> = spreads
        .iter()
        .map(|spread| (spread.own.total() / n, spread.rest.total() / n))
        .collect();
    let mut squares = vec![Squares::default(); scores.items()];
    for (row, total) in scores.rows().zip(&totals) {
        for ((squares, own), (own_mean, rest_mean)) in squares.iter_mut().zip(row).zip(&means) {
            squares.take(own - own_mean, (total - own) - rest_mean);
        }
    }
    squares
        .iter()
        .zip(&spreads)
        .map(|(squares, spread)| {
            at_least(2, persons, "pairs", "a correlation needs two")?;
            if spread.is_flat(rounding) {
                return Err(Refusal::NoVariance {
                    of: "values of one of the two lists",
                });
            }
            let r = squares.correlation();
            Ok(Correlation {
                r,
                n: persons,
                interval: fisher_interval(r, persons, confidence),
            })
        })
        .collect()
}

/// Sums and extremes of one question's marks and of the rests of the totals.
#[derive(Clone, Copy)]
struct Spread {
    own: RunningSum,
    rest: RunningSum,
    own_range: (f64, f64),
    rest_range: (f64, f64),
}

impl Spread {
    const NOTHING: Self = Self {
        own: RunningSum::NOTHING,
        rest: RunningSum::NOTHING,
        own_range: (f64::INFINITY, f64::NEG_INFINITY),
        rest_range: (f64::INFINITY, f64::NEG_INFINITY),
    };

    fn take(&mut self, own: f64, rest: f64) {
        self.own.take(own);
        self.rest.take(rest);
        self.own_range = (self.own_range.0.min(own), self.own_range.1.max(own));
        self.rest_range = (self.rest_range.0.min(rest), self.rest_range.1.max(rest));
    }

    /// A total less one of its marks carries the total's rounding: what differs by no more than that
    /// is the same rest, and a rest that does not vary must be seen not to.
    fn is_flat(&self, rounding: f64) -> bool {
        self.own_range.1 <= self.own_range.0 || self.rest_range.1 - self.rest_range.0 <= rounding
    }
}

/// Sums of squares and products about the means.
#[derive(Clone, Copy, Default)]
struct Squares {
    own: RunningSum,
    rest: RunningSum,
    both: RunningSum,
}

impl Squares {
    fn take(&mut self, own: f64, rest: f64) {
        self.own.take(own * own);
        self.rest.take(rest * rest);
        self.both.take(own * rest);
    }

    fn correlation(&self) -> f64 {
        let apart = self.own.total().sqrt() * self.rest.total().sqrt();
        (self.both.total() / apart).clamp(-1.0, 1.0)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::sums;

    #[test]
    fn a_question_against_the_rest_is_negative() {
        let table = ScoreTable::new(&[[1.0, 0.0, 0.0], [0.0, 1.0, 1.0], [0.0, 1.0, 0.0]]).unwrap();
        let made = item_rest_correlations(&table, Confidence::P95);
        assert!(made[0].as_ref().unwrap().r < 0.0);
        assert!(made[0].as_ref().unwrap().interval.is_err(), "three pairs");
        // The same by the correlation of two lists, to the last digit.
        let alone = sums::correlation(&table.column(0), &table.totals_without(0));
        assert_eq!(Ok(made[0].as_ref().unwrap().r), alone);
        // The rest of the third question is .1 + .2 and .3 + 0: the same, whatever rounding says.
        let flat = ScoreTable::new(&[[0.1, 0.2, 1.0], [0.3, 0.0, 0.0], [0.2, 0.1, 0.5]]).unwrap();
        assert!(item_rest_correlations(&flat, Confidence::P95)[2].is_err());
        let alone = ScoreTable::new(&[[1.0], [0.0]]).unwrap();
        assert!(item_rest_correlations(&alone, Confidence::P95)[0].is_err());
    }
}
