//! Where does a falling tail take a value?
//!
//! Source: the false position with halved weights (Dowell & Jarratt 1971, the Illinois way), and a
//! plain halving wherever three steps have not halved the bracket: some fifteen looks at the tail
//! where halving alone takes sixty.

/// Looks after which the bracket is taken as it is; halving alone would have ended before.
const LOOKS: usize = 2_200;

/// The place in `left` to `right` where `tail`, which falls, passes `value`.
pub(crate) fn falling_crossing(
    tail: impl Fn(f64) -> f64,
    value: f64,
    left: f64,
    right: f64,
) -> f64 {
    let above = |place: f64| tail(place) - value;
    let (mut left, mut right) = (left, right);
    let (mut over, mut under) = (above(left), above(right));
    if over <= 0.0 || over.is_nan() {
        return left;
    }
    if under > 0.0 || under.is_nan() {
        return right;
    }
    // Which end stayed in the last step, and how wide the bracket was three steps ago.
    let (mut stayed, mut wide) = (0_i8, right - left);
    for look in 1..=LOOKS {
        let halving = look % 3 == 0 && right - left > 0.5 * wide;
        if look % 3 == 0 {
            wide = right - left;
        }
        let by_line = left + (right - left) * (over / (over - under));
        let middle = f64::midpoint(left, right);
        let inside = by_line > left && by_line < right;
        let place = if inside && !halving { by_line } else { middle };
        if place <= left || place >= right {
            break;
        }
        let here = above(place);
        if here > 0.0 {
            (left, over) = (place, here);
            if stayed == 1 {
                under /= 2.0;
            }
            stayed = 1;
        } else {
            (right, under) = (place, here);
            if stayed == -1 {
                over /= 2.0;
            }
            stayed = -1;
        }
    }
    left
}

/// The same for a tail on 0 to infinity: first doubles the bracket.
pub(crate) fn falling_crossing_above_zero(tail: impl Fn(f64) -> f64, value: f64) -> f64 {
    let (mut left, mut right) = (0.0, 1.0);
    while tail(right) > value && right < f64::MAX / 4.0 {
        left = right;
        right *= 2.0;
    }
    falling_crossing(tail, value, left, right)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::halving::last_place;
    use std::cell::Cell;

    #[test]
    fn finds_the_place_that_halving_finds_with_far_fewer_looks() {
        for value in [1e-12, 0.01, 0.3, 0.99] {
            let looks = Cell::new(0);
            let tail = |x: f64| {
                looks.set(looks.get() + 1);
                libm::exp(-x)
            };
            let made = falling_crossing_above_zero(tail, value);
            let slow = last_place(|x| libm::exp(-x) > value, 0.0, 64.0);
            assert!(
                (made - slow).abs() <= 4.0 * f64::EPSILON * slow.max(1e-3),
                "{made} {slow}"
            );
            assert!(looks.get() < 45, "{}", looks.get());
        }
    }

    #[test]
    fn a_step_and_a_tail_that_is_no_number_end() {
        let step = falling_crossing(|x| if x < 0.3 { 1.0 } else { 0.0 }, 0.5, 0.0, 1.0);
        assert!((step - 0.3).abs() < 1e-15);
        assert_eq!(falling_crossing(|_| f64::NAN, 0.5, 0.0, 1.0), 0.0);
    }
}
