//! How often tests reject where there is nothing to find, and how often where there is.

use base::Stream;
use results::analysis::{Answer, AskedQuestion, CandidateAnswers, Responses, alikeness};
use statistics::discrimination_test::d_prime::d_prime;
use statistics::discrimination_test::method::Method;
use statistics::discrimination_test::replicated::{TasterAnswers, replicated};
use statistics::fairness::logistic_dif::logistic_dif;
use statistics::fairness::mantel_haenszel::mantel_haenszel;
use statistics::fairness::standardisation::standardised_difference;
use statistics::fairness::strata::strata_by_score;
use statistics::panel::cochran_q::cochran_q;
use statistics::panel::friedman::friedman;
use statistics::panel::page_trend::page_trend;
use statistics::scaling::ability_prior::AbilityPrior;
use statistics::scaling::andersen_test::{andersen_test, split_at_mean};
use statistics::scaling::local_dependence::local_dependence;
use statistics::scaling::person_measure::weighted_likelihood::weighted_likelihood;
use statistics::scaling::rasch_marginal::rasch_marginal;
use statistics::scaling::response_table::ResponseTable;
use statistics::scaling::summed_score_fit::summed_score_fit;
use statistics::{Confidence, ScoreTable};

use crate::tally::{Rejections, Tally, logistic, normal, rasch_rows, spread, stream};

/// The share of sittings in which somebody may be named who worked alone.
const NAMED: &str = "at most 1 %";
const FIVE: &str = "5 %";

pub(crate) fn sizes() {
    for n in [100, 400] {
        effect_sizes(n);
    }
    distances();
}

pub(crate) fn run() {
    for n in [200, 600] {
        fairness(n);
    }
    for n in [100, 200] {
        weak_and_strong(n);
    }
    curve_fit(500);
    together(200);
    for n in [8, 20] {
        sensory(n);
    }
    for n in [100, 200] {
        alike(n, 0);
    }
    for n in [100, 200] {
        for copied in [15, 25] {
            alike(n, copied);
        }
    }
}

/// Twenty Rasch questions and two groups of n/2; the last question is harder by `harder` for one.
fn groups(draws: &mut Stream, n: usize, harder: f64) -> (Vec<Vec<f64>>, Vec<bool>) {
    let items = spread(20);
    let mut shifted = items.clone();
    shifted[10] += harder;
    let mut rows = rasch_rows(draws, n / 2, &items, 0.0);
    rows.extend(rasch_rows(draws, n / 2, &shifted, 0.0));
    let focal = (0..rows.len()).map(|place| place >= n / 2).collect();
    (rows, focal)
}

fn fairness(n: usize) {
    let mut draws = stream(61);
    let mut tests: [Rejections; 4] = Default::default();
    for (place, harder) in [0.0, 0.8].into_iter().enumerate() {
        for _ in 0..500 {
            let (rows, focal) = groups(&mut draws, n, harder);
            let right: Vec<bool> = rows.iter().map(|row| row[10] > 0.5).collect();
            let totals: Vec<f64> = rows.iter().map(|row| row.iter().sum()).collect();
            let made = strata_by_score(&right, &focal, &totals)
                .and_then(|strata| mantel_haenszel(&strata, Confidence::P95));
            tests[2 * place].take(made.map(|m| m.p_value.probability), 0.05);
            let made = logistic_dif(&right, &focal, &totals);
            tests[2 * place + 1].take(made.map(|m| m.uniform.p_value.probability), 0.05);
        }
    }
    tests[0].print("Mantel-Haenszel, no difference", n, FIVE);
    tests[1].print("logistic regression, no difference", n, FIVE);
    tests[2].print(
        "Mantel-Haenszel, .8 logits harder for one group",
        n,
        "power",
    );
    tests[3].print(
        "logistic regression, .8 logits harder for one group",
        n,
        "power",
    );
}

/// Effect sizes of a question that is .8 logits harder for one of two groups.
fn effect_sizes(n: usize) {
    let mut draws = stream(62);
    let mut tallies: [Tally; 3] = Default::default();
    let truth = {
        let (rows, focal) = groups(&mut draws, 200_000, 0.8);
        let right: Vec<bool> = rows.iter().map(|row| row[10] > 0.5).collect();
        let totals: Vec<f64> = rows.iter().map(|row| row.iter().sum()).collect();
        let strata = strata_by_score(&right, &focal, &totals).unwrap();
        (
            mantel_haenszel(&strata, Confidence::P95).unwrap().delta,
            standardised_difference(&strata).unwrap().difference,
            logistic_dif(&right, &focal, &totals)
                .unwrap()
                .focal_log_odds,
        )
    };
    for _ in 0..500 {
        let (rows, focal) = groups(&mut draws, n, 0.8);
        let right: Vec<bool> = rows.iter().map(|row| row[10] > 0.5).collect();
        let totals: Vec<f64> = rows.iter().map(|row| row.iter().sum()).collect();
        let strata = strata_by_score(&right, &focal, &totals);
        let made = strata
            .as_ref()
            .map_err(|w| *w)
            .and_then(|s| mantel_haenszel(s, Confidence::P95));
        tallies[0].take(
            made.map(|m| {
                (
                    m.delta,
                    Some((m.delta_interval.lower, m.delta_interval.upper)),
                )
            }),
            truth.0,
        );
        let made = strata.and_then(|s| standardised_difference(&s));
        tallies[1].take(made.map(|m| (m.difference, None)), truth.1);
        let made = logistic_dif(&right, &focal, &totals);
        tallies[2].take(made.map(|m| (m.focal_log_odds, None)), truth.2);
    }
    tallies[0].print("delta of Mantel and Haenszel, .8 logits harder", n);
    tallies[1].print("standardised difference, the same", n);
    tallies[2].print("log odds by logistic regression, the same", n);
}

