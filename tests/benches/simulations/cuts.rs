//! Cuts, with known truth.

use statistics::standard_setting::angoff::angoff;
use statistics::standard_setting::bookmark::bookmark;
use statistics::standard_setting::borderline_group::borderline_group;
use statistics::standard_setting::borderline_regression::borderline_regression;
use statistics::standard_setting::cohen_cut::{CohenRule, cohen_cut};
use statistics::standard_setting::contrasting_logistic::contrasting_logistic;
use statistics::standard_setting::contrasting_normal::contrasting_normal;
use statistics::standard_setting::ebel::{EbelCell, ebel};
use statistics::standard_setting::hofstee::{HofsteeJudgement, hofstee};
use statistics::standard_setting::item_descriptor_matching::level_boundary;
use statistics::{Confidence, RandomInput, ScoreTable};

use crate::tally::{Tally, logistic, normal, spread, stream};

const P95: Confidence = Confidence::P95;

struct Draws(base::Stream);

impl RandomInput for Draws {
    fn below(&mut self, bound: u32) -> u32 {
        self.0.below(u64::from(bound)) as u32
    }
    fn unit(&mut self) -> f64 {
        self.0.unit()
    }
}

pub(crate) fn run() {
    for judges in [4, 8, 12] {
        by_judges(judges);
    }
    for n in [20, 60, 200] {
        by_candidates(n);
    }
}

/// Angoff's cut of 30 questions; judges differ by .05 and scatter by .1; the true cut is 18. Ebel's of
/// the same judges over three cells of ten. Pages of a booklet about the 18th of 30 by 2, and levels
/// about difficulty .3 by .2.
fn by_judges(judges: usize) {
    let mut draws = stream(51);
    let mut tallies: [Tally; 4] = Default::default();
    let difficulties = spread(30);
    for _ in 0..1_000 {
        let own: Vec<f64> = (0..judges).map(|_| 0.05 * normal(&mut draws)).collect();
        let rows: Vec<Vec<f64>> = (0..30)
            .map(|item| {
                let middle = 0.6 + 0.2 * (f64::from(item) - 14.5) / 29.0;
                own.iter()
                    .map(|judge| (middle + judge + 0.1 * normal(&mut draws)).clamp(0.0, 1.0))
                    .collect()
            })
            .collect();
        let made = angoff(&ScoreTable::new(&rows).unwrap(), P95);
        tallies[0].take(
            made.map(|m| (m.cut, Some((m.interval.lower, m.interval.upper)))),
            18.0,
        );
        let cuts: Result<Vec<f64>, _> = own
            .iter()
            .map(|judge| {
                let cells: Vec<EbelCell> = [0.5, 0.6, 0.7]
                    .iter()
                    .map(|middle| EbelCell {
                        items: 10,
                        borderline_share: (middle + judge + 0.05 * normal(&mut draws))
                            .clamp(0.0, 1.0),
                    })
                    .collect();
                ebel(&cells).map(|made| made.cut)
            })
            .collect();
        tallies[1].take(
            cuts.map(|c| (c.iter().sum::<f64>() / c.len() as f64, None)),
            18.0,
        );
        let pages: Vec<usize> = (0..judges)
            .map(|_| (18.0 + 2.0 * normal(&mut draws)).round().clamp(1.0, 30.0) as usize)
            .collect();
        // The bookmark lies before page 18: mastery of the question there at a chance of 2/3.
        let truth = difficulties[17] + libm::log(2.0);
        let made = bookmark(&pages, &difficulties, 2.0 / 3.0);
        tallies[2].take(
            made.map(|m| {
                let reach = 1.96 * m.standard_error;
                (m.median, Some((m.median - reach, m.median + reach)))
            }),
            truth,
        );
        let placed: Vec<Vec<f64>> = difficulties
            .iter()
            .map(|b| {
                (0..judges)
                    .map(|_| {
                        let p = logistic((b - 0.3) / 0.2);
                        if draws.unit() < p { 2.0 } else { 1.0 }
                    })
                    .collect()
            })
            .collect();
        let made = level_boundary(&ScoreTable::new(&placed).unwrap(), &difficulties, 2.0);
        tallies[3].take(made.map(|m| (m.difficulty, None)), 0.3);
    }
    for (tally, what) in tallies.iter().zip([
        "Angoff's cut of 30 questions, marks (n judges)",
        "Ebel's cut, marks (n judges)",
        "bookmark, logits, pages two from the truth (n judges)",
        "item-descriptor matching, logits (n judges)",
    ]) {
        tally.print(what, judges);
    }
}

