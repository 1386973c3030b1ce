//! One line of the table of further figures.

use serde::Serialize;
use statistics::Refusal;

/// One figure, or why it is not given.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FurtherFigure {
    /// Of which questions, or which markers.
    pub of: String,
    /// What it is called.
    pub figure: String,
    /// The figure; none where it is refused.
    pub value: Option<f64>,
    /// Its 95 per cent limits, where it has some.
    pub limits: Option<(f64, f64)>,
    /// Candidates.
    pub n: usize,
    /// What to make of it, or why it is not given.
    pub says: String,
}

impl FurtherFigure {
    /// A figure with what to make of it; a refusal keeps the line and says why.
    #[must_use]
    pub fn new(of: &str, figure: &str, n: usize, made: Result<(f64, String), Refusal>) -> Self {
        let (value, says) = match made {
            // A figure that is no number is none: the line says so instead of showing it.
            Ok((value, _)) if !value.is_finite() => (
                None,
                "Not given: these answers leave it without a value.".to_owned(),
            ),
            Ok((value, says)) => (Some(value), says),
            Err(refusal) => (None, format!("Not given: {refusal}.")),
        };
        Self {
            of: of.to_owned(),
            figure: figure.to_owned(),
            value,
            limits: None,
            n,
            says,
        }
    }

    /// With limits, where there is a figure and they are numbers.
    #[must_use]
    pub fn within(mut self, limits: Option<(f64, f64)>) -> Self {
        self.limits = limits
            .filter(|(low, high)| self.value.is_some() && low.is_finite() && high.is_finite());
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_number_is_no_figure_and_a_refusal_says_why() {
        let none = FurtherFigure::new("form A", "KR-21", 9, Ok((f64::NAN, String::new())));
        assert!(none.value.is_none() && none.says.starts_with("Not given"));
        let refused = Err(Refusal::NoVariance { of: "totals" });
        let made = FurtherFigure::new("form A", "KR-21", 9, refused).within(Some((0.0, 1.0)));
        assert!(made.limits.is_none() && made.says.contains("no variance"));
    }
}
