//! Reliability, decisions and the spread of marks, with known truth.

use statistics::decision::hanson_brennan::hanson_brennan;
use statistics::decision::huynh::huynh;
use statistics::decision::livingston_lewis::livingston_lewis;
use statistics::decision::subkoviak::subkoviak;
use statistics::generalisability::crossed_scores::CrossedScores;
use statistics::generalisability::persons_by_items::persons_by_items;
use statistics::generalisability::persons_by_items_by_markers::persons_by_items_by_markers;
use statistics::generalisability::persons_by_raters_in_tasks::persons_by_raters_in_tasks;
use statistics::generalisability::restricted_likelihood::restricted_components;
use statistics::generalisability::unbalanced_components::unbalanced_components;
use statistics::reliability::composite_reliability::{Part, composite_reliability};
use statistics::reliability::cronbach_alpha::cronbach_alpha;
use statistics::reliability::guttman_lambdas::guttman_lambdas;
use statistics::reliability::kr20::kr20;
use statistics::reliability::kr21::kr21;
use statistics::reliability::omega::omega;
use statistics::reliability::split_half::{Split, split_half};
use statistics::reliability::standard_error::standard_error_of_measurement;
use statistics::reliability::standardised_alpha::standardised_alpha;
use statistics::reliability::subscore_value::subscore_value;
use statistics::{Confidence, ScoreTable};

use crate::tally::{Tally, logistic, normal, rasch_rows, spread, stream};

const P95: Confidence = Confidence::P95;

pub(crate) fn run() {
    for n in [5, 10, 25, 60, 200] {
        parallel(n);
    }
    for n in [25, 60, 200] {
        right_or_wrong(n);
    }
    for n in [30, 60, 200] {
        decisions(n);
    }
    for n in [10, 25, 60] {
        components(n);
    }
    for n in [25, 100] {
        parts(n);
    }
}

/// Ten parallel questions, each the ability and noise of the same size: alpha is 10/11, and so is
/// every other figure of reliability; the error of a total is the root of 10.
fn parallel(n: usize) {
    let mut draws = stream(1);
    let truth = 10.0 / 11.0;
    let mut tallies: [Tally; 6] = Default::default();
    for _ in 0..1_000 {
        let rows: Vec<Vec<f64>> = (0..n)
            .map(|_| {
                let ability = normal(&mut draws);
                (0..10).map(|_| ability + normal(&mut draws)).collect()
            })
            .collect();
        let table = ScoreTable::new(&rows).unwrap();
        let alpha = cronbach_alpha(&table, P95);
        if let Ok(made) = &alpha {
            let error = standard_error_of_measurement(&table.totals(), made.alpha);
            tallies[5].take(error.map(|m| (m.marks, None)), 10.0_f64.sqrt());
        }
        tallies[0].take(
            alpha.map(|m| (m.alpha, Some((m.interval.lower, m.interval.upper)))),
            truth,
        );
        tallies[1].take(guttman_lambdas(&table).map(|m| (m.lambda2, None)), truth);
        tallies[2].take(
            split_half(&table, Split::OddEven, P95).map(|m| (m.spearman_brown, None)),
            truth,
        );
        tallies[3].take(standardised_alpha(&table).map(|m| (m.alpha, None)), truth);
        if n > 25 {
            tallies[4].take(omega(&table).map(|m| (m.omega, None)), truth);
        }
    }
    tallies[0].print("alpha, 10 parallel questions", n);
    tallies[1].print("lambda 2 of the same", n);
    tallies[2].print("odd against even, stepped up", n);
    tallies[3].print("standardised alpha", n);
    if n > 25 {
        tallies[4].print("omega of one factor", n);
    }
    tallies[5].print("error of a total, marks", n);
}

