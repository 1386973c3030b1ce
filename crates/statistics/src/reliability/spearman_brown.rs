//! What would the reliability be if the test were longer or shorter?
//!
//! Source: Spearman 1910, Brown 1910: m r / (1 + (m−1) r) for a test m times as long; solved for m:
//! r₂(1−r₁)/(r₁(1−r₂)). Invalid: when the added questions are of another kind.

use crate::refusal::Refusal;

/// The reliability of a test `times` as long.
///
/// # Errors
/// `Refusal::OutOfRange` for a length that is not above 0 or a reliability above 1;
/// `Refusal::NotDefined` where the formula divides by nothing.
pub fn stepped_up(reliability: f64, times: f64) -> Result<f64, Refusal> {
    let reliability = checked(reliability)?;
    if !(times > 0.0 && times.is_finite()) {
        return Err(Refusal::OutOfRange {
            of: "how many times as long",
            value: times,
            allowed: "above 0",
        });
    }
    let below = 1.0 + (times - 1.0) * reliability;
    if below <= 0.0 {
        return Err(Refusal::NotDefined {
            of: "the stepped-up reliability",
            because: "the reliability is too far below 0",
        });
    }
    Ok(times * reliability / below)
}

/// How many times as long the test must be to reach `wanted`.
///
/// # Errors
/// `Refusal::OutOfRange` unless both reliabilities lie between 0 and 1.
pub fn length_needed(reliability: f64, wanted: f64) -> Result<f64, Refusal> {
    for value in [reliability, wanted] {
        if !(value > 0.0 && value < 1.0) {
            return Err(Refusal::OutOfRange {
                of: "reliability",
                value,
                allowed: "between 0 and 1",
            });
        }
    }
    Ok(wanted * (1.0 - reliability) / (reliability * (1.0 - wanted)))
}

fn checked(reliability: f64) -> Result<f64, Refusal> {
    if (-1.0..=1.0).contains(&reliability) {
        Ok(reliability)
    } else {
        Err(Refusal::OutOfRange {
            of: "reliability",
            value: reliability,
            allowed: "-1 to 1",
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back() {
        let longer = stepped_up(0.6, 2.0).unwrap();
        assert!((longer - 0.75).abs() < 1e-15);
        assert!((length_needed(0.6, longer).unwrap() - 2.0).abs() < 1e-14);
        assert!(stepped_up(0.6, 0.0).is_err());
        assert!(stepped_up(-1.0, 2.0).is_err());
        assert!(length_needed(0.0, 0.8).is_err());
    }
}
