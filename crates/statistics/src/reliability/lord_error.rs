//! By how many marks is a total of x out of k uncertain, whoever else sat?
//!
//! Source: Lord 1955, 1957, binomial error: √(x(k−x)/(k−1)). Invalid: part marks; questions of very
//! unequal difficulty (then too large: see [`super::keats_error`]). It is 0 at 0 and k, which says
//! that the model fails there, not that the score is certain.

use crate::refusal::{Refusal, at_least};

/// The error at one total.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct ErrorAtTotal {
    /// Questions answered rightly.
    pub total: u32,
    /// Standard error in marks.
    pub marks: f64,
}

/// The error at every total from 0 to `items`.
///
/// # Errors
/// `Refusal::TooFew` below two questions.
pub fn lord_error(items: u32) -> Result<Vec<ErrorAtTotal>, Refusal> {
    at_least(2, items as usize, "questions", "Lord 1957 divides by k - 1")?;
    let k = f64::from(items);
    Ok((0..=items)
        .map(|total| {
            let x = f64::from(total);
            ErrorAtTotal {
                total,
                marks: (x * (k - x) / (k - 1.0)).sqrt(),
            }
        })
        .collect())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn largest_in_the_middle_and_nothing_at_the_ends() {
        let made = lord_error(4).unwrap();
        let marks: Vec<f64> = made.iter().map(|at| at.marks).collect();
        assert_eq!(marks, [0.0, 1.0, (4.0_f64 / 3.0).sqrt(), 1.0, 0.0]);
        assert!(lord_error(1).is_err());
    }
}
