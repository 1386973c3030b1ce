//! Figures of single questions, with known truth.

use statistics::Confidence;
use statistics::descriptive::correlation_interval::correlation;
use statistics::descriptive::proportion::proportion;
use statistics::items::biserial_correlation::biserial_correlation;
use statistics::items::shrunken_difficulty::{RightOf, shrunken_difficulty};
use statistics::items::upper_lower_groups::upper_lower_groups;

use crate::tally::{Tally, normal, stream};

pub(crate) fn run() {
    for n in [10, 25, 60] {
        item_rest(n);
    }
    for n in [60, 200] {
        biserial(n);
    }
    for n in [10, 25, 60] {
        shares(n);
    }
    for n in [30, 100] {
        upper_lower(n);
    }
}

/// A normal trait cut at .3 beside a score that goes with it by .6.
fn biserial(n: usize) {
    let mut draws = stream(6);
    let mut tally = Tally::default();
    for _ in 0..1_000 {
        let (right, score): (Vec<bool>, Vec<f64>) = (0..n)
            .map(|_| {
                let behind = normal(&mut draws);
                (behind > 0.3, 0.6 * behind + 0.8 * normal(&mut draws))
            })
            .unzip();
        tally.take(
            biserial_correlation(&right, &score).map(|m| {
                let reach = 1.96 * m.standard_error;
                (m.r, Some((m.r - reach, m.r + reach)))
            }),
            0.6,
        );
    }
    tally.print("biserial correlation (truth .6)", n);
}

/// Upper less lower 27 per cent of one of ten Rasch questions; truth from 200,000 candidates.
fn upper_lower(n: usize) {
    let mut draws = stream(7);
    let items = crate::tally::spread(10);
    let mut figure = |n: usize| {
        let rows = crate::tally::rasch_rows(&mut draws, n, &items, 0.0);
        upper_lower_groups(&statistics::ScoreTable::new(&rows).unwrap()).map(|m| m.differences[5])
    };
    let truth = figure(200_000).unwrap();
    let mut tally = Tally::default();
    for _ in 0..1_000 {
        tally.take(figure(n).map(|d| (d, None)), truth);
    }
    tally.print("upper less lower 27 per cent", n);
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
            Err(_) => tally.refuse(),
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
