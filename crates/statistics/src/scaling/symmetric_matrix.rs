//! Small symmetric systems by Cholesky's factors: for the steps of a search and the errors after it.
//!
//! Own code, because libraries choose fused or wide instructions by processor: the last digits would
//! then differ between machines. Source: Golub & Van Loan, Matrix Computations, algorithm 4.2.2.

/// The lower factor of a positive definite matrix.
pub(crate) struct Cholesky {
    size: usize,
    lower: Vec<f64>,
}

impl Cholesky {
    /// Factors a matrix given by rows; none when it is not positive definite to working precision.
    pub(crate) fn of(matrix: &[f64], size: usize) -> Option<Self> {
        let mut lower = vec![0.0; size * size];
        for row in 0..size {
            for column in 0..=row {
                let mut rest = matrix[row * size + column];
                for place in 0..column {
                    rest -= lower[row * size + place] * lower[column * size + place];
                }
                if row == column {
                    let whole = matrix[row * size + row];
                    // What is left of the diagonal must be more than rounding.
                    if rest.is_nan() || rest <= 1e-13 * whole.abs() || !rest.is_finite() {
                        return None;
                    }
                    lower[row * size + row] = rest.sqrt();
                } else {
                    lower[row * size + column] = rest / lower[column * size + column];
                }
            }
        }
        Some(Self { size, lower })
    }

    /// Solves lower factor · x = right.
    pub(crate) fn half_solve(&self, right: &[f64]) -> Vec<f64> {
        let size = self.size;
        let mut x = right.to_vec();
        for row in 0..size {
            for place in 0..row {
                x[row] -= self.lower[row * size + place] * x[place];
            }
            x[row] /= self.lower[row * size + row];
        }
        x
    }

    /// The logarithm of the determinant.
    pub(crate) fn log_determinant(&self) -> f64 {
        (0..self.size)
            .map(|row| 2.0 * libm::log(self.lower[row * self.size + row]))
            .sum()
    }

    /// Solves matrix · x = right.
    pub(crate) fn solve(&self, right: &[f64]) -> Vec<f64> {
        let size = self.size;
        let mut x = self.half_solve(right);
        for row in (0..size).rev() {
            for place in row + 1..size {
                x[row] -= self.lower[place * size + row] * x[place];
            }
            x[row] /= self.lower[row * size + row];
        }
        x
    }

    /// The inverse, by rows.
    pub(crate) fn inverse(&self) -> Vec<f64> {
        let size = self.size;
        let mut inverse = vec![0.0; size * size];
        let mut unit = vec![0.0; size];
        for column in 0..size {
            unit[column] = 1.0;
            for (row, value) in self.solve(&unit).into_iter().enumerate() {
                inverse[row * size + column] = value;
            }
            unit[column] = 0.0;
        }
        inverse
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn solves_and_inverts() {
        let matrix = [4.0, 2.0, 2.0, 3.0];
        let factor = Cholesky::of(&matrix, 2).unwrap();
        let x = factor.solve(&[8.0, 7.0]);
        assert!((x[0] - 1.25).abs() < 1e-14 && (x[1] - 1.5).abs() < 1e-14);
        assert!((factor.inverse()[0] - 0.375).abs() < 1e-14);
    }

    #[test]
    fn a_flat_direction_has_no_factor() {
        assert!(Cholesky::of(&[1.0, 1.0, 1.0, 1.0], 2).is_none());
        assert!(Cholesky::of(&[f64::NAN], 1).is_none());
    }
}
