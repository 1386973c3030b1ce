//! An arc through both ends of the scale and one middle point.
//!
//! Source: Livingston & Kim 2009, 2010 (simplified method): the line through the two end points, and
//! on it a circle through what the middle point departs from that line. The middle point is
//! (mean of X, its equivalent by mean or chained linear equating or Tucker), so that one point alone
//! is estimated. Invalid: ends that are not equivalent by sense (full marks on both forms, nothing
//! or the score of guessing on both); a middle point outside the ends (refused). Smallest: 26, see
//! [`super::advice`]. No interval here; resample. Ties and missing: do not arise.

use crate::refusal::Refusal;

/// A point: a mark on form X and its equivalent on form Y.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Equivalent {
    /// Mark on form X.
    pub x: f64,
    /// Mark on form Y.
    pub y: f64,
}

/// An arc.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct CircleArc {
    /// Lower end.
    pub low: Equivalent,
    /// The estimated point.
    pub middle: Equivalent,
    /// Upper end.
    pub high: Equivalent,
}

/// Draws the arc.
///
/// # Errors
/// `Refusal::OutOfRange` when a coordinate is no finite number or the middle does not lie between
/// the ends; `Refusal::NotDefined` when the arc would pass beyond a half circle.
pub fn circle_arc(
    low: Equivalent,
    middle: Equivalent,
    high: Equivalent,
) -> Result<CircleArc, Refusal> {
    let finite = [low.x, low.y, middle.y, high.x, high.y]
        .iter()
        .all(|value| value.is_finite());
    if !(finite && low.x < middle.x && middle.x < high.x) {
        return Err(Refusal::OutOfRange {
            of: "the middle point of the arc",
            value: middle.x,
            allowed: "between the two ends",
        });
    }
    let made = CircleArc { low, middle, high };
    // Past a half circle one mark would have two equivalents.
    let departure = made.departure();
    if departure * departure >= (middle.x - low.x) * (high.x - middle.x) {
        return Err(Refusal::NotDefined {
            of: "the circle arc",
            because: "the middle point lies too far from the line between the ends",
        });
    }
    Ok(made)
}

impl CircleArc {
    /// The line through the two ends.
    fn line(&self, mark: f64) -> f64 {
        let share = (mark - self.low.x) / (self.high.x - self.low.x);
        self.low.y + share * (self.high.y - self.low.y)
    }

    /// How far the middle point lies from that line.
    fn departure(&self) -> f64 {
        self.middle.y - self.line(self.middle.x)
    }

    /// The equivalent of a mark; outside the ends that of the nearer end.
    #[must_use]
    pub fn at(&self, mark: f64) -> f64 {
        let mark = mark.clamp(self.low.x, self.high.x);
        let departure = self.departure();
        let half = (self.high.x - self.low.x) / 2.0;
        // From the middle of the chord: where the middle point lies, and where the mark lies.
        let centre = f64::midpoint(self.low.x, self.high.x);
        let (middle, place) = (self.middle.x - centre, mark - centre);
        if departure.abs() < 1e-12 * half {
            return self.line(mark);
        }
        // Height of the circle's centre: equally far from the ends and from the middle point.
        let height = (middle * middle + departure * departure - half * half) / (2.0 * departure);
        let square = half * half + height * height;
        // The rise above the chord; of two nearly equal numbers the difference is not taken.
        let root = (square - place * place).max(0.0).sqrt();
        let rise = (half * half - place * place) / (root + height.abs());
        self.line(mark) + rise.copysign(departure)
    }

    /// The marks 0 to `highest`, converted.
    #[must_use]
    pub fn table(&self, highest: usize) -> Vec<f64> {
        (0..=highest).map(|mark| self.at(mark as f64)).collect()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn point(x: f64, y: f64) -> Equivalent {
        Equivalent { x, y }
    }

    #[test]
    fn passes_through_its_three_points() {
        let made = circle_arc(point(0.0, 0.0), point(18.0, 21.5), point(40.0, 40.0)).unwrap();
        assert!(made.at(0.0).abs() < 1e-12);
        assert!((made.at(18.0) - 21.5).abs() < 1e-12);
        assert!((made.at(40.0) - 40.0).abs() < 1e-12);
        let below = circle_arc(point(0.0, 0.0), point(18.0, 15.0), point(40.0, 40.0)).unwrap();
        assert!((below.at(18.0) - 15.0).abs() < 1e-12);
    }

    #[test]
    fn a_middle_on_the_line_is_the_line() {
        let made = circle_arc(point(0.0, 0.0), point(20.0, 20.0), point(40.0, 40.0)).unwrap();
        assert_eq!(made.at(7.0), 7.0);
    }

    #[test]
    fn a_middle_outside_is_refused() {
        assert!(circle_arc(point(0.0, 0.0), point(41.0, 20.0), point(40.0, 40.0)).is_err());
        assert!(circle_arc(point(0.0, 0.0), point(1.0, 30.0), point(40.0, 40.0)).is_err());
    }
}
