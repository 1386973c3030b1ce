//! Rounds a computed result to what is printed, or says that rounding would leave a doubt.

/// Nearer to the middle between two printed numbers than this share of the last place, two people
/// may round differently (the project's choice, no source).
const DOUBT: f64 = 1e-3;

/// A result with so many decimals, rounded half to even.
///
/// # Errors
/// Where the result is no number, too large, or rounding would leave a doubt.
pub(super) fn printed(value: f64, decimals: usize) -> Result<String, String> {
    let scale = [1.0, 10.0, 100.0, 1e3, 1e4, 1e5, 1e6];
    let scale: f64 = scale.get(decimals).copied().unwrap_or(1e6);
    let scaled = value * scale;
    if !scaled.is_finite() || scaled.abs() > 1e15 {
        return Err(format!("{value} is no result"));
    }
    let part = scaled - scaled.floor();
    if (part - 0.5).abs() < DOUBT {
        return Err(format!("{value} may be rounded up or down"));
    }
    // No half is left, so that half to even and half up are one.
    let rounded = (scaled + 0.5).floor() / scale;
    let rounded = if rounded == 0.0 { 0.0 } else { rounded };
    Ok(format!("{rounded:.decimals$}"))
}

#[cfg(test)]
mod tests {
    use super::printed;

    #[test]
    fn results_are_rounded_or_refused() {
        assert_eq!(printed(98.44, 1), Ok("98.4".to_owned()));
        assert_eq!(printed(98.46, 1), Ok("98.5".to_owned()));
        assert_eq!(printed(-0.04, 1), Ok("0.0".to_owned()));
        assert_eq!(printed(411.0, 0), Ok("411".to_owned()));
        for doubt in [98.45, 2.5, 98.450_04] {
            assert!(printed(doubt, if doubt == 2.5 { 0 } else { 1 }).is_err());
        }
        assert!(printed(f64::NAN, 1).is_err() && printed(1e300, 1).is_err());
    }
}
