//! Curvature of a marginal likelihood: the information that known abilities would give, less what is
//! lost by not knowing them.
//!
//! Source: Louis 1982, J. R. Statist. Soc. B 44, 226-233 (the observed information is the mean of the
//! complete one less the covariance of the complete scores, both given the answers). The complete
//! part is taken from central differences of exact slopes at fixed expected counts, which asks for no
//! second look at the candidates: with 120 parameters that is 240 times less work than differences of
//! the whole gradient, and as exact. Candidates are summed in chunks of fixed size and order, so that
//! the digits do not depend on the number of threads.

use rayon::prelude::*;

use super::marginal_likelihood::{CHUNK, MarginalLikelihood, Pattern, Tables, log_weights};
use super::quadrature::POINTS;

/// A point that holds less than this share of a candidate's ability adds nothing that shows.
const NOTHING: f64 = 1e-17;

/// Minus the second derivatives of the likelihood and its priors, by rows.
pub(super) fn observed_information(made: &MarginalLikelihood, at: &[f64]) -> Option<Vec<f64>> {
    let tables = made.tables(at)?;
    let (_, counts) = made.expected(&tables.logs);
    let size = made.parameters;
    let mut matrix = vec![0.0; size * size];
    complete(made, at, &counts, &mut matrix)?;
    let lost: Vec<Vec<f64>> = made
        .patterns
        .par_chunks(CHUNK)
        .map(|patterns| lost(made, patterns, &tables))
        .collect();
    for one in lost {
        for row in 0..size {
            for column in 0..=row {
                matrix[row * size + column] -= one[row * size + column];
                if column < row {
                    matrix[column * size + row] -= one[row * size + column];
                }
            }
        }
    }
    for (place, prior) in &made.priors {
        let width = 1e-5 * (1.0 + at[*place].abs());
        let (_, above, _) = prior.at(at[*place] + width)?;
        let (_, below, _) = prior.at(at[*place] - width)?;
        matrix[place * size + place] += (below - above) / (2.0 * width);
    }
    // Differences leave a last digit of asymmetry.
    for row in 0..size {
        for column in 0..row {
            let middle = f64::midpoint(matrix[row * size + column], matrix[column * size + row]);
            matrix[row * size + column] = middle;
            matrix[column * size + row] = middle;
        }
    }
    matrix
        .iter()
        .all(|value| value.is_finite())
        .then_some(matrix)
}

/// Adds the information of known abilities.
fn complete(
    made: &MarginalLikelihood,
    at: &[f64],
    counts: &[Vec<[f64; POINTS]>],
    matrix: &mut [f64],
) -> Option<()> {
    let size = made.parameters;
    let mut near = at.to_vec();
    for (design, counts) in made.designs.iter().zip(counts) {
        let mut own: Vec<usize> = design
            .raw
            .iter()
            .flat_map(|raw| raw.terms.iter().map(|(parameter, _)| *parameter))
            .collect();
        own.sort_unstable();
        own.dedup();
        for row in own {
            let width = 1e-5 * (1.0 + at[row].abs());
            near[row] = at[row] + width;
            let above = design.slopes(&near, counts)?;
            near[row] = at[row] - width;
            let below = design.slopes(&near, counts)?;
            near[row] = at[row];
            for ((raw, above), below) in design.raw.iter().zip(above).zip(below) {
                for (column, coefficient) in &raw.terms {
                    matrix[row * size + column] += coefficient * (below - above) / (2.0 * width);
                }
            }
        }
    }
    Some(())
}

/// The covariance of the complete scores given the answers, summed; the lower half by rows.
fn lost(made: &MarginalLikelihood, patterns: &[Pattern], tables: &Tables) -> Vec<f64> {
    let size = made.parameters;
    let mut matrix = vec![0.0; size * size];
    let mut scores = vec![0.0; POINTS * size];
    let mut middle = vec![0.0; size];
    let log_weights = log_weights();
    for pattern in patterns {
        let (_, whole, posterior) = made.posterior(pattern, &tables.logs, &log_weights);
        scores.fill(0.0);
        middle.fill(0.0);
        for (curve, category) in &pattern.answers {
            let design = &made.designs[*curve];
            for (raw, by) in design
                .raw
                .iter()
                .zip(&tables.derivatives[*curve][*category])
            {
                for (parameter, coefficient) in &raw.terms {
                    for (point, slope) in by.iter().enumerate() {
                        scores[point * size + parameter] += coefficient * slope;
                    }
                }
            }
        }
        let shares = posterior.map(|share| share / whole);
        for (share, line) in shares.iter().zip(scores.chunks_exact(size)) {
            for (mean, score) in middle.iter_mut().zip(line) {
                *mean += share * score;
            }
        }
        for (share, line) in shares.iter().zip(scores.chunks_exact_mut(size)) {
            if *share < NOTHING {
                continue;
            }
            let root = (share * pattern.count).sqrt();
            for (score, mean) in line.iter_mut().zip(&middle) {
                *score = root * (*score - mean);
            }
            for (row, one) in line.iter().enumerate() {
                let sums = &mut matrix[row * size..=row * size + row];
                for (sum, other) in sums.iter_mut().zip(line.iter()) {
                    *sum += one * other;
                }
            }
        }
    }
    matrix
}
