//! Where does a falling tail take a value? By halving the bracket until it cannot be halved.

/// The place in `left` to `right` where `tail`, which falls, passes `value`.
pub(crate) fn falling_crossing(
    tail: impl Fn(f64) -> f64,
    value: f64,
    mut left: f64,
    mut right: f64,
) -> f64 {
    // 1100 halvings would exhaust every pair of numbers; the bracket is exhausted long before.
    for _ in 0..1100 {
        let middle = f64::midpoint(left, right);
        if middle <= left || middle >= right {
            break;
        }
        if tail(middle) > value {
            left = middle;
        } else {
            right = middle;
        }
    }
    f64::midpoint(left, right)
}

/// The same for a tail on 0 to infinity: first doubles the bracket.
pub(crate) fn falling_crossing_above_zero(tail: impl Fn(f64) -> f64, value: f64) -> f64 {
    let mut right = 1.0;
    while tail(right) > value && right < f64::MAX / 4.0 {
        right *= 2.0;
    }
    falling_crossing(tail, value, 0.0, right)
}
