//! Where does something that holds below cease to hold? By halving the bracket until it cannot be
//! halved.

/// The place between `low` and `high` below which `holds` is true and above which it is not. An end
/// of the bracket where it holds throughout, or nowhere.
pub fn last_place(holds: impl Fn(f64) -> bool, mut low: f64, mut high: f64) -> f64 {
    // 1100 halvings would exhaust every pair of numbers; the bracket is exhausted long before.
    for _ in 0..1100 {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::last_place;

    #[test]
    fn a_root_is_found_to_its_last_place_and_ends_are_kept() {
        let root = last_place(|x| x * x < 2.0, 0.0, 2.0);
        assert!((root - 2.0_f64.sqrt()).abs() < 1e-15);
        assert!((last_place(|_| true, -1.0, 3.0) - 3.0).abs() < 1e-15);
        assert!((last_place(|_| false, -1.0, 3.0) + 1.0).abs() < 1e-15);
    }
}
