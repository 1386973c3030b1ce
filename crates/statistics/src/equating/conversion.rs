//! A straight line from one form's marks to another's.

/// Mark on the other form = intercept + slope × mark.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct LinearConversion {
    /// Slope.
    pub slope: f64,
    /// Intercept, in marks of the other form.
    pub intercept: f64,
}

impl LinearConversion {
    /// The mark on the other form; not rounded, and it may pass the ends of the scale.
    #[must_use]
    pub fn at(&self, mark: f64) -> f64 {
        self.intercept + self.slope * mark
    }

    /// The marks 0 to `highest`, converted.
    #[must_use]
    pub fn table(&self, highest: usize) -> Vec<f64> {
        (0..=highest).map(|mark| self.at(mark as f64)).collect()
    }

    /// First this line, then another.
    #[must_use]
    pub fn then(&self, next: &Self) -> Self {
        Self {
            slope: next.slope * self.slope,
            intercept: next.at(self.intercept),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_line_after_another_is_a_line() {
        let one = LinearConversion {
            slope: 2.0,
            intercept: 1.0,
        };
        let other = LinearConversion {
            slope: 0.5,
            intercept: -3.0,
        };
        assert_eq!(one.then(&other).at(7.0), other.at(one.at(7.0)));
        assert_eq!(one.table(2), [1.0, 3.0, 5.0]);
    }
}
