//! What came out over the runs, and the draws that all simulations share.

use base::{ExamSeed, Purpose, Stream};

/// The seed of all draws: 32 bytes of this number.
pub(crate) const SEED: u8 = 4;

/// Errors of a figure with known truth.
#[derive(Default)]
pub(crate) struct Tally {
    runs: usize,
    refused: usize,
    error: f64,
    square: f64,
    covered: usize,
    intervals: usize,
}

impl Tally {
    pub(crate) fn add(&mut self, estimate: f64, truth: f64, limits: Option<(f64, f64)>) {
        self.runs += 1;
        self.error += estimate - truth;
        self.square += (estimate - truth) * (estimate - truth);
        if let Some((low, high)) = limits {
            self.intervals += 1;
            self.covered += usize::from(low <= truth && truth <= high);
        }
    }
    /// A figure, or a refusal, which is counted.
    pub(crate) fn take<E>(&mut self, made: Result<(f64, Option<(f64, f64)>), E>, truth: f64) {
        match made {
            Ok((estimate, limits)) => self.add(estimate, truth, limits),
            Err(_) => self.refuse(),
        }
    }
    pub(crate) fn refuse(&mut self) {
        self.refused += 1;
    }
    pub(crate) fn print(&self, what: &str, n: usize) {
        let runs = self.runs.max(1) as f64;
        let coverage = if self.intervals == 0 {
            "-".to_owned()
        } else {
            format!(
                "{:.1} %",
                100.0 * self.covered as f64 / self.intervals as f64
            )
        };
        println!(
            "| {what} | {n} | {} | {} | {:+.4} | {:.4} | {coverage} |",
            self.runs,
            self.refused,
            self.error / runs,
            (self.square / runs).sqrt()
        );
    }
}

/// How often a test rejects.
#[derive(Default)]
pub(crate) struct Rejections {
    runs: usize,
    refused: usize,
    rejected: usize,
}

impl Rejections {
    pub(crate) fn take<E>(&mut self, probability: Result<f64, E>, level: f64) {
        match probability {
            Ok(p) => {
                self.runs += 1;
                self.rejected += usize::from(p <= level);
            }
            Err(_) => self.refused += 1,
        }
    }
    pub(crate) fn print(&self, what: &str, n: usize, aim: &str) {
        println!(
            "| {what} | {n} | {} | {} | {:.1} % | {aim} |",
            self.runs,
            self.refused,
            100.0 * self.rejected as f64 / self.runs.max(1) as f64
        );
    }
}

pub(crate) fn normal(stream: &mut Stream) -> f64 {
    let radius = (-2.0 * libm::log(1.0 - stream.unit())).sqrt();
    radius * libm::cos(std::f64::consts::TAU * stream.unit())
}

pub(crate) fn stream(index: u64) -> Stream {
    Stream::new(
        &ExamSeed::from_bytes([SEED; 32]),
        Purpose::RehearsalCandidate,
        index,
    )
}

pub(crate) fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-x))
}

/// Right or wrong by the Rasch model: abilities standard normal about `mean`.
pub(crate) fn rasch_rows(
    stream: &mut Stream,
    n: usize,
    difficulties: &[f64],
    mean: f64,
) -> Vec<Vec<f64>> {
    (0..n)
        .map(|_| {
            let ability = mean + normal(stream);
            difficulties
                .iter()
                .map(|b| f64::from(u8::from(stream.unit() < logistic(ability - b))))
                .collect()
        })
        .collect()
}

/// So many difficulties from -1.5 to 1.5.
pub(crate) fn spread(items: usize) -> Vec<f64> {
    (0..items)
        .map(|item| -1.5 + 3.0 * item as f64 / (items - 1) as f64)
        .collect()
}
