//! The forecast beside closed forms, within Monte-Carlo error.
#![allow(clippy::unwrap_used)]

use exam_plan::plan::Join;
use statistics::distribution::binomial;

use super::*;
use crate::example::{Shape, exam};
use crate::rehearsal::{GraderMarking, simulate_answers};

const EACH: Join = Join::Conjunctive {
    theory: 600,
    tasting: 500,
};

fn seed() -> ExamSeed {
    ExamSeed::from_bytes([11; 32])
}

fn made(shape: Shape, extent: Extent) -> Forecast {
    let (exam, sitting) = exam(shape, EACH);
    forecast(
        &exam,
        &sitting,
        &seed(),
        &Population::default(),
        &extent,
        &GraderMarking::new(&exam),
    )
}

fn theory_only(questions: usize) -> Shape {
    Shape {
        questions,
        samples: 0,
        candidates: 20,
    }
}

fn small() -> Extent {
    Extent {
        sittings: 50,
        guessers: 1_500,
        scripts_per_ability: 12,
        ..Extent::default()
    }
}

#[test]
fn guessing_is_binomial() {
    // Twelve questions of three options: mean n/3, and P(at least 60 % of 12, that is 8 right) by
    // the binomial tail.
    let forecast = made(theory_only(12), small());
    let blind = &forecast.guessers[0];
    let n = f64::from(forecast.extent.guessers);
    let (part, share) = blind.mean_share[0];
    assert_eq!(part, Part::Theory);
    let deviation = (1.0 / 3.0 * 2.0 / 3.0 / 12.0_f64).sqrt();
    assert!(
        (share - 1.0 / 3.0).abs() < 4.0 * deviation / n.sqrt(),
        "{share}"
    );
    let exact = binomial::upper_tail(8, 12, 1.0 / 3.0);
    let found = blind.passes.unwrap();
    let error = (exact * (1.0 - exact) / n).sqrt();
    assert!(
        (found.share - exact).abs() < 4.0 * error,
        "{} {exact}",
        found.share
    );
}

#[test]
fn everybody_who_knows_nothing_scores_like_a_guesser() {
    // Ability far below every question: the spread of scores is the binomial one.
    let (exam, sitting) = exam(theory_only(30), EACH);
    let population = Population {
        theory_mean: -30.0,
        theory_deviation: 0.001,
        ..Population::default()
    };
    let marking = GraderMarking::new(&exam);
    let made = forecast(&exam, &sitting, &seed(), &population, &small(), &marking);
    let score = &made.scores[0];
    assert!((score.mean.unwrap() - 10.0).abs() < 4.0 * score.mean_error.unwrap());
    let expected = (30.0 * 2.0 / 9.0_f64).sqrt();
    assert!((score.deviation.unwrap() - expected).abs() < 4.0 * score.deviation_error.unwrap());
    // Nothing but luck: no reliability.
    let reliability = score.reliability.as_ref().unwrap();
    assert!(reliability.value.abs() < 4.0 / (score.n as f64).sqrt());
}

#[test]
fn doubling_the_length_follows_spearman_and_brown() {
    // Spearman 1910, Brown 1910: r2 = 2 r1 / (1 + r1). The example's questions are parallel.
    let extent = Extent {
        sittings: 150,
        guessers: 1,
        scripts_per_ability: 1,
        ..Extent::default()
    };
    let [short, long] = [12, 24].map(|questions| made(theory_only(questions), extent));
    let value = |forecast: &Forecast| forecast.scores[0].reliability.as_ref().unwrap().value;
    let (one, two) = (value(&short), value(&long));
    let expected = 2.0 * one / (1.0 + one);
    // Standard error of r at n = 3,000 is (1 - r²)/sqrt n; that of the expectation has the slope
    // 2/(1 + r)².
    let n = 3_000.0_f64;
    let error =
        (1.0 - two * two + 2.0 / ((1.0 + one) * (1.0 + one)) * (1.0 - one * one)) / n.sqrt();
    assert!(
        (two - expected).abs() < 4.0 * error,
        "{one} {two} {expected}"
    );
    // Parallel questions: alpha is the reliability.
    let alpha = short.alpha.as_ref().unwrap().mean.unwrap();
    assert!(
        (alpha - one).abs() < 4.0 * 2.0 * (1.0 - one * one) / n.sqrt(),
        "{alpha} {one}"
    );
}

