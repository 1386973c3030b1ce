//! How far do raters agree when one category is so common that kappa misleads?
//!
//! Source: Gwet 2008; Gwet 2014: AC1 and, weighted, AC2: chance agreement T_w/(q(q−1)) Σ π(1−π), with
//! T_w the sum of the weights and π the mean share of each category per subject; standard error for
//! sampled subjects, Gwet 2014. Categories are the different values that occur. Weights: the same or
//! not, linear, quadratic (distance of the values over their range), ordinal (ranks). Invalid: with
//! categories that nobody used (say so by leaving them out or in on purpose). The interval uses
//! Student's t with n − 1 degrees of freedom. Missing: allowed.

use crate::agreement::rating_table::RatingTable;
use crate::distribution::student_t;
use crate::interval::{Confidence, Interval, IntervalMethod};
use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// How near two categories are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub enum GwetWeights {
    /// The same or not: AC1.
    Unweighted,
    /// 1 − |a−b|/range.
    Linear,
    /// 1 − (a−b)²/range².
    Quadratic,
    /// By the number of pairs of categories between: 1 − C(|i−j|+1, 2)/C(q, 2).
    Ordinal,
}

/// Gwet's coefficient.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct GwetCoefficient {
    /// AC1 or AC2.
    pub coefficient: f64,
    /// Agreement seen, weighted.
    pub observed: f64,
    /// Agreement expected by chance, weighted.
    pub by_chance: f64,
    /// Standard error; a refusal for a single subject.
    pub standard_error: Result<f64, Refusal>,
    /// Interval; a refusal likewise.
    pub interval: Result<Interval, Refusal>,
    /// Subjects with a rating.
    pub subjects: usize,
    /// Number of raters.
    pub raters: usize,
}

/// Gwet's AC1 or AC2.
///
/// # Errors
/// `Refusal::TooFew` without a subject rated twice, `Refusal::NotDefined` when only one category
/// occurs.
pub fn gwet_coefficient(
    ratings: &RatingTable,
    weights: GwetWeights,
    confidence: Confidence,
) -> Result<GwetCoefficient, Refusal> {
    at_least(2, ratings.raters(), "raters", "agreement needs two")?;
    let values = ratings.values();
    if values.len() < 2 {
        return Err(Refusal::NotDefined {
            of: "Gwet's coefficient",
            because: "only one category occurs",
        });
    }
    let table = weight_table(&values, weights);
    let rated: Vec<Vec<f64>> = ratings
        .counts(&values)
        .into_iter()
        .filter(|row| sum(row.iter().copied()) >= 1.0)
        .collect();
    let n = rated.len() as f64;
    let q = values.len() as f64;
    let total_weight = sum(table.iter().flatten().copied());
    let pi: Vec<f64> = (0..values.len())
        .map(|place| {
            sum(rated.iter().filter_map(|row| {
                let m = sum(row.iter().copied());
                row.get(place).map(|count| count / m)
            })) / n
        })
        .collect();
    let by_chance = total_weight / (q * (q - 1.0)) * sum(pi.iter().map(|p| p * (1.0 - p)));
    let agreements: Vec<Option<f64>> = rated.iter().map(|row| agreement(row, &table)).collect();
    let paired = agreements.iter().flatten().count();
    at_least(
        1,
        paired,
        "subjects with two ratings",
        "agreement needs two ratings",
    )?;
    let observed = sum(agreements.iter().flatten().copied()) / paired as f64;
    let coefficient = (observed - by_chance) / (1.0 - by_chance);
    // Gwet 2014: each subject's own coefficient, corrected for its part in the chance agreement.
    let parts = rated.iter().zip(&agreements).map(|(row, seen)| {
        let m = sum(row.iter().copied());
        let own = seen.map_or(0.0, |seen| {
            n / paired as f64 * (seen - by_chance) / (1.0 - by_chance)
        });
        let own_chance = total_weight / (q * (q - 1.0))
            * sum(row.iter().zip(&pi).map(|(count, p)| count / m * (1.0 - p)));
        let corrected =
            own - 2.0 * (1.0 - coefficient) * (own_chance - by_chance) / (1.0 - by_chance);
        (corrected - coefficient) * (corrected - coefficient)
    });
    let spread = sum(parts);
    let standard_error = at_least(2, rated.len(), "subjects", "a standard error needs two")
        .map(|()| (spread / (n * (n - 1.0))).sqrt());
    let interval = standard_error.map(|error| {
        let reach = student_t::quantile_of_upper_tail(confidence.each_tail(), n - 1.0) * error;
        Interval {
            lower: coefficient - reach,
            upper: (coefficient + reach).min(1.0),
            confidence,
            method: IntervalMethod::StudentT,
        }
    });
    Ok(GwetCoefficient {
        coefficient,
        observed,
        by_chance,
        standard_error,
        interval,
        subjects: rated.len(),
        raters: ratings.raters(),
    })
}

/// Weighted agreement within one subject; none with fewer than two ratings.
fn agreement(row: &[f64], table: &[Vec<f64>]) -> Option<f64> {
    let m = sum(row.iter().copied());
    if m < 2.0 {
        return None;
    }
    let pairs = row.iter().zip(table).map(|(count, line)| {
        let near = sum(line.iter().zip(row).map(|(weight, other)| weight * other));
        count * (near - 1.0)
    });
    Some(sum(pairs) / (m * (m - 1.0)))
}

fn weight_table(values: &[f64], weights: GwetWeights) -> Vec<Vec<f64>> {
    let range = match (values.first(), values.last()) {
        (Some(first), Some(last)) => last - first,
        _ => 1.0,
    };
    let q = values.len() as f64;
    values
        .iter()
        .enumerate()
        .map(|(i, one)| {
            values
                .iter()
                .enumerate()
                .map(|(j, other)| match weights {
                    GwetWeights::Unweighted => f64::from(u8::from(i == j)),
                    GwetWeights::Linear => 1.0 - (one - other).abs() / range,
                    GwetWeights::Quadratic => {
                        let far = (one - other) / range;
                        1.0 - far * far
                    }
                    GwetWeights::Ordinal => {
                        let steps = i.abs_diff(j) as f64;
                        1.0 - steps * (steps + 1.0) / (q * (q - 1.0))
                    }
                })
                .collect()
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn high_agreement_on_a_common_category_stays_high() {
        // Nine of ten samples alike: kappa is about -0.05 here, AC1 is not fooled.
        let mut rows = vec![vec![Some(1.0), Some(1.0)]; 18];
        rows.push(vec![Some(1.0), Some(2.0)]);
        rows.push(vec![Some(2.0), Some(1.0)]);
        let ratings = RatingTable::new(rows).unwrap();
        let made = gwet_coefficient(&ratings, GwetWeights::Unweighted, Confidence::P95).unwrap();
        assert!((made.observed - 0.9).abs() < 1e-15);
        // Chance 2 · 0.95 · 0.05 = 0.095.
        assert!((made.coefficient - (0.9 - 0.095) / 0.905).abs() < 1e-14);
        let linear = gwet_coefficient(&ratings, GwetWeights::Linear, Confidence::P95).unwrap();
        assert!((linear.coefficient - made.coefficient).abs() < 1e-14);
    }
}
