//! Simulated answers with a known truth, for the tests of this folder only.
//!
//! Numbers from the linear congruential generator of Knuth (MMIX), so that every run is the same.

use super::item_curve::ItemCurve;
use super::response_table::ResponseTable;

/// Uniform numbers between 0 and 1.
pub(crate) struct Uniform(u64);

impl Uniform {
    pub(crate) fn new(seed: u64) -> Self {
        let mut made = Self(seed);
        for _ in 0..10 {
            made.draw();
        }
        made
    }

    pub(crate) fn draw(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    /// Standard normal, as a sum of twelve less six: near enough for a test.
    pub(crate) fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.draw()).sum::<f64>() - 6.0
    }

    /// A category drawn from a curve.
    pub(crate) fn category(&mut self, curve: &ItemCurve, ability: f64) -> u8 {
        let mut left = self.draw();
        let mut drawn = 0;
        for probability in curve.probabilities(ability) {
            left -= probability;
            if left < 0.0 {
                return drawn;
            }
            drawn += 1;
        }
        drawn - 1
    }
}

/// Answers of candidates with standard normal abilities.
pub(crate) fn simulated(curves: &[ItemCurve], persons: usize, seed: u64) -> ResponseTable {
    let mut uniform = Uniform::new(seed);
    let rows: Vec<Vec<Option<u8>>> = (0..persons)
        .map(|_| {
            let ability = uniform.normal();
            curves
                .iter()
                .map(|curve| Some(uniform.category(curve, ability)))
                .collect()
        })
        .collect();
    #[allow(clippy::unwrap_used)]
    ResponseTable::new(&rows).unwrap()
}
