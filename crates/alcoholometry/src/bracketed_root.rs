//! Where does a falling function on 0 to 1 take a value? By halving the bracket.

/// The bracket is halved until it is narrower than this: 1e-14 of a mass fraction is 1e-12 % vol,
/// far below what any instrument reads.
pub(crate) const TOLERANCE: f64 = 1e-14;

/// Finds `x` in 0 to 1 with `function(x) = value`, for a function that falls from 0 to 1.
/// A value above `function(0)` gives 0 and one below `function(1)` gives 1: callers that must
/// refuse such a value compare first.
pub(crate) fn falling_root(function: impl Fn(f64) -> f64, value: f64) -> f64 {
    let (mut left, mut right) = (0.0_f64, 1.0_f64);
    if value >= function(left) {
        return left;
    }
    if value <= function(right) {
        return right;
    }
    while right - left > TOLERANCE {
        let middle = f64::midpoint(left, right);
        if function(middle) > value {
            left = middle;
        } else {
            right = middle;
        }
    }
    f64::midpoint(left, right)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_a_root_to_the_stated_tolerance() {
        let root = falling_root(|x| 2.0 - x * x, 1.5);
        assert!((root - 0.5_f64.sqrt()).abs() < 2.0 * TOLERANCE);
    }

    #[test]
    fn values_beyond_the_ends_give_the_ends() {
        assert_eq!(falling_root(|x| 1.0 - x, 3.0), 0.0);
        assert_eq!(falling_root(|x| 1.0 - x, -3.0), 1.0);
    }
}
