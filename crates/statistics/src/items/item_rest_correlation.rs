//! Do those who do well on the other questions do better on this one?
//!
//! Source: Henrysson 1963: Pearson's r of the question with the total of all others. Invalid: with
//! few candidates the figure is mostly noise; its interval says so. Constant question: refused.
//! Missing: none in the table.

use crate::descriptive::correlation_interval::{Correlation, correlation};
use crate::interval::Confidence;
use crate::refusal::Refusal;
use crate::score_table::ScoreTable;

/// One correlation per question, in their order; a refusal where the question or the rest does not
/// vary.
#[must_use]
pub fn item_rest_correlations(
    scores: &ScoreTable,
    confidence: Confidence,
) -> Vec<Result<Correlation, Refusal>> {
    let totals = scores.totals();
    let largest = totals
        .iter()
        .fold(0.0_f64, |most, total| most.max(total.abs()));
    let mut rest = vec![0.0; totals.len()];
    (0..scores.items())
        .map(|place| {
            let column = scores.column(place);
            for ((rest, total), own) in rest.iter_mut().zip(&totals).zip(&column) {
                *rest = total - own;
            }
            flatten(&mut rest, largest);
            correlation(&column, &rest, confidence)
        })
        .collect()
}

/// A total less one of its marks carries the total's rounding: what differs by no more than that is
/// the same rest, and a rest that does not vary must be seen not to.
fn flatten(rest: &mut [f64], largest: f64) {
    let (low, high) = rest
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
            (low.min(*value), high.max(*value))
        });
    if high - low <= 8.0 * f64::EPSILON * largest {
        rest.fill(low);
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_question_against_the_rest_is_negative() {
        let table = ScoreTable::new(&[[1.0, 0.0, 0.0], [0.0, 1.0, 1.0], [0.0, 1.0, 0.0]]).unwrap();
        let made = item_rest_correlations(&table, Confidence::P95);
        assert!(made[0].as_ref().unwrap().r < 0.0);
        assert!(made[0].as_ref().unwrap().interval.is_err(), "three pairs");
        // The rest of the third question is .1 + .2 and .3 + 0: the same, whatever rounding says.
        let flat = ScoreTable::new(&[[0.1, 0.2, 1.0], [0.3, 0.0, 0.0], [0.2, 0.1, 0.5]]).unwrap();
        assert!(item_rest_correlations(&flat, Confidence::P95)[2].is_err());
        let alone = ScoreTable::new(&[[1.0], [0.0]]).unwrap();
        assert!(item_rest_correlations(&alone, Confidence::P95)[0].is_err());
    }
}
