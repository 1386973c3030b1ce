//! Solves small symmetric systems: Cholesky's square root, the same digits on every machine.
//!
//! Source: Golub & Van Loan 2013, algorithm 4.2.1. A library would choose its multiplication by the
//! processor it meets, so that last digits differ between machines; systems here have at most a
//! dozen unknowns, where nothing is gained by it.

/// The lower root of a symmetric matrix; none when it is not positive definite.
pub(crate) fn lower_root(matrix: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let mut root: Vec<Vec<f64>> = Vec::with_capacity(matrix.len());
    for (row, values) in matrix.iter().enumerate() {
        let mut line: Vec<f64> = Vec::with_capacity(row + 1);
        for column in 0..=row {
            let value = values.get(column)?;
            if column == row {
                let rest = value - line.iter().map(|part| part * part).sum::<f64>();
                // What remains of a diagonal below its rounding error is nothing.
                if !rest.is_finite() || rest <= value.abs() * 1e-14 {
                    return None;
                }
                line.push(rest.sqrt());
            } else {
                let above = root.get(column)?;
                let shared: f64 = above.iter().zip(&line).map(|(a, b)| a * b).sum();
                line.push((value - shared) / above.get(column)?);
            }
        }
        root.push(line);
    }
    Some(root)
}

/// The solution of a symmetric, positive definite system; none when it is not one.
pub(crate) fn solve(matrix: &[Vec<f64>], right: &[f64]) -> Option<Vec<f64>> {
    let root = lower_root(matrix)?;
    let mut middle: Vec<f64> = Vec::with_capacity(right.len());
    for (line, value) in root.iter().zip(right) {
        let known: f64 = line.iter().zip(&middle).map(|(a, b)| a * b).sum();
        middle.push((value - known) / line.last()?);
    }
    let mut solution = middle;
    for place in (0..solution.len()).rev() {
        let mut value = *solution.get(place)?;
        for below in place + 1..solution.len() {
            value -= root.get(below)?.get(place)? * solution.get(below)?;
        }
        *solution.get_mut(place)? = value / root.get(place)?.get(place)?;
    }
    Some(solution)
}

/// The weighted cross products of some columns and of these with a target:
/// the normal equations of a weighted regression.
pub(crate) fn weighted_products(
    columns: &[Vec<f64>],
    weights: &[f64],
    target: &[f64],
) -> (Vec<Vec<f64>>, Vec<f64>) {
    let product = |one: &[f64], other: &[f64]| {
        crate::sums::sum(
            one.iter()
                .zip(other)
                .zip(weights)
                .map(|((a, b), weight)| a * b * weight),
        )
    };
    let matrix = columns
        .iter()
        .map(|one| columns.iter().map(|other| product(one, other)).collect())
        .collect();
    let right = columns.iter().map(|one| product(one, target)).collect();
    (matrix, right)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn three_unknowns_by_hand() {
        let matrix = [
            vec![4.0, 2.0, 0.0],
            vec![2.0, 5.0, 1.0],
            vec![0.0, 1.0, 3.0],
        ];
        // (1, -2, 3) put in: 4 - 4, 2 - 10 + 3, -2 + 9.
        let made = solve(&matrix, &[0.0, -5.0, 7.0]).unwrap();
        for (one, expected) in made.iter().zip([1.0, -2.0, 3.0]) {
            assert!((one - expected).abs() < 1e-14, "{made:?}");
        }
    }

    #[test]
    fn what_has_no_single_solution_has_none() {
        assert!(solve(&[vec![1.0, 1.0], vec![1.0, 1.0]], &[1.0, 1.0]).is_none());
        assert!(solve(&[vec![-1.0]], &[1.0]).is_none());
    }
}
