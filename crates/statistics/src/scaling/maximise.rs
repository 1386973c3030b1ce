//! The top of a smooth log-likelihood: quasi-Newton steps, then Newton's own until nothing moves.
//!
//! Sources: Lange 1995, Statistica Sinica 5, 1-18 (EM gradient steps accelerated by quasi-Newton
//! updates); Nocedal & Wright 2006, eq. 6.17 (the BFGS update). The curvature at the top is taken from
//! central differences of the exact gradient, where the objective knows no better way. Own code for the same digits on every machine.

use super::symmetric_matrix::Cholesky;
use crate::refusal::Refusal;

/// Quasi-Newton steps after which the search is given up.
const STEPS: usize = 2_000;
/// Newton steps that may follow.
const LAST_STEPS: usize = 30;
/// Square of the distance to the top, in standard errors, at which the search ends.
const NEAR: f64 = 1e-14;
/// The same with the exact curvature, after which only rounding is left.
const SETTLED: f64 = 1e-10;
/// A standard error, in logits, beyond which nothing was estimated.
const VAGUE: f64 = 50.0;

/// A function of parameters, to be made as large as possible.
pub(crate) trait Objective {
    /// The value and its derivatives; none where the parameters are not allowed.
    fn value_and_gradient(&self, at: &[f64]) -> Option<(f64, Vec<f64>)>;

    /// A positive definite stand-in for minus the second derivatives, by rows; near enough for a start.
    fn rough_information(&self, at: &[f64]) -> Option<Vec<f64>>;

    /// Minus the second derivatives, by rows.
    fn observed_information(&self, at: &[f64]) -> Option<Vec<f64>>
    where
        Self: Sized,
    {
        by_differences(self, at)
    }
}

/// The top and the curvature there.
pub(crate) struct Maximum {
    pub(crate) point: Vec<f64>,
    pub(crate) value: f64,
    /// Inverse of minus the second derivatives, by rows: the covariances of the estimates.
    pub(crate) covariance: Vec<f64>,
}

impl Maximum {
    /// Variance of a linear combination of the parameters.
    pub(crate) fn variance_of(&self, weights: &[f64]) -> f64 {
        let size = self.point.len();
        let mut total = 0.0;
        for (row, one) in weights.iter().enumerate() {
            for (column, other) in weights.iter().enumerate() {
                total += one * other * self.covariance[row * size + column];
            }
        }
        total
    }

    /// Standard error of one parameter.
    pub(crate) fn standard_error(&self, place: usize) -> f64 {
        self.covariance[place * self.point.len() + place].sqrt()
    }
}

/// Climbs from `start`.
///
/// # Errors
/// `Refusal::NotSettled`; `Refusal::NotDefined` where the likelihood is flat or has no top.
pub(crate) fn maximise(
    objective: &impl Objective,
    start: Vec<f64>,
    of: &'static str,
) -> Result<Maximum, Refusal> {
    let no_top = Refusal::NotDefined {
        of,
        because: "the likelihood has no top for these answers (a question, category or marker \
                  tells too little)",
    };
    let mut point = start;
    let size = point.len();
    let (mut value, mut gradient) = objective.value_and_gradient(&point).ok_or(no_top)?;
    let rough = objective.rough_information(&point).ok_or(no_top)?;
    let mut inverse = Cholesky::of(&rough, size).ok_or(no_top)?.inverse();
    let mut settled = false;
    for _ in 0..STEPS {
        let direction = times(&inverse, &gradient);
        let rise = dot(&direction, &gradient);
        if rise < NEAR {
            settled = true;
            break;
        }
        let Some(step) = climb(objective, &point, value, &direction, rise) else {
            // Rounding hides any further rise; Newton's steps below decide whether this is the top.
            settled = true;
            break;
        };
        let moved = difference(&step.point, &point);
        let turned = difference(&gradient, &step.gradient);
        update(&mut inverse, &moved, &turned);
        (point, value, gradient) = (step.point, step.value, step.gradient);
        if point.iter().any(|parameter| parameter.abs() > RUNAWAY) {
            return Err(no_top);
        }
    }
    if !settled {
        return Err(Refusal::NotSettled { of, steps: STEPS });
    }
    for _ in 0..LAST_STEPS {
        let information = objective.observed_information(&point).ok_or(no_top)?;
        let factor = Cholesky::of(&information, size).ok_or(no_top)?;
        let direction = factor.solve(&gradient);
        let rise = dot(&direction, &gradient);
        if rise < SETTLED {
            let made = Maximum {
                point,
                value,
                covariance: factor.inverse(),
            };
            // A likelihood that only levels off has no top, but an error without end.
            let vague = |place| made.standard_error(place) > VAGUE;
            return if (0..size).any(vague) {
                Err(no_top)
            } else {
                Ok(made)
            };
        }
        let step = climb(objective, &point, value, &direction, rise)
            .ok_or(Refusal::NotSettled { of, steps: STEPS })?;
        (point, value, gradient) = (step.point, step.value, step.gradient);
    }
    Err(Refusal::NotSettled {
        of,
        steps: STEPS + LAST_STEPS,
    })
}

