//! Does each assessor tell the samples apart, repeat themselves, and agree with the others?
//!
//! Source: approach of ISO 11132 (formulas from memory). Per assessor, one-way analysis of variance
//! of their scores by product: F = MS(product)/MS(error), repeatability √MS(error); agreement is the
//! correlation of their product means with the product means of all others. For the panel, two-way
//! analysis with interaction; products are tested against the interaction (assessors as a sample).
//! Invalid: unequal replicates (refused); one replicate only (refused: nothing to repeat). An
//! assessor who repeats exactly has no error and no F (refused for that assessor alone).
//! Missing: refused.

use crate::distribution::f;
use crate::p_value::{PValue, Side};
use crate::refusal::{Refusal, at_least};
use crate::sums::{correlation, mean, squares_about_mean, sum};

/// A ratio of two mean squares with its degrees of freedom and p-value.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct VarianceRatio {
    /// The ratio F.
    pub ratio: f64,
    /// Degrees of freedom above the line.
    pub above: usize,
    /// Degrees of freedom below the line.
    pub below: usize,
    /// Probability of such a ratio, or a larger one, by chance.
    pub p_value: PValue,
}

/// One assessor.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct AssessorPerformance {
    /// Telling products apart; a refusal when there is no error at all.
    pub discrimination: Result<VarianceRatio, Refusal>,
    /// Standard deviation between replicates.
    pub repeatability: f64,
    /// Correlation with the means of all others; a refusal when either does not vary.
    pub agreement: Result<f64, Refusal>,
}

/// The panel.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct AssessorAnova {
    /// In the order of the data.
    pub assessors: Vec<AssessorPerformance>,
    /// Mean square of products.
    pub product: f64,
    /// Mean square of assessors.
    pub assessor: f64,
    /// Mean square of the interaction.
    pub interaction: f64,
    /// Mean square between replicates.
    pub residual: f64,
    /// Products against the interaction; a refusal when there is no interaction at all.
    pub products_differ: Result<VarianceRatio, Refusal>,
    /// Number of products.
    pub products: usize,
    /// Number of replicates.
    pub replicates: usize,
}

fn variance_ratio(
    above: f64,
    above_freedom: usize,
    below: f64,
    below_freedom: usize,
) -> Result<VarianceRatio, Refusal> {
    if below <= 0.0 {
        return Err(Refusal::NoVariance {
            of: "repeated scores",
        });
    }
    let ratio = above / below;
    Ok(VarianceRatio {
        ratio,
        above: above_freedom,
        below: below_freedom,
        p_value: PValue {
            probability: f::upper_tail(ratio, above_freedom as f64, below_freedom as f64),
            side: Side::Upper,
        },
    })
}

