//! Scripts whose marks are known, mixed in unseen: how far a marker is from what was agreed.
//!
//! Off is what lies farther from the known mark than two markers may lie apart, a quarter of the
//! full marks (common practice, no source). A mean is told from three such scripts on (this
//! project's choice): few are mixed in, and each was marked with care before.

use base::Marks;
use grader::combined_marks::usual_gap;
use serde::Serialize;

use super::mean_difference::MeanDifference;

/// Known scripts below which no mean is told.
const FEWEST_FOR_MEAN: usize = 3;

/// A script with a known mark as one marker marked it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MarkedKnown {
    /// Its code.
    pub code: String,
    /// The marker, by place in the list of names.
    pub marker: usize,
    /// What the marker gave.
    pub given: Marks,
    /// What is known.
    pub known: Marks,
    /// Where it stood in the marker's table, from 0.
    pub place: usize,
    /// The most marks.
    pub of: Marks,
}

impl MarkedKnown {
    /// What was given less what is known, in shares of the full marks.
    pub(super) fn difference(&self) -> f64 {
        (self.given - self.known).fraction_of(self.of)
    }
}

/// A marker on known scripts.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct KnownFigures {
    /// How many were marked.
    pub scripts: usize,
    /// The mean of given less known, in shares of the full marks: above 0 is mild.
    pub mean: Option<f64>,
    /// Limits, 95 per cent.
    pub limits: Option<[f64; 2]>,
    /// Codes of those that are off.
    pub off: Vec<String>,
}

impl KnownFigures {
    /// Whether the interval of the mean leaves 0 out.
    pub(super) fn is_away(&self) -> bool {
        let [low, high] = self.limits.unwrap_or([0.0, 0.0]);
        low > 0.0 || high < 0.0
    }
    /// What it says.
    pub(super) fn sentence(&self, name: &str) -> String {
        let mean = match (self.mean, self.limits) {
            (Some(mean), Some([low, high])) => format!(
                ", {:+.0} % of the marks on average (95 % interval {:+.0} to {:+.0} %)",
                mean * 100.0,
                low * 100.0,
                high * 100.0
            ),
            _ => format!(": too few for a mean, {FEWEST_FOR_MEAN} would do"),
        };
        let off = if self.off.is_empty() {
            "none is off by more than a quarter of the marks".to_owned()
        } else {
            format!(
                "off by more than a quarter of the marks: {}",
                self.off.join(", ")
            )
        };
        let scripts = match self.scripts {
            1 => "1 script".to_owned(),
            many => format!("{many} scripts"),
        };
        format!("{name} marked {scripts} with known marks{mean}; {off}.")
    }
}

/// The figures of a marker; none who marked no known script.
pub(super) fn figures(marker: usize, known: &[MarkedKnown]) -> Option<KnownFigures> {
    let own: Vec<&MarkedKnown> = known.iter().filter(|one| one.marker == marker).collect();
    if own.is_empty() {
        return None;
    }
    let differences: Vec<f64> = own.iter().map(|one| one.difference()).collect();
    let mean = MeanDifference::of(&differences, FEWEST_FOR_MEAN);
    let off = own.iter().filter(|one| {
        let apart = (one.given - one.known).thousandths().abs();
        apart > usual_gap(one.of).thousandths()
    });
    Some(KnownFigures {
        scripts: own.len(),
        mean: mean.map(|mean| mean.mean),
        limits: mean.map(|mean| mean.limits),
        off: off.map(|one| one.code.clone()).collect(),
    })
}