/// d' of 1.5 in a triangle test.
fn distances() {
    let mut draws = stream(63);
    let right = Method::Triangle.share_correct(1.5);
    for n in [20_usize, 60] {
        let mut tally = Tally::default();
        for _ in 0..1_000 {
            let hits = (0..n).filter(|_| draws.unit() < right).count();
            let made = d_prime(hits, n, Method::Triangle, Confidence::P95);
            tally.take(
                made.map(|m| (m.d_prime, Some((m.interval.lower, m.interval.upper)))),
                1.5,
            );
        }
        tally.print("d' of a triangle test (truth 1.5)", n);
    }
}

fn weak_and_strong(n: usize) {
    let mut draws = stream(64);
    let mut test = Rejections::default();
    for _ in 0..300 {
        let rows = rasch_rows(&mut draws, n, &spread(10), 0.0);
        let table = ResponseTable::from_scores(&ScoreTable::new(&rows).unwrap()).unwrap();
        let made = split_at_mean(&table).and_then(|groups| andersen_test(&table, &groups));
        test.take(made.map(|m| m.p_value.probability), 0.05);
    }
    test.print("Andersen's test, the model holds", n, FIVE);
}

fn curve_fit(n: usize) {
    let mut draws = stream(65);
    let mut test = Rejections::default();
    for _ in 0..60 {
        let rows = rasch_rows(&mut draws, n, &spread(15), 0.0);
        let table = ResponseTable::from_scores(&ScoreTable::new(&rows).unwrap()).unwrap();
        let made = rasch_marginal(&table).and_then(|m| {
            let prior = AbilityPrior::new(0.0, m.ability_variance.value.sqrt())?;
            summed_score_fit(&table, &m.curves(), prior, 1)
        });
        match made {
            Ok(questions) => {
                for fit in questions.into_iter().flatten() {
                    test.take::<()>(Ok(fit.p_value.probability), 0.05);
                }
            }
            Err(why) => test.take(Err(why), 0.05),
        }
    }
    test.print("S-X², the model holds, each question", n, FIVE);
}

/// The share of sittings in which a pair of questions stands out, fifteen independent ones; and where
/// two of them hang together.
fn together(n: usize) {
    let mut draws = stream(66);
    let (mut none, mut pair) = (Rejections::default(), Rejections::default());
    for _ in 0..100 {
        for linked in [false, true] {
            let mut rows = rasch_rows(&mut draws, n, &spread(15), 0.0);
            if linked {
                for row in &mut rows {
                    if draws.unit() < 0.5 {
                        row[8] = row[7];
                    }
                }
            }
            let table = ResponseTable::from_scores(&ScoreTable::new(&rows).unwrap()).unwrap();
            let made = rasch_marginal(&table).and_then(|m| {
                let curves = m.curves();
                let abilities: Vec<Option<f64>> = table
                    .rows()
                    .map(|row| weighted_likelihood(&curves, row).ok().map(|m| m.ability))
                    .collect();
                local_dependence(&table, &curves, &abilities)
            });
            let told = made.map(|m| {
                let found = if linked {
                    m.standing_out.iter().any(|p| (p.first, p.second) == (7, 8))
                } else {
                    !m.standing_out.is_empty()
                };
                if found { 0.0 } else { 1.0 }
            });
            if linked { &mut pair } else { &mut none }.take(told, 0.5);
        }
    }
    none.print(
        "Q3, a pair of 105 stands out, all independent",
        n,
        "as it falls",
    );
    pair.print("Q3, the pair stands out that hangs together", n, "power");
}