/// Thirty Rasch questions; truth of each figure from 400,000 candidates.
fn right_or_wrong(n: usize) {
    let mut draws = stream(11);
    let difficulties = spread(30);
    let all = ScoreTable::new(&rasch_rows(&mut draws, 400_000, &difficulties, 0.0)).unwrap();
    let (truth20, truth21) = (kr20(&all, P95).unwrap().kr20, kr21(&all).unwrap().kr21);
    let (mut first, mut second) = (Tally::default(), Tally::default());
    for _ in 0..1_000 {
        let table = ScoreTable::new(&rasch_rows(&mut draws, n, &difficulties, 0.0)).unwrap();
        first.take(
            kr20(&table, P95).map(|m| (m.kr20, Some((m.interval.lower, m.interval.upper)))),
            truth20,
        );
        second.take(kr21(&table).map(|m| (m.kr21, None)), truth21);
    }
    first.print("KR-20, 30 Rasch questions", n);
    second.print("KR-21 of the same", n);
}

/// Decisions at 18 of 30: truth from 200,000 candidates who sit twice.
fn decisions(n: usize) {
    let mut draws = stream(12);
    let difficulties = spread(30);
    let (mut alike, mut right) = (0, 0);
    let candidates = 200_000;
    for _ in 0..candidates {
        let ability = normal(&mut draws);
        let chances: Vec<f64> = difficulties.iter().map(|b| logistic(ability - b)).collect();
        let mut sit = || chances.iter().filter(|p| draws.unit() < **p).count() >= 18;
        let (one, other) = (sit(), sit());
        alike += u32::from(one == other);
        right += u32::from(one == (chances.iter().sum::<f64>() >= 18.0));
    }
    let share = |count: u32| f64::from(count) / f64::from(candidates);
    let (agreement, accuracy) = (share(alike), share(right));
    let mut tallies: [Tally; 6] = Default::default();
    for _ in 0..300 {
        let table = ScoreTable::new(&rasch_rows(&mut draws, n, &difficulties, 0.0)).unwrap();
        let totals = table.totals();
        let Ok(alpha) = cronbach_alpha(&table, P95) else {
            continue;
        };
        let made = livingston_lewis(&totals, alpha.alpha, 0.0, 30.0, 18.0);
        tallies[0].take(
            made.as_ref().map(|m| (m.decisions.agreement, None)),
            agreement,
        );
        tallies[1].take(
            made.as_ref().map(|m| (m.decisions.accuracy, None)),
            accuracy,
        );
        let made = hanson_brennan(&totals, alpha.alpha, 30, 18);
        tallies[2].take(
            made.as_ref().map(|m| (m.decisions.agreement, None)),
            agreement,
        );
        tallies[3].take(
            made.as_ref().map(|m| (m.decisions.accuracy, None)),
            accuracy,
        );
        tallies[4].take(
            subkoviak(&totals, alpha.alpha, 30, 18).map(|m| (m.agreement, None)),
            agreement,
        );
        tallies[5].take(huynh(&table, 18).map(|m| (m.agreement, None)), agreement);
    }
    for (tally, what) in tallies.iter().zip([
        "decisions alike, Livingston and Lewis",
        "decisions right, Livingston and Lewis",
        "decisions alike, Hanson and Brennan",
        "decisions right, Hanson and Brennan",
        "decisions alike, Subkoviak",
        "decisions alike, Huynh",
    ]) {
        tally.print(what, n);
    }
}

