//! Where does a falling tail take a value?

use crate::halving::last_place;

/// The place in `left` to `right` where `tail`, which falls, passes `value`.
pub(crate) fn falling_crossing(
    tail: impl Fn(f64) -> f64,
    value: f64,
    left: f64,
    right: f64,
) -> f64 {
    last_place(|place| tail(place) > value, left, right)
}

/// The same for a tail on 0 to infinity: first doubles the bracket.
pub(crate) fn falling_crossing_above_zero(tail: impl Fn(f64) -> f64, value: f64) -> f64 {
    let mut right = 1.0;
    while tail(right) > value && right < f64::MAX / 4.0 {
        right *= 2.0;
    }
    falling_crossing(tail, value, 0.0, right)
}
