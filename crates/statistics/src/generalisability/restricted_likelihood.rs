//! The components of persons by questions by markers, none of them below 0.
//!
//! Source: Patterson & Thompson 1971, restricted maximum likelihood. In a full table the mean
//! squares are independent, each λχ²/f about its expectation λ, so the likelihood is
//! −½ Σ f (ln λ + MS/λ) (Searle, Casella & McCulloch 1992, section 6.6, number from memory), λ being
//! sums of components. Components that would be negative are held at 0, and the result names them.
//! Invalid: tables with gaps. Smallest: as [`super::persons_by_items_by_markers`]. Missing: refused.

use crate::generalisability::crossed_scores::CrossedScores;
use crate::generalisability::persons_by_items_by_markers::PersonsByItemsByMarkers;
use crate::refusal::Refusal;
use crate::small_system::{solve, weighted_products};

/// Steps after which the search is given up.
const STEPS: usize = 500;

/// The components and how many of them were held at 0.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct RestrictedComponents {
    /// The components, none negative.
    pub components: PersonsByItemsByMarkers,
    /// How many were held at 0.
    pub held_at_zero: usize,
}

/// Fits the components.
///
/// # Errors
/// `Refusal::NotDefined` when a mean square is 0 (the likelihood has no maximum);
/// `Refusal::NotSettled`.
pub fn restricted_components(scores: &CrossedScores) -> Result<RestrictedComponents, Refusal> {
    let squares = scores.squares();
    let [np, ni, nj] = scores.sizes.map(|size| size as f64);
    let strata = [
        squares.first,
        squares.second,
        squares.third,
        squares.first_second,
        squares.first_third,
        squares.second_third,
        squares.all,
    ];
    if strata.iter().any(|stratum| stratum.mean() <= 0.0) {
        return Err(Refusal::NotDefined {
            of: "the restricted likelihood",
            because: "one of the mean squares is 0",
        });
    }
    // Column of each component: how often it stands in the expectation of each mean square.
    let columns: [[f64; 7]; 7] = [
        [ni * nj, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0],
        [0.0, np * nj, 0.0, 0.0, 0.0, 0.0, 0.0],
        [0.0, 0.0, np * ni, 0.0, 0.0, 0.0, 0.0],
        [nj, nj, 0.0, nj, 0.0, 0.0, 0.0],
        [ni, 0.0, ni, 0.0, ni, 0.0, 0.0],
        [0.0, np, np, 0.0, 0.0, np, 0.0],
        [1.0; 7],
    ];
    let mean_squares = strata.map(|stratum| stratum.mean());
    let degrees = strata.map(|stratum| stratum.degrees);
    let mut free = [true; 7];
    // Each round holds one more component at 0 or sets one free; both ways there are few.
    for _ in 0..STEPS {
        let made = fit(&columns, &mean_squares, &degrees, free)?;
        let lowest = made
            .iter()
            .zip(&mut free)
            .filter(|(value, free)| **free && **value < 0.0)
            .min_by(|(one, _), (other, _)| one.total_cmp(other));
        if let Some((_, free)) = lowest {
            *free = false;
            continue;
        }
        // A held component is set free when the likelihood would rise with it.
        let expected = expectations(&columns, &made);
        let slope = |column: &[f64; 7]| -> f64 {
            column
                .iter()
                .zip(&expected)
                .zip(mean_squares.iter().zip(&degrees))
                .map(|((times, lambda), (square, f))| {
                    times * f * (square - lambda) / (lambda * lambda)
                })
                .sum()
        };
        let wrongly_held = columns
            .iter()
            .zip(&mut free)
            .find(|(column, free)| !**free && slope(column) > 1e-9);
        if let Some((_, free)) = wrongly_held {
            *free = true;
            continue;
        }
        let [
            person,
            item,
            marker,
            person_item,
            person_marker,
            item_marker,
            residual,
        ] = made;
        return Ok(RestrictedComponents {
            components: PersonsByItemsByMarkers {
                person,
                item,
                marker,
                person_item,
                person_marker,
                item_marker,
                residual,
                mean: scores.mean(),
                sizes: scores.sizes,
            },
            held_at_zero: free.iter().filter(|free| !**free).count(),
        });
    }
    Err(Refusal::NotSettled {
        of: "the restricted likelihood",
        steps: STEPS,
    })
}

fn expectations(columns: &[[f64; 7]; 7], components: &[f64; 7]) -> [f64; 7] {
    let mut made = [0.0; 7];
    for (column, component) in columns.iter().zip(components) {
        for (sum, times) in made.iter_mut().zip(column) {
            *sum += times * component;
        }
    }
    made
}

/// The best components with some of them held at 0: Fisher's steps, each a weighted regression of
/// the mean squares. A free component may come out negative; the caller then holds it.
fn fit(
    columns: &[[f64; 7]; 7],
    mean_squares: &[f64; 7],
    degrees: &[f64; 7],
    free: [bool; 7],
) -> Result<[f64; 7], Refusal> {
    let used: Vec<Vec<f64>> = columns
        .iter()
        .zip(free)
        .filter(|(_, free)| *free)
        .map(|(column, _)| column.to_vec())
        .collect();
    let mut expected = *mean_squares;
    for _ in 0..STEPS {
        let weights: Vec<f64> = expected
            .iter()
            .zip(degrees)
            .map(|(lambda, f)| f / (lambda * lambda))
            .collect();
        let (matrix, right) = weighted_products(&used, &weights, mean_squares);
        let solution = solve(&matrix, &right).ok_or(Refusal::NotDefined {
            of: "the restricted likelihood",
            because: "the components cannot be told apart",
        })?;
        let mut next = solution.into_iter();
        let components = free.map(|free| {
            if free {
                next.next().unwrap_or(0.0)
            } else {
                0.0
            }
        });
        let made = expectations(columns, &components);
        let change = made
            .iter()
            .zip(&expected)
            .map(|(one, other)| ((one - other) / other).abs())
            .fold(0.0, f64::max);
        if made.iter().any(|lambda| *lambda <= 0.0) || change < 1e-13 {
            return Ok(components);
        }
        expected = made;
    }
    Err(Refusal::NotSettled {
        of: "the restricted likelihood",
        steps: STEPS,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::generalisability::persons_by_items_by_markers::persons_by_items_by_markers;

    #[test]
    fn where_no_component_is_negative_both_ways_agree() {
        let cells: Vec<f64> = (0..60)
            .map(|place| {
                let (p, i, j) = (place / 12, (place / 3) % 4, place % 3);
                let noise = f64::from((place * 7919 + 31) % 17) / 5.0;
                f64::from(p * p) + 2.0 * f64::from(i) + 1.5 * f64::from(j) + noise
            })
            .collect();
        let table = CrossedScores::new(5, 4, 3, cells).unwrap();
        let made = restricted_components(&table).unwrap();
        let plain = persons_by_items_by_markers(&table).unwrap();
        if made.held_at_zero == 0 {
            assert!((made.components.person - plain.person).abs() < 1e-9);
            assert!((made.components.residual - plain.residual).abs() < 1e-9);
        } else {
            assert!(
                [
                    plain.person_item,
                    plain.person_marker,
                    plain.item_marker,
                    plain.item,
                    plain.marker
                ]
                .iter()
                .any(|component| *component < 0.0)
            );
        }
        assert!(made.components.person > 0.0 && made.components.residual > 0.0);
    }
}
