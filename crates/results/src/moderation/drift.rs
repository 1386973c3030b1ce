//! Whether a marker changes from the first script to the last.
//!
//! The marker's mark less the other's (or less the known one) over the place in the marker's own
//! table, by least squares; the change is the slope times the way from first to last, with an
//! interval by Student's t. The table's order is taken for the order of marking, which whoever
//! marks out of order makes wrong. Each marker has an order of their own, so that another's drift is
//! spread over it. Two markers who drift alike are not seen to drift beside each
//! other; scripts with known marks do show it. Smallest n: ten scripts (common practice, no source).

use serde::Serialize;
use statistics::distribution::student_t;

use super::{Beside, MarkedKnown};

/// Scripts below which no drift is told.
const FEWEST_FOR_DRIFT: usize = 10;

/// How a marker changes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Drift {
    /// From the first script to the last, in shares of the full marks: above 0 grows milder.
    pub change: f64,
    /// Limits, 95 per cent.
    pub limits: [f64; 2],
    /// Scripts it rests on.
    pub scripts: usize,
}

impl Drift {
    /// Whether the interval leaves 0 out.
    #[must_use]
    pub fn is_seen(&self) -> bool {
        self.limits[0] > 0.0 || self.limits[1] < 0.0
    }
    /// What it says.
    pub(super) fn sentence(&self, name: &str) -> String {
        let range = format!(
            "95 % interval {:+.0} to {:+.0} %, {} scripts",
            self.limits[0] * 100.0,
            self.limits[1] * 100.0,
            self.scripts
        );
        if self.is_seen() {
            let way = if self.change > 0.0 {
                "milder"
            } else {
                "harder"
            };
            format!(
                "{name} grows {way} by {:.0} % of the marks from the first script to the last ({range}).",
                (self.change * 100.0).abs()
            )
        } else {
            format!(
                "{name} does not change from the first script to the last as far as this can be seen ({range})."
            )
        }
    }
}

/// The drift of a marker; none with too few scripts, or where all stand at one place.
pub(super) fn drift(marker: usize, scripts: &[Beside<'_>], known: &[MarkedKnown]) -> Option<Drift> {
    let shared = scripts.iter().map(|one| (one.place as f64, one.difference));
    let known = known.iter().filter(|one| one.marker == marker);
    let known = known.map(|one| (one.place as f64, one.difference()));
    let points: Vec<(f64, f64)> = shared.chain(known).collect();
    let n = points.len();
    if n < FEWEST_FOR_DRIFT {
        return None;
    }
    let count = n as f64;
    let mean = |of: &dyn Fn(&(f64, f64)) -> f64| points.iter().map(of).sum::<f64>() / count;
    let (x, y) = (mean(&|point| point.0), mean(&|point| point.1));
    let width: f64 = points
        .iter()
        .map(|point| (point.0 - x) * (point.0 - x))
        .sum();
    if width <= 0.0 {
        return None;
    }
    let both: f64 = points
        .iter()
        .map(|point| (point.0 - x) * (point.1 - y))
        .sum();
    let slope = both / width;
    let left: f64 = points
        .iter()
        .map(|point| {
            let rest = point.1 - y - slope * (point.0 - x);
            rest * rest
        })
        .sum();
    let error = (left / (count - 2.0) / width).sqrt();
    let first = points
        .iter()
        .map(|point| point.0)
        .fold(f64::INFINITY, f64::min);
    let last = points.iter().map(|point| point.0).fold(0.0, f64::max);
    let way = last - first;
    let half = student_t::quantile_of_upper_tail(0.025, count - 2.0) * error * way;
    let change = slope * way;
    Some(Drift {
        change,
        limits: [change - half, change + half],
        scripts: n,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_hand_example() {
        // y over x = 0 … 9: 0, 0, 0, 0, 0, 1, 1, 1, 1, 1. Sxx = 82.5, Sxy = 12.5, so the slope is
        // .1515152 and the change 1.3636364; residual squares 2.5 - 12.5² / 82.5 = .6060606, so the
        // error of the slope is sqrt(.6060606 / 8 / 82.5) = .0303030; t(.975; 8) = 2.306004.
        let scripts: Vec<Beside<'_>> = (0..10)
            .map(|place| Beside {
                code: "S",
                difference: f64::from(u8::from(place >= 5)),
                place,
            })
            .collect();
        let found = drift(0, &scripts, &[]).unwrap();
        assert!((found.change - 9.0 * 12.5 / 82.5).abs() < 1e-12);
        let half = 2.306_004 * 0.030_303_03 * 9.0;
        assert!((found.limits[0] - (found.change - half)).abs() < 1e-5);
        assert!(found.is_seen());
        assert_eq!(drift(0, &scripts[..9], &[]), None);
    }
}
