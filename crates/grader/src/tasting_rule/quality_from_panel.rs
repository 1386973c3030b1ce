//! Quality: the distance from the panel's mean in panel standard deviations.
//!
//! Credit = 1 up to 1 standard deviation, then falling evenly to 0 at 3; the standard deviation
//! (n - 1) is taken as at least 0.5, so that a panel of one mind does not make the target
//! unreachable. Source: none; the limits are this project's choice. Chance score: a guesser picks
//! any whole number from 0 to 10; who lists several gets nothing. Liking is never marked.

use base::Marks;

use crate::reason::{Earned, Reason};
use crate::verdict::Verdict;
use crate::written_number::read_number;

/// The rule's stable name.
pub const RULE: &str = "quality panel";

/// The least standard deviation that is used.
pub const LEAST_DEVIATION: f64 = 0.5;

/// The panel's ratings in short.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelQuality {
    /// The mean, 0 to 10.
    pub mean: f64,
    /// The standard deviation as used: at least [`LEAST_DEVIATION`].
    pub deviation: f64,
    /// How many ratings.
    pub ratings: usize,
}

impl PanelQuality {
    /// From the ratings, in their order; none for fewer than two.
    #[must_use]
    pub fn of(ratings: &[f64]) -> Option<Self> {
        let count = ratings.len();
        if count < 2 || ratings.iter().any(|rating| !rating.is_finite()) {
            return None;
        }
        let mean = ratings.iter().sum::<f64>() / count as f64;
        let squares: f64 = ratings
            .iter()
            .map(|rating| (rating - mean) * (rating - mean))
            .sum();
        let deviation = (squares / (count - 1) as f64).sqrt();
        Some(Self {
            mean,
            deviation: deviation.max(LEAST_DEVIATION),
            ratings: count,
        })
    }
}

/// The credit of a rating, 0 to 1.
#[must_use]
pub fn credit(panel: PanelQuality, given: f64) -> f64 {
    let deviations = (given - panel.mean).abs() / panel.deviation;
    ((3.0 - deviations) / 2.0).clamp(0.0, 1.0)
}

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(panel: Option<PanelQuality>, answer: &str, of: Marks) -> Verdict {
    let Some(panel) = panel else {
        return Verdict::for_a_person("the panel gave fewer than two quality ratings", Vec::new());
    };
    let given = read_number(answer)
        .filter(|read| matches!(read.rest.as_str(), "" | "/10" | "/ 10"))
        .and_then(|read| match read.readings.as_slice() {
            [one] if (0.0..=10.0).contains(one) => Some(*one),
            _ => None,
        });
    let credited = given.and_then(|given| Some((given, of.credit(credit(panel, given))?)));
    match credited {
        Some((given, marks)) => Reason::PanelDistance {
            given,
            mean: panel.mean,
            deviation: panel.deviation,
            earned: Earned { marks, of },
        }
        .verdict(marks, RULE),
        None => Verdict::for_a_person(
            format!(
                "\"{}\" is no number from 0 to 10",
                base::walk::shortened(answer.trim())
            ),
            Vec::new(),
        ),
    }
}

/// What a guesser gets on average, as a share of the marks.
#[must_use]
pub fn chance_score(panel: PanelQuality) -> f64 {
    (0..=10_u32)
        .map(|given| credit(panel, f64::from(given)))
        .sum::<f64>()
        / 11.0
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::{Glass, told};
    use exam_plan::Asked;

    #[test]
    fn distance_counts_in_panel_deviations() {
        // Ratings 7, 6, 8, 7: mean 7, sum of squares 2, deviation sqrt(2/3) = 0.8165.
        let glass = Glass::new();
        for (answer, marks) in [
            ("7", "1"),
            ("7.8", "1"),
            ("6.5/10", "1"),
            ("9", "0.275"),
            ("4", "0"),
        ] {
            assert_eq!(
                told(&glass.mark(Asked::Quality, "1", answer)).0,
                marks,
                "{answer}"
            );
        }
        for answer in ["11", "-1", "good", "7 of 10"] {
            assert!(glass.mark(Asked::Quality, "1", answer).waits(), "{answer}");
        }
    }

    #[test]
    fn a_panel_of_one_mind_leaves_room() {
        let panel = PanelQuality::of(&[7.0, 7.0, 7.0]).unwrap();
        assert_eq!(panel.deviation, LEAST_DEVIATION);
        assert_eq!(credit(panel, 7.5), 1.0);
        assert_eq!(credit(panel, 8.0), 0.5);
        assert_eq!(credit(panel, 8.5), 0.0);
        assert_eq!(PanelQuality::of(&[7.0]), None);
    }
}
