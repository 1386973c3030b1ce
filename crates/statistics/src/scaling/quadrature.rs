//! Points and weights that stand for a normal distribution of abilities.
//!
//! Source: the trapezoidal rule on 61 equally spaced points from -6 to 6 standard deviations, as in
//! Bock & Aitkin 1981; for smooth curves its error is far below the digits shown.

/// Number of points.
pub(crate) const POINTS: usize = 61;

/// The points, in standard deviations from the mean.
pub(crate) fn points() -> [f64; POINTS] {
    std::array::from_fn(|place| -6.0 + 0.2 * place as f64)
}

/// Their weights, which sum to 1.
pub(crate) fn weights() -> [f64; POINTS] {
    let heights = points().map(|z| libm::exp(-0.5 * z * z));
    let whole: f64 = heights.iter().sum();
    heights.map(|height| height / whole)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_moments_of_a_normal() {
        let moment = |power: i32| -> f64 {
            points()
                .iter()
                .zip(weights())
                .map(|(z, w)| w * (0..power).fold(1.0, |product, _| product * z))
                .sum()
        };
        assert!((moment(0) - 1.0).abs() < 1e-14 && moment(1).abs() < 1e-14);
        assert!((moment(2) - 1.0).abs() < 1e-6 && (moment(4) - 3.0).abs() < 1e-4);
    }
}
