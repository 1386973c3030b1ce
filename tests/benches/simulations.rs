//! Bias and coverage with known truth: `cargo bench --workspace --bench simulations`. The seed
//! is fixed, so that the table comes out alike each time.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

use base::{ExamSeed, Purpose, Stream};
use statistics::descriptive::correlation_interval::correlation;
use statistics::descriptive::proportion::proportion;
use statistics::items::shrunken_difficulty::{RightOf, shrunken_difficulty};
use statistics::reliability::cronbach_alpha::cronbach_alpha;
use statistics::scaling::rasch_marginal::rasch_marginal;
use statistics::scaling::response_table::ResponseTable;
use statistics::standard_setting::angoff::angoff;
use statistics::{Confidence, ScoreTable};

/// The seed of all draws: 32 bytes of this number.
const SEED: u8 = 4;

/// What came out over the runs.
#[derive(Default)]
struct Tally {
    runs: usize,
    refused: usize,
    error: f64,
    square: f64,
    covered: usize,
    intervals: usize,
}

impl Tally {
    fn add(&mut self, estimate: f64, truth: f64, limits: Option<(f64, f64)>) {
        self.runs += 1;
        self.error += estimate - truth;
        self.square += (estimate - truth) * (estimate - truth);
        if let Some((low, high)) = limits {
            self.intervals += 1;
            self.covered += usize::from(low <= truth && truth <= high);
        }
    }
    fn print(&self, what: &str, n: usize) {
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

fn normal(stream: &mut Stream) -> f64 {
    let radius = (-2.0 * libm::log(1.0 - stream.unit())).sqrt();
    radius * libm::cos(std::f64::consts::TAU * stream.unit())
}

fn stream(index: u64) -> Stream {
    Stream::new(
        &ExamSeed::from_bytes([SEED; 32]),
        Purpose::RehearsalCandidate,
        index,
    )
}

fn main() {
    println!("| figure | n | runs | refused | bias | root mean square error | coverage of 95 % |");
    println!("|---|---|---|---|---|---|---|");
    for n in [5, 10, 25, 60] {
        alpha(n);
    }
    for n in [10, 25, 60] {
        item_rest(n);
    }
    for n in [10, 25, 60] {
        shares(n);
    }
    for n in [30, 60, 200] {
        rasch(n);
    }
    for judges in [4, 8] {
        cut(judges);
    }
}

/// Ten parallel questions, each the ability and noise of the same size: alpha is 10/11.
fn alpha(n: usize) {
    let mut draws = stream(1);
    let mut tally = Tally::default();
    for _ in 0..2_000 {
        let rows: Vec<Vec<f64>> = (0..n)
            .map(|_| {
                let ability = normal(&mut draws);
                (0..10).map(|_| ability + normal(&mut draws)).collect()
            })
            .collect();
        match cronbach_alpha(&ScoreTable::new(&rows).unwrap(), Confidence::P95) {
            Ok(made) => tally.add(
                made.alpha,
                10.0 / 11.0,
                Some((made.interval.lower, made.interval.upper)),
            ),
            Err(_) => tally.refused += 1,
        }
    }
    tally.print("alpha, 10 parallel questions", n);
}

/// A right-or-wrong question against a normal rest; truth from a million candidates.
fn item_rest(n: usize) {
    let mut draws = stream(2);
    let mut candidate = || {
        let ability = normal(&mut draws);
        let right = 1.0 / (1.0 + libm::exp(-ability));
        let mark = f64::from(u8::from(draws.unit() < right));
        (mark, ability + 0.5 * normal(&mut draws))
    };
    let (marks, rest): (Vec<f64>, Vec<f64>) = (0..1_000_000).map(|_| candidate()).unzip();
    let truth = correlation(&marks, &rest, Confidence::P95).unwrap().r;
    let mut tally = Tally::default();
    for _ in 0..2_000 {
        let (marks, rest): (Vec<f64>, Vec<f64>) = (0..n).map(|_| candidate()).unzip();
        match correlation(&marks, &rest, Confidence::P95) {
            Ok(made) => {
                let limits = made.interval.ok().map(|l| (l.lower, l.upper));
                tally.add(made.r, truth, limits);
            }
            Err(_) => tally.refused += 1,
        }
    }
    tally.print("correlation with the rest, right or wrong", n);
}

/// Twenty questions with shares from a beta-like spread, raw and shrunken.
fn shares(n: usize) {
    let mut draws = stream(3);
    let (mut raw, mut shrunken) = (Tally::default(), Tally::default());
    for _ in 0..500 {
        let truths: Vec<f64> = (0..20)
            .map(|_| 1.0 / (1.0 + libm::exp(-0.5 - 0.8 * normal(&mut draws))))
            .collect();
        let data: Vec<RightOf> = truths
            .iter()
            .map(|truth| RightOf {
                right: (0..n).filter(|_| draws.unit() < *truth).count(),
                n,
            })
            .collect();
        let made = shrunken_difficulty(&data, Confidence::P95).unwrap();
        for ((truth, data), share) in truths.iter().zip(&data).zip(&made.questions) {
            let own = proportion(data.right, data.n, Confidence::P95).unwrap();
            raw.add(
                own.share,
                *truth,
                Some((own.interval.lower, own.interval.upper)),
            );
            shrunken.add(share.share, *truth, Some((share.lower, share.upper)));
        }
    }
    raw.print("share of right answers (Wilson)", n);
    shrunken.print("the same, drawn towards the others", n);
}

/// Difficulty of the hardest of ten questions, in logits.
fn rasch(n: usize) {
    let mut draws = stream(4);
    let mut tally = Tally::default();
    for _ in 0..300 {
        let rows: Vec<Vec<Option<u8>>> = (0..n)
            .map(|_| {
                let ability = normal(&mut draws);
                (0..10)
                    .map(|item| {
                        let difficulty = -1.5 + f64::from(item) / 3.0;
                        let right = 1.0 / (1.0 + libm::exp(difficulty - ability));
                        Some(u8::from(draws.unit() < right))
                    })
                    .collect()
            })
            .collect();
        match rasch_marginal(&ResponseTable::new(&rows).unwrap()) {
            Ok(made) => {
                let last = made.intercepts.last().unwrap();
                let limits = last.interval(Confidence::P95);
                tally.add(-last.value, 1.5, Some((-limits.upper, -limits.lower)));
            }
            Err(_) => tally.refused += 1,
        }
    }
    tally.print("Rasch difficulty, the hardest of 10, logits", n);
}

/// Angoff's cut of 30 questions; judges differ by .05 and scatter by .1; the true cut is 18.
fn cut(judges: usize) {
    let mut draws = stream(5);
    let mut tally = Tally::default();
    for _ in 0..2_000 {
        let own: Vec<f64> = (0..judges).map(|_| 0.05 * normal(&mut draws)).collect();
        let rows: Vec<Vec<f64>> = (0..30)
            .map(|item| {
                let middle = 0.6 + 0.2 * (f64::from(item) - 14.5) / 29.0;
                own.iter()
                    .map(|judge| (middle + judge + 0.1 * normal(&mut draws)).clamp(0.0, 1.0))
                    .collect()
            })
            .collect();
        let made = angoff(&ScoreTable::new(&rows).unwrap(), Confidence::P95).unwrap();
        tally.add(
            made.cut,
            18.0,
            Some((made.interval.lower, made.interval.upper)),
        );
    }
    tally.print("Angoff's cut of 30 questions, marks (n judges)", judges);
}