/// Spread of candidates 1, of questions .5, of markers .25, of the rest 1.
fn components(n: usize) {
    let mut draws = stream(13);
    let mut tallies: [Tally; 6] = Default::default();
    for _ in 0..300 {
        let persons: Vec<f64> = (0..n).map(|_| normal(&mut draws)).collect();
        let items: Vec<f64> = (0..8)
            .map(|_| 0.5_f64.sqrt() * normal(&mut draws))
            .collect();
        let markers: Vec<f64> = (0..3).map(|_| 0.5 * normal(&mut draws)).collect();
        let rows: Vec<Vec<f64>> = persons
            .iter()
            .map(|p| items.iter().map(|i| p + i + normal(&mut draws)).collect())
            .collect();
        let made = persons_by_items(&ScoreTable::new(&rows).unwrap());
        tallies[0].take(made.as_ref().map(|m| (m.person_variance, None)), 1.0);
        // Phi of eight questions: 1/(1 + 1.5/8).
        tallies[1].take(
            made.and_then(|m| m.decision_study(8))
                .map(|m| (m.dependability, None)),
            1.0 / (1.0 + 1.5 / 8.0),
        );
        let mut cells = Vec::new();
        for p in &persons {
            for i in &items {
                for m in &markers {
                    cells.push(p + i + m + normal(&mut draws));
                }
            }
        }
        let crossed = CrossedScores::new(n, 8, 3, cells).unwrap();
        tallies[2].take(
            persons_by_items_by_markers(&crossed).map(|m| (m.marker, None)),
            0.25,
        );
        tallies[3].take(
            restricted_components(&crossed).map(|m| (m.components.marker, None)),
            0.25,
        );
        let (mut values, mut who, mut which) = (Vec::new(), Vec::new(), Vec::new());
        for (person, p) in persons.iter().enumerate() {
            for (item, i) in items.iter().enumerate() {
                if draws.unit() < 0.7 {
                    values.push(p + i + normal(&mut draws));
                    who.push(person);
                    which.push(item);
                }
            }
        }
        let made = unbalanced_components(&values, &[who, which]);
        tallies[4].take(
            made.map(|m| {
                let person = &m.effects[0];
                let error = person.standard_error.ok();
                (
                    person.variance,
                    error.map(|e| (person.variance - 1.96 * e, person.variance + 1.96 * e)),
                )
            }),
            1.0,
        );
        // Two raters of their own for each of four tasks: tasks .5, raters .25, both as above.
        let mut cells = Vec::new();
        let raters: Vec<f64> = (0..8).map(|_| 0.5 * normal(&mut draws)).collect();
        for p in &persons {
            for (task, i) in items.iter().take(4).enumerate() {
                for rater in &raters[2 * task..2 * task + 2] {
                    cells.push(p + i + rater + normal(&mut draws));
                }
            }
        }
        let nested = CrossedScores::new(n, 4, 2, cells).unwrap();
        tallies[5].take(
            persons_by_raters_in_tasks(&nested).map(|m| (m.person, None)),
            1.0,
        );
    }
    for (tally, what) in tallies.iter().zip([
        "variance of candidates, candidates x 8 questions (truth 1)",
        "phi of 8 questions",
        "variance of 3 markers, mean squares (truth .25)",
        "the same, restricted likelihood, none below 0",
        "variance of candidates, 3 cells in 10 empty, restricted likelihood (truth 1)",
        "variance of candidates, 2 raters in each of 4 tasks (truth 1)",
    ]) {
        tally.print(what, n);
    }
}

/// Two parts of ten parallel questions on one ability: 20/21 together. A part of ten questions says
/// of itself 10/11 of what there is to know.
fn parts(n: usize) {
    let mut draws = stream(14);
    let (mut whole, mut part) = (Tally::default(), Tally::default());
    for _ in 0..1_000 {
        let rows: Vec<Vec<f64>> = (0..n)
            .map(|_| {
                let ability = normal(&mut draws);
                (0..20).map(|_| ability + normal(&mut draws)).collect()
            })
            .collect();
        let half = |from: usize| -> (Vec<f64>, f64) {
            let rows: Vec<&[f64]> = rows.iter().map(|row| &row[from..from + 10]).collect();
            let table = ScoreTable::new(&rows).unwrap();
            let alpha = cronbach_alpha(&table, P95).map_or(0.0, |m| m.alpha);
            (table.totals(), alpha)
        };
        let ((one, alpha), (other, beside)) = (half(0), half(10));
        let made = composite_reliability(&[
            Part {
                scores: &one,
                reliability: alpha,
                weight: 1.0,
            },
            Part {
                scores: &other,
                reliability: beside,
                weight: 1.0,
            },
        ]);
        whole.take(made.map(|m| (m.reliability, None)), 20.0 / 21.0);
        let total: Vec<f64> = one.iter().zip(&other).map(|(a, b)| a + b).collect();
        let made = subscore_value(&one, &total, alpha);
        part.take(made.map(|m| (m.worth.from_part, None)), 10.0 / 11.0);
    }
    whole.print("reliability of two parts together", n);
    part.print("what a part says of itself (Haberman)", n);
}