/// Beyond this a parameter on the logit scale has run away (odds of e^40).
const RUNAWAY: f64 = 40.0;

struct Step {
    point: Vec<f64>,
    value: f64,
    gradient: Vec<f64>,
}

/// Halves the step until the value rises as it should (Armijo's rule, with room for rounding).
fn climb(
    objective: &impl Objective,
    from: &[f64],
    value: f64,
    direction: &[f64],
    rise: f64,
) -> Option<Step> {
    // No parameter leaps: far from the top the rough curvature overshoots.
    let longest = direction.iter().fold(0.0_f64, |far, d| far.max(d.abs()));
    let mut length = if longest > 2.0 { 2.0 / longest } else { 1.0 };
    let rounding = 1e-13 * value.abs();
    for _ in 0..40 {
        let point: Vec<f64> = from
            .iter()
            .zip(direction)
            .map(|(at, along)| at + length * along)
            .collect();
        if let Some((new, gradient)) = objective.value_and_gradient(&point)
            && new >= value + 1e-4 * length * rise - rounding
        {
            return Some(Step {
                point,
                value: new,
                gradient,
            });
        }
        length /= 2.0;
    }
    None
}

/// The BFGS update of the inverse, eq. 6.17; left out where the curvature seen is not positive.
fn update(inverse: &mut [f64], moved: &[f64], turned: &[f64]) {
    let size = moved.len();
    let curvature = dot(moved, turned);
    if curvature <= 1e-10 * (dot(moved, moved) * dot(turned, turned)).sqrt() {
        return;
    }
    let image = times(inverse, turned);
    let factor = 1.0 + dot(turned, &image) / curvature;
    for row in 0..size {
        for column in 0..size {
            inverse[row * size + column] += (factor * moved[row] * moved[column]
                - image[row] * moved[column]
                - moved[row] * image[column])
                / curvature;
        }
    }
}

/// Minus the second derivatives, by central differences of the gradient, made symmetric.
pub(crate) fn by_differences(objective: &impl Objective, at: &[f64]) -> Option<Vec<f64>> {
    let size = at.len();
    let mut matrix = vec![0.0; size * size];
    let mut near = at.to_vec();
    for row in 0..size {
        let width = 1e-5 * (1.0 + at[row].abs());
        near[row] = at[row] + width;
        let (_, above) = objective.value_and_gradient(&near)?;
        near[row] = at[row] - width;
        let (_, below) = objective.value_and_gradient(&near)?;
        near[row] = at[row];
        for column in 0..size {
            matrix[row * size + column] = (below[column] - above[column]) / (2.0 * width);
        }
    }
    for row in 0..size {
        for column in 0..row {
            let middle = f64::midpoint(matrix[row * size + column], matrix[column * size + row]);
            matrix[row * size + column] = middle;
            matrix[column * size + row] = middle;
        }
    }
    Some(matrix)
}

fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(a, b)| a * b).sum()
}

fn times(matrix: &[f64], vector: &[f64]) -> Vec<f64> {
    matrix
        .chunks_exact(vector.len())
        .map(|row| dot(row, vector))
        .collect()
}

fn difference(one: &[f64], other: &[f64]) -> Vec<f64> {
    one.iter().zip(other).map(|(a, b)| a - b).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    struct Hill;
    impl Objective for Hill {
        // Top at (1, 2): -(x-1)^2 - 2(y-2)^2 - (x-1)(y-2) - (x-1)^4.
        fn value_and_gradient(&self, at: &[f64]) -> Option<(f64, Vec<f64>)> {
            let (x, y) = (at[0] - 1.0, at[1] - 2.0);
            let value = -x * x - 2.0 * y * y - x * y - x * x * x * x;
            Some((value, vec![-2.0 * x - y - 4.0 * x * x * x, -4.0 * y - x]))
        }
        fn rough_information(&self, _: &[f64]) -> Option<Vec<f64>> {
            Some(vec![1.0, 0.0, 0.0, 1.0])
        }
    }

    struct Slope;
    impl Objective for Slope {
        fn value_and_gradient(&self, at: &[f64]) -> Option<(f64, Vec<f64>)> {
            Some((-libm::exp(-at[0]), vec![libm::exp(-at[0])]))
        }
        fn rough_information(&self, _: &[f64]) -> Option<Vec<f64>> {
            Some(vec![1.0])
        }
    }

    #[test]
    fn finds_the_top_and_its_curvature() {
        let made = maximise(&Hill, vec![-3.0, 5.0], "a hill").unwrap();
        assert!((made.point[0] - 1.0).abs() < 1e-7 && (made.point[1] - 2.0).abs() < 1e-7);
        // Inverse of [[2, 1], [1, 4]].
        assert!((made.standard_error(0) - (4.0_f64 / 7.0).sqrt()).abs() < 1e-6);
        assert!((made.variance_of(&[1.0, 1.0]) - 4.0 / 7.0).abs() < 1e-6);
    }

    #[test]
    fn a_slope_without_top_is_refused() {
        assert!(maximise(&Slope, vec![0.0], "a slope").is_err());
    }
}