#[test]
fn the_mean_is_the_integral_of_the_response_model() {
    // E = 1/3 + 2/3 E[logistic(ability)], ability normal(0.5, 1), by the trapezoidal rule.
    let forecast = made(theory_only(20), small());
    let density = |x: f64| libm::exp(-x * x / 2.0) / (2.0 * std::f64::consts::PI).sqrt();
    let knows: f64 = (-800..=800)
        .map(|i| f64::from(i) / 100.0)
        .map(|x| density(x) * crate::rehearsal::draws::logistic(0.5 + x) * 0.01)
        .sum();
    let expected = 20.0 * (1.0 / 3.0 + 2.0 / 3.0 * knows);
    let score = &forecast.scores[0];
    let error = score.mean_error.unwrap();
    assert!(
        (score.mean.unwrap() - expected).abs() < 4.0 * error,
        "{score:?} {expected}"
    );
}

#[test]
fn more_samples_make_tasting_more_reliable_and_the_figures_fit_together() {
    let shape = |samples| Shape {
        questions: 20,
        samples,
        candidates: 12,
    };
    let one = made(shape(1), small());
    let three = made(shape(3), small());
    let value = |forecast: &Forecast| forecast.scores[1].reliability.as_ref().unwrap().value;
    assert!(
        value(&three) > value(&one) + 0.1,
        "{} {}",
        value(&one),
        value(&three)
    );
    for forecast in [&one, &three] {
        assert_eq!(forecast.scores.len(), 3);
        for score in &forecast.scores {
            assert_eq!(score.n, 600);
            assert_eq!(score.tenths.iter().sum::<u32>(), 600);
        }
        let decisions = &forecast.decisions;
        assert_eq!(decisions.waiting, 0);
        let wrong = decisions.wrong_passes.unwrap().share;
        assert!(wrong <= decisions.passes.unwrap().share);
        assert!(
            forecast
                .verdict
                .iter()
                .any(|s| s.starts_with("With ") && s.contains("blind sample"))
        );
    }
}

#[test]
fn the_same_figures_come_from_one_thread_and_from_three() {
    let shape = Shape {
        questions: 10,
        samples: 2,
        candidates: 7,
    };
    let extent = Extent {
        sittings: 20,
        guessers: 50,
        scripts_per_ability: 7,
        ..Extent::default()
    };
    let [one, three] = [1, 3].map(|threads| {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap();
        pool.install(|| made(shape, extent))
    });
    assert_eq!(one, three);
}

#[test]
fn simulated_answers_are_those_of_the_first_sitting() {
    let shape = Shape {
        questions: 9,
        samples: 2,
        candidates: 5,
    };
    let (exam, sitting) = exam(shape, EACH);
    let population = Population::default();
    let answers = simulate_answers(&exam, &sitting, &seed(), &population);
    assert_eq!(answers.len(), 5 * (9 + 2 * 5));
    let by_item = |candidate: usize, item: &grader::Item| {
        let number = &sitting.places[candidate].candidate;
        let found = answers
            .iter()
            .find(|a| a.candidate == *number && a.item == *item);
        found.unwrap().answer.clone()
    };
    let awards = crate::example::awards(&exam, &sitting, by_item);
    let prepared = Prepared::new(&exam, &sitting);
    let extent = Extent {
        sittings: 1,
        ..small()
    };
    let marking = GraderMarking::new(&exam);
    let simulated = sittings(&prepared, &seed(), &population, &extent, &marking);
    let scripts = crate::scripts(&exam, &sitting, &awards);
    for (script, one) in scripts.iter().zip(&simulated) {
        assert_eq!(script.marks, one.first.marks);
    }
}
