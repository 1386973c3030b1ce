//! Lord's error brought to the level that the test's own reliability shows.
//!
//! Source: Keats 1957: √(x(k−x)/(k−1) · (1−KR20)/(1−KR21)). Invalid: part marks; a KR-21 of 1.

use crate::refusal::Refusal;
use crate::reliability::lord_error::{ErrorAtTotal, lord_error};

/// The error at every total from 0 to `items`.
///
/// # Errors
/// `Refusal::TooFew` below two questions, `Refusal::OutOfRange` for a coefficient that is above 1
/// (or a KR-21 of 1).
pub fn keats_error(items: u32, kr20: f64, kr21: f64) -> Result<Vec<ErrorAtTotal>, Refusal> {
    if kr20.is_nan() || kr20 > 1.0 {
        return Err(Refusal::OutOfRange {
            of: "KR-20",
            value: kr20,
            allowed: "up to 1",
        });
    }
    if kr21.is_nan() || kr21 >= 1.0 {
        return Err(Refusal::OutOfRange {
            of: "KR-21",
            value: kr21,
            allowed: "below 1",
        });
    }
    let level = ((1.0 - kr20) / (1.0 - kr21)).sqrt();
    Ok(lord_error(items)?
        .into_iter()
        .map(|at| ErrorAtTotal {
            total: at.total,
            marks: at.marks * level,
        })
        .collect())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn equal_coefficients_leave_lords_error() {
        assert_eq!(keats_error(9, 0.7, 0.7), lord_error(9));
        assert!(keats_error(9, 0.7, 1.0).is_err());
        let lower = keats_error(9, 0.8, 0.7).unwrap();
        assert!(lower[4].marks < lord_error(9).unwrap()[4].marks);
    }
}