/// Marks 20 and 5 by competence: the grade 2 has a mean of 20, a grade is worth 4 marks.
fn by_candidates(n: usize) {
    let mut draws = stream(52);
    let mut tallies: [Tally; 6] = Default::default();
    for _ in 0..500 {
        let graded: Vec<(f64, f64)> = (0..n)
            .map(|_| {
                let grade = (draws.unit() * 5.0).floor();
                (12.0 + 4.0 * grade + 3.0 * normal(&mut draws), grade)
            })
            .collect();
        let (scores, grades): (Vec<f64>, Vec<f64>) = graded.iter().copied().unzip();
        let two: Vec<f64> = graded
            .iter()
            .filter(|(_, g)| *g == 2.0)
            .map(|(s, _)| *s)
            .collect();
        let both = |lower, upper| Some((lower, upper));
        tallies[0].take(
            borderline_group(&two, P95).map(|m| (m.mean, both(m.interval.lower, m.interval.upper))),
            20.0,
        );
        tallies[1].take(
            borderline_regression(&scores, &grades, 2.0, P95)
                .map(|m| (m.cut, both(m.interval.lower, m.interval.upper))),
            20.0,
        );
        let group = |draws: &mut base::Stream, mean: f64| -> Vec<f64> {
            (0..n / 2).map(|_| mean + 4.0 * normal(draws)).collect()
        };
        let (weak, strong) = (group(&mut draws, 16.0), group(&mut draws, 24.0));
        tallies[2].take(
            contrasting_normal(&weak, &strong).map(|m| (m.cut, None)),
            20.0,
        );
        let all: Vec<f64> = weak.iter().chain(&strong).copied().collect();
        let competent: Vec<bool> = (0..all.len()).map(|place| place >= weak.len()).collect();
        tallies[3].take(
            contrasting_logistic(&all, &competent).map(|m| (m.cut, None)),
            20.0,
        );
        let class: Vec<f64> = (0..n).map(|_| 20.0 + 5.0 * normal(&mut draws)).collect();
        let rule = CohenRule {
            best: 0.95,
            way: 0.6,
            guessing: 0.0,
        };
        let mut random = Draws(stream(1_000));
        // 60 % of the 95th per cent of a normal distribution.
        tallies[4].take(
            cohen_cut(&class, rule, P95, &mut random).map(|m| {
                let limits = &m.resampled.interval;
                (m.cut, both(limits.lower, limits.upper))
            }),
            0.6 * (20.0 + 1.644_854 * 5.0),
        );
        let judges: Vec<HofsteeJudgement> = (0..6)
            .map(|_| HofsteeJudgement {
                lowest_cut: 40.0,
                highest_cut: 60.0,
                lowest_fail: 10.0,
                highest_fail: 40.0,
            })
            .collect();
        let whole: Vec<f64> = class
            .iter()
            .map(|mark| mark.round().clamp(0.0, 40.0))
            .collect();
        // Truth from a very large class of the same kind.
        tallies[5].take(
            hofstee(&judges, &whole, 40).map(|m| (m.cut, None)),
            hofstee_truth(),
        );
    }
    for (tally, what) in tallies.iter().zip([
        "borderline group, mean",
        "borderline regression",
        "contrasting groups, where the curves cross",
        "contrasting groups, logistic",
        "Cohen's cut",
        "Hofstee's cut",
    ]) {
        tally.print(what, n);
    }
}

/// Marks of 20 and 5, rounded: the cut on the line from (40 %, 40 %) to (60 %, 10 %) that as many fail.
fn hofstee_truth() -> f64 {
    let fails =
        |mark: f64| statistics::distribution::normal::lower_tail((mark - 0.5 - 20.0) / 5.0) * 100.0;
    let line = |mark: f64| 40.0 - 1.5 * (mark / 40.0 * 100.0 - 40.0);
    let (mut low, mut high) = (16.0, 24.0);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if fails(middle) < line(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