/// Four samples that do not differ.
fn sensory(n: usize) {
    let mut draws = stream(67);
    let mut tests: [Rejections; 4] = Default::default();
    for _ in 0..1_000 {
        let scores: Vec<Vec<f64>> = (0..n)
            .map(|_| (0..4).map(|_| normal(&mut draws)).collect())
            .collect();
        let table = ScoreTable::new(&scores).unwrap();
        tests[0].take(friedman(&table).map(|m| m.p_value.probability), 0.05);
        let ranks: Vec<Vec<f64>> = scores
            .iter()
            .map(|row| {
                row.iter()
                    .map(|own| 1.0 + row.iter().filter(|other| *other < own).count() as f64)
                    .collect()
            })
            .collect();
        let table = ScoreTable::new(&ranks).unwrap();
        tests[1].take(page_trend(&table).map(|m| m.p_value.probability), 0.05);
        let rows: Vec<Vec<f64>> = (0..n)
            .map(|_| {
                let taster = logistic(normal(&mut draws));
                (0..4)
                    .map(|_| f64::from(u8::from(draws.unit() < taster)))
                    .collect()
            })
            .collect();
        let table = ScoreTable::new(&rows).unwrap();
        tests[2].take(cochran_q(&table).map(|m| m.p_value.probability), 0.05);
        let tasters: Vec<TasterAnswers> = (0..n)
            .map(|_| TasterAnswers {
                right: (0..6).filter(|_| draws.unit() < 1.0 / 3.0).count() as u32,
                answers: 6,
            })
            .collect();
        let made = replicated(&tasters, Method::Triangle);
        tests[3].take(made.map(|m| m.guessing.probability), 0.05);
    }
    tests[0].print("Friedman's test, four equal samples (n assessors)", n, FIVE);
    tests[1].print("Page's test, no order (n assessors)", n, FIVE);
    tests[2].print("Cochran's Q, four equal samples (n assessors)", n, FIVE);
    tests[3].print(
        "replicated triangle tests, guessing (n tasters of six)",
        n,
        "at most 5 %",
    );
}

/// Whole sittings of 40 questions with four options. Where nobody copied: the share of sittings that
/// name any pair. Else one candidate copied so many of the 40 from a neighbour: the share in which just
/// that pair is named.
fn alike(n: usize, copied: usize) {
    let mut draws = stream(70 + copied as u64);
    let beside: Vec<(usize, usize)> = (1..n).map(|place| (place - 1, place)).collect();
    let (mut by_seats, mut of_all) = (Rejections::default(), Rejections::default());
    let sittings = match (copied, n) {
        (0, 100) => 200,
        (0, _) => 60,
        _ => 40,
    };
    for sitting in 0..sittings {
        let mut room = sitting_of(&mut draws, n);
        // Another place in the room each time, not at its ends.
        let source = 1 + (sitting * 7) % (n - 3);
        if copied > 0 {
            let answers = room.candidates[source].answers.clone();
            let own = &mut room.candidates[source + 1].answers;
            for place in 0..copied {
                let place = (place * 13 + sitting) % 40;
                own[place] = answers[place];
            }
        }
        let names = [source, source + 1].map(|place| room.candidates[place].candidate.clone());
        for (pairs, tally) in [(Some(&beside[..]), &mut by_seats), (None, &mut of_all)] {
            let made = alikeness(&room, pairs);
            let told = match made {
                Some(made) if made.refused.is_empty() => {
                    let mut named = made.pairs.iter().filter(|pair| pair.named);
                    let found = if copied == 0 {
                        named.next().is_some()
                    } else {
                        named.any(|pair| pair.candidates == names)
                    };
                    Ok(if found { 0.0 } else { 1.0 })
                }
                _ => Err(()),
            };
            tally.take(told, 0.5);
        }
    }
    let what = if copied == 0 {
        "a pair is named, all worked alone".to_owned()
    } else {
        format!("the pair is named, {copied} of 40 copied")
    };
    let aim = if copied == 0 { NAMED } else { "power" };
    by_seats.print(&format!("{what}, by seats"), n, aim);
    of_all.print(&format!("{what}, all pairs"), n, aim);
}

fn sitting_of(draws: &mut Stream, n: usize) -> Responses {
    let items = spread(40);
    let questions = (1..=40)
        .map(|number| AskedQuestion {
            name: format!("q{number}"),
            stem: String::new(),
            key: Some(0),
            options: ["A", "B", "C", "D"].map(str::to_owned).to_vec(),
            full: 1.0,
            counts: true,
        })
        .collect();
    let candidates = (0..n)
        .map(|place| {
            let ability = normal(draws);
            CandidateAnswers {
                candidate: format!("C-{place:04}"),
                sitting: String::new(),
                form: String::new(),
                group: String::new(),
                answers: items
                    .iter()
                    .enumerate()
                    .map(|(question, b)| {
                        // The first wrong option draws the weak, the second anybody; a third is rare.
                        let pulls = [
                            1.1 * (ability - b) + 0.6,
                            -0.5 * ability,
                            0.1 * (question % 5) as f64 - 0.3,
                            -1.0,
                        ];
                        let whole: f64 = pulls.iter().map(|p| libm::exp(*p)).sum();
                        let mut left = draws.unit() * whole;
                        let option = pulls
                            .iter()
                            .position(|pull| {
                                left -= libm::exp(*pull);
                                left < 0.0
                            })
                            .unwrap_or(3);
                        Answer::Given {
                            marks: f64::from(u8::from(option == 0)),
                            option: Some(option),
                        }
                    })
                    .collect(),
            }
        })
        .collect();
    Responses {
        what: "theory".to_owned(),
        questions,
        candidates,
    }
}