/// Analyses scores given as assessor, product, replicate.
///
/// # Errors
/// `Refusal::TooFew` below two assessors, products or replicates; `Refusal::UnevenRows` and
/// `Refusal::NotANumber` name the assessor as row and the product as column.
pub fn assessor_anova(scores: &[Vec<Vec<f64>>]) -> Result<AssessorAnova, Refusal> {
    at_least(2, scores.len(), "assessors", "agreement needs two")?;
    let products = scores.first().map_or(0, Vec::len);
    at_least(2, products, "products", "telling apart needs two")?;
    let replicates = scores
        .first()
        .and_then(|own| own.first())
        .map_or(0, Vec::len);
    at_least(2, replicates, "replicates", "repeatability needs two")?;
    check_shape(scores, products, replicates)?;

    let mut cell_means = Vec::with_capacity(scores.len());
    let mut errors = Vec::with_capacity(scores.len());
    for own in scores {
        let mut means = Vec::with_capacity(products);
        let mut squares = Vec::with_capacity(products);
        for cell in own {
            means.push(mean(cell)?);
            squares.push(squares_about_mean(cell)?);
        }
        cell_means.push(means);
        errors.push(sum(squares));
    }
    let product_means = column_means(&cell_means, products, None)?;
    let r = replicates as f64;
    let error_freedom = products * (replicates - 1);

    let mut assessors = Vec::with_capacity(scores.len());
    for (place, (means, error)) in cell_means.iter().zip(&errors).enumerate() {
        let between = r * squares_about_mean(means)? / (products as f64 - 1.0);
        let within = error / error_freedom as f64;
        let others = column_means(&cell_means, products, Some(place))?;
        assessors.push(AssessorPerformance {
            discrimination: variance_ratio(between, products - 1, within, error_freedom),
            repeatability: within.sqrt(),
            agreement: correlation(means, &others),
        });
    }

    let mut assessor_means = Vec::with_capacity(scores.len());
    for means in &cell_means {
        assessor_means.push(mean(means)?);
    }
    let grand = mean(&product_means)?;
    let (a, p) = (scores.len() as f64, products as f64);
    let interaction_squares = cell_means
        .iter()
        .zip(&assessor_means)
        .flat_map(|(means, own)| {
            means
                .iter()
                .zip(&product_means)
                .map(move |(cell, product)| {
                    let left_over = cell - own - product + grand;
                    left_over * left_over
                })
        });
    let interaction_freedom = (scores.len() - 1) * (products - 1);
    let interaction = r * sum(interaction_squares) / interaction_freedom as f64;
    let product = r * a * squares_about_mean(&product_means)? / (p - 1.0);
    Ok(AssessorAnova {
        assessors,
        product,
        assessor: r * p * squares_about_mean(&assessor_means)? / (a - 1.0),
        interaction,
        residual: sum(errors) / (scores.len() * error_freedom) as f64,
        products_differ: variance_ratio(product, products - 1, interaction, interaction_freedom),
        products,
        replicates,
    })
}

fn check_shape(
    scores: &[Vec<Vec<f64>>],
    products: usize,
    replicates: usize,
) -> Result<(), Refusal> {
    for (row, own) in scores.iter().enumerate() {
        if own.len() != products {
            return Err(Refusal::UnevenRows {
                row,
                have: own.len(),
                expected: products,
            });
        }
        for (column, cell) in own.iter().enumerate() {
            if cell.len() != replicates {
                return Err(Refusal::UnevenRows {
                    row,
                    have: cell.len(),
                    expected: replicates,
                });
            }
            if cell.iter().any(|score| !score.is_finite()) {
                return Err(Refusal::NotANumber { row, column });
            }
        }
    }
    Ok(())
}

/// The mean of each product over assessors, one of them left out if asked.
fn column_means(
    cells: &[Vec<f64>],
    products: usize,
    left_out: Option<usize>,
) -> Result<Vec<f64>, Refusal> {
    (0..products)
        .map(|product| {
            let column: Vec<f64> = cells
                .iter()
                .enumerate()
                .filter(|(place, _)| Some(*place) != left_out)
                .filter_map(|(_, row)| row.get(product).copied())
                .collect();
            mean(&column)
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn exact_repetition_has_no_ratio_but_an_agreement() {
        let scores = vec![
            vec![vec![1.0, 1.0], vec![2.0, 2.0]],
            vec![vec![1.0, 2.0], vec![3.0, 4.0]],
        ];
        let made = assessor_anova(&scores).unwrap();
        assert!(made.assessors[0].discrimination.is_err());
        assert_eq!(made.assessors[0].repeatability, 0.0);
        assert!((made.assessors[0].agreement.unwrap() - 1.0).abs() < 1e-12);
        assert!((made.assessors[1].discrimination.unwrap().ratio - 8.0).abs() < 1e-12);
    }

    #[test]
    fn unequal_replicates_are_refused() {
        let scores = vec![
            vec![vec![1.0, 1.0], vec![2.0, 2.0]],
            vec![vec![1.0, 2.0], vec![3.0]],
        ];
        assert!(matches!(
            assessor_anova(&scores),
            Err(Refusal::UnevenRows {
                row: 1,
                have: 1,
                expected: 2
            })
        ));
    }
}
