//! The closer look, mishaps and copying against closed forms, within Monte-Carlo error.
#![allow(clippy::unwrap_used)]

use base::ExamSeed;
use exam_plan::plan::Join;
use statistics::decision::livingston_lewis::livingston_lewis;
use statistics::distribution::binomial;

use crate::decide::{Outcome, Part, decide};
use crate::example::{Shape, awards, exam};
use crate::rehearsal::forecast::{Forecast, sittings};
use crate::rehearsal::prepared::Prepared;
use crate::rehearsal::{
    Extent, GraderMarking, Guesser, Mishaps, Population, Taster, Wanted, against, forecast,
    not_met, simulate_answers,
};

const EACH: Join = Join::Conjunctive {
    theory: 600,
    tasting: 500,
};

fn seed(number: u8) -> ExamSeed {
    ExamSeed::from_bytes([number; 32])
}

fn theory(questions: usize) -> Shape {
    Shape {
        questions,
        samples: 0,
        candidates: 20,
    }
}

fn extent(sittings: u32) -> Extent {
    Extent {
        sittings,
        guessers: 600,
        scripts_per_ability: 20,
        ..Extent::default()
    }
}

fn made(shape: Shape, population: &Population, extent: &Extent) -> Forecast {
    let (exam, sitting) = exam(shape, EACH);
    forecast(
        &exam,
        &sitting,
        &seed(3),
        population,
        extent,
        &GraderMarking::new(&exam),
    )
}

/// Everybody has this ability.
fn all_alike(ability: f64) -> Population {
    Population {
        theory_mean: ability,
        theory_deviation: 1e-9,
        ..Population::default()
    }
}

/// The chance of a right answer on the example's questions: medium, three options.
fn right(ability: f64) -> f64 {
    1.0 / 3.0 + 2.0 / 3.0 / (1.0 + libm::exp(-ability))
}

#[test]
fn the_error_at_the_cut_and_a_moved_cut_are_binomial() {
    // Everybody is right with p = .6 on each of 20 questions: the standard error is that of the
    // binomial distribution but for the selection of pairs near the cut, which is independent of
    // their difference; a cut at 12 moved to 13 or 11 changes just those with 12 or 11 right.
    let ability = libm::log(0.4 / 0.6);
    assert!((right(ability) - 0.6).abs() < 1e-12);
    let made = made(theory(20), &all_alike(ability), &extent(150));
    let at = &made.closer.error_at_cut[0];
    assert_eq!(at.part, Part::Theory);
    let expected = (20.0 * 0.6 * 0.4_f64).sqrt();
    // Given its sum the difference is hypergeometric, 1.3 % wider at 24 of 40: 3 % are allowed.
    assert!(
        (at.error - expected).abs() < 4.0 * at.simulation_error + 0.03 * expected,
        "{at:?}"
    );
    for cut in made
        .closer
        .moved_cuts
        .iter()
        .filter(|cut| cut.what == "theory")
    {
        let just = if cut.by > 0 { 12 } else { 11 };
        let exact = binomial::upper_tail(just, 20, 0.6) - binomial::upper_tail(just + 1, 20, 0.6);
        let error = (exact * (1.0 - exact) / 3_000.0).sqrt();
        assert!((cut.changed - exact).abs() < 4.0 * error, "{cut:?} {exact}");
    }
}

#[test]
fn decisions_agree_with_livingston_and_lewis() {
    // Livingston and Lewis 1995 from the scores of one run and the reliability of two, against
    // what two runs and the true standings decide. The method fits a four-parameter beta to true
    // scores: 2 % are allowed for that beside four simulation errors.
    let (exam, sitting) = exam(theory(30), EACH);
    let marking = GraderMarking::new(&exam);
    let population = Population::default();
    let extent = Extent {
        scripts_per_ability: 200,
        ..extent(150)
    };
    let prepared = Prepared::new(&exam, &sitting);
    let simulated = sittings(&prepared, &seed(3), &population, &extent, &marking);
    let made = forecast(&exam, &sitting, &seed(3), &population, &extent, &marking);
    let totals: Vec<f64> = simulated
        .iter()
        .map(|one| one.first.marks.theory.unwrap().marks.as_f64())
        .collect();
    let reliability = made.scores[0].reliability.as_ref().unwrap().value;
    let by_formula = livingston_lewis(&totals, reliability, 0.0, 30.0, 18.0).unwrap();
    let n = simulated.len() as f64;
    let agree = simulated
        .iter()
        .filter(|one| {
            let pass = |marks| decide(&exam.plan.pass, marks).outcome == Outcome::Pass;
            pass(&one.first.marks) == pass(&one.second)
        })
        .count() as f64
        / n;
    let allowed = |share: f64| 0.02 + 4.0 * (share * (1.0 - share) / n).sqrt();
    let figures = &by_formula.decisions;
    assert!(
        (agree - figures.agreement).abs() < allowed(agree),
        "{agree} {figures:?}"
    );
    let wrong =
        made.decisions.wrong_passes.unwrap().share + made.decisions.wrong_fails.unwrap().share;
    assert!(
        (1.0 - wrong - figures.accuracy).abs() < allowed(wrong),
        "{wrong} {figures:?}"
    );
}

#[test]
fn mishaps_come_as_often_as_stated_and_change_no_answer() {
    let shape = Shape {
        questions: 6,
        samples: 2,
        candidates: 20,
    };
    let (exam, sitting) = exam(shape, EACH);
    let calm = Population::default();
    let rough = Population {
        mishaps: Mishaps {
            no_show: 0.2,
            broken_glass: 0.1,
            unreadable_sheet: 0.1,
        },
        ..calm
    };
    let one = simulate_answers(&exam, &sitting, &seed(5), &calm);
    let other = simulate_answers(&exam, &sitting, &seed(5), &rough);
    let emptied = one
        .iter()
        .zip(&other)
        .filter(|(a, b)| a.answer != b.answer)
        .count();
    assert!(emptied > 0);
    for (whole, harmed) in one.iter().zip(&other) {
        assert!(harmed.answer.is_empty() || harmed.answer == whole.answer);
    }
    let marking = GraderMarking::new(&exam);
    let prepared = Prepared::new(&exam, &sitting);
    let simulated = sittings(&prepared, &seed(5), &rough, &extent(100), &marking);
    let absent = simulated
        .iter()
        .filter(|one| !one.first.marks.answered_anything)
        .count();
    let (n, share) = (2_000.0_f64, absent as f64 / 2_000.0);
    // Sheet and both glasses lost at once, .001, is an absence too.
    assert!((share - 0.2008).abs() < 4.0 * (0.16 / n).sqrt(), "{share}");
}

#[test]
fn who_copies_a_neighbour_with_the_same_form_is_as_good_as_the_neighbour() {
    let made = made(theory(20), &Population::default(), &extent(100));
    let copier = made
        .guessers
        .iter()
        .find(|g| g.guesser == Guesser::Copier)
        .unwrap();
    let (_, share) = copier.mean_share[0];
    let score = &made.scores[0];
    let (mean, deviation) = (score.mean.unwrap() / 20.0, score.deviation.unwrap() / 20.0);
    // The seat is another and the letters are the same: the example has one form.
    assert!((share - mean).abs() < 4.0 * deviation * (1.0 / 600.0 + 1.0 / 2_000.0_f64).sqrt());
}

#[test]
fn fatigue_and_carry_over_lower_what_comes_later() {
    let shape = Shape {
        questions: 5,
        samples: 3,
        candidates: 20,
    };
    let mut tired = Population::default();
    tired.taster.fatigue = 1.0;
    let mean =
        |population: &Population| made(shape, population, &extent(20)).scores[1].mean.unwrap();
    assert!(mean(&tired) < mean(&Population::default()) - 1.0);
}

#[test]
fn simulating_stops_when_the_error_is_small_enough() {
    let stops = Extent {
        error_at_most: Some(0.01),
        ..extent(400)
    };
    let made = made(theory(20), &Population::default(), &stops);
    assert!(
        made.extent.sittings < 400 && made.extent.sittings.is_multiple_of(50),
        "{}",
        made.extent.sittings
    );
    assert!(made.scores[0].mean_error.unwrap() / 20.0 <= 0.01);
}

#[test]
fn stated_intervals_hold_as_often_as_they_say() {
    // 60 forecasts of a guesser's chance, by the binomial tail; 95 % intervals hold 57 on average,
    // and 50 or more in all but three cases of ten thousand.
    let exact = binomial::upper_tail(8, 12, 1.0 / 3.0);
    let (exam, sitting) = exam(theory(12), EACH);
    let marking = GraderMarking::new(&exam);
    let small = Extent {
        sittings: 2,
        guessers: 400,
        scripts_per_ability: 1,
        ..Extent::default()
    };
    let held = (0..60)
        .filter(|&number| {
            let population = Population::default();
            let made = forecast(
                &exam,
                &sitting,
                &seed(number),
                &population,
                &small,
                &marking,
            );
            let interval = made.guessers[0].passes.unwrap().interval;
            (interval.lower..=interval.upper).contains(&exact)
        })
        .count();
    assert!(held >= 50, "{held}");
}

#[test]
fn what_is_wanted_and_not_forecast_is_told() {
    let made = made(theory(12), &Population::default(), &extent(50));
    assert_eq!(not_met(&made, &Wanted::default()), [""; 0]);
    let wanted = Wanted {
        reliability: Some(0.99),
        guessers: Some(0.0),
        wrong: Some(0.0),
    };
    let missed = not_met(&made, &wanted);
    assert!(
        missed.len() >= 4 && missed[0].starts_with("Wanted: a reliability of 0.99; theory has"),
        "{missed:?}"
    );
    let easy = Wanted {
        reliability: Some(0.1),
        guessers: Some(1.0),
        wrong: Some(1.0),
    };
    assert_eq!(not_met(&made, &easy), [""; 0]);
}

#[test]
fn a_sitting_of_the_same_population_lies_where_it_was_forecast() {
    let shape = Shape {
        questions: 20,
        samples: 2,
        candidates: 20,
    };
    let (exam, sitting) = exam(shape, EACH);
    let marking = GraderMarking::new(&exam);
    let population = Population::default();
    let (mut inside, mut all, mut strange) = (0, 0, 0);
    for number in 20..32 {
        let answers = simulate_answers(&exam, &sitting, &seed(number), &population);
        let by_item = |candidate: usize, item: &grader::Item| {
            let number = &sitting.places[candidate].candidate;
            let found = answers
                .iter()
                .find(|a| a.candidate == *number && a.item == *item);
            found.unwrap().answer.clone()
        };
        let awards = awards(&exam, &sitting, by_item);
        let compare = |population: &Population| {
            against(
                &exam,
                &sitting,
                &awards,
                &seed(3),
                population,
                &extent(60),
                &marking,
            )
        };
        let made = compare(&population);
        assert_eq!((made.figures.len(), made.questions.len()), (5, 20));
        for line in made.figures.iter().chain(&made.questions) {
            all += 1;
            inside += usize::from(line.inside);
        }
        // A class that is far stronger than what was forecast is seen as such.
        let weak = compare(&Population {
            theory_mean: -3.0,
            ..population
        });
        strange += usize::from(!weak.figures[0].inside);
    }
    // Nine in ten, more where shares of few people fall on the ends of an interval.
    let share = f64::from(inside as u32) / f64::from(all);
    assert!((0.84..=1.0).contains(&share), "{share}");
    assert_eq!(strange, 12);
}

#[test]
fn the_study_of_the_parts_agrees_with_two_runs_and_with_simulated_longer_parts() {
    // The coefficient of a crossed design with one mark a cell is alpha (Brennan 2001), and alpha
    // of parallel questions is the correlation of two parallel papers; so the study at the present
    // length must give what two runs gave, and at another length what two runs of that length give.
    let both = |questions, samples| Shape {
        questions,
        samples,
        candidates: 20,
    };
    let now = made(both(20, 2), &Population::default(), &extent(100));
    let longer = made(both(30, 3), &Population::default(), &extent(100));
    let two_runs = |forecast: &Forecast, place: usize| {
        forecast.scores[place].reliability.as_ref().unwrap().value
    };
    let step = |part, more| {
        let found = now
            .closer
            .longer
            .iter()
            .find(|l| l.part == part && l.more == more);
        found.unwrap().clone()
    };
    for (place, part, more) in [(0, Part::Theory, 10), (1, Part::Tasting, 1)] {
        let here = step(part, 0);
        // Three standard errors of a correlation of 2,000 pairs, and the study's own.
        let error = here.simulation_error.unwrap();
        assert!(error > 0.0 && error < 0.05, "{error}");
        let apart = (here.reliability - two_runs(&now, place)).abs();
        assert!(
            apart < 0.06,
            "{part}: {} {}",
            here.reliability,
            two_runs(&now, place)
        );
        let then = step(part, more);
        // The example's samples are not quite alike, so a third may be easier or harder.
        let apart = (then.reliability - two_runs(&longer, place)).abs();
        assert!(
            apart < 0.1,
            "{part}: {} {}",
            then.reliability,
            two_runs(&longer, place)
        );
        assert!(then.reliability > here.reliability);
        assert!(then.error_of_share.unwrap() < here.error_of_share.unwrap());
    }
}

#[test]
fn one_sample_has_a_study_by_its_two_runs_and_says_nothing_of_others() {
    let shape = Shape {
        questions: 0,
        samples: 1,
        candidates: 20,
    };
    let made = made(shape, &Population::default(), &extent(100));
    let here = &made.closer.longer[0];
    assert_eq!((here.part, here.now, here.more), (Part::Tasting, 1, 0));
    assert_eq!(here.error_of_share, None);
    let two_runs = made.scores[0].reliability.as_ref().unwrap().value;
    assert!(
        (here.reliability - two_runs).abs() < 0.02,
        "{} {two_runs}",
        here.reliability
    );
    assert!(
        made.verdict[1].starts_with("With one blind sample the tasting part"),
        "{}",
        made.verdict[1]
    );
}

#[test]
fn what_is_not_known_of_questions_moves_whole_sittings_and_no_reliability() {
    let with = |question_doubt| {
        made(
            theory(30),
            &Population {
                question_doubt,
                ..Population::default()
            },
            &extent(120),
        )
    };
    let (known, doubtful) = (with(0.0), with(1.0));
    let figure = |made: &Forecast| {
        let score = &made.scores[0];
        (
            *score.mean_error.as_ref().unwrap(),
            score.reliability.as_ref().unwrap().value,
        )
    };
    let ((known_error, known_r), (doubtful_error, doubtful_r)) =
        (figure(&known), figure(&doubtful));
    // Thirty medium questions, each moved by 0.7: at ability 0.5 a question's chance changes by
    // 2/3 × 0.235 for one unit, so a sitting's mean by about 0.7 × 0.157 × √30 = 0.6 marks, beside
    // the 5 / √20 = 1.1 that twenty candidates make.
    let expected = (1.0_f64 + 0.6 * 0.6 / (1.1 * 1.1)).sqrt();
    let ratio = doubtful_error / known_error;
    assert!((ratio / expected - 1.0).abs() < 0.15, "{ratio} {expected}");
    assert!(
        (known_r - doubtful_r).abs() < 0.04,
        "{known_r} {doubtful_r}"
    );
}

#[test]
fn tasters_without_words_and_with_dull_noses_earn_less() {
    let shape = Shape {
        questions: 0,
        samples: 2,
        candidates: 20,
    };
    let mean = |taster: Taster| {
        let population = Population {
            taster,
            ..Population::default()
        };
        let made = made(shape, &population, &extent(60));
        *made.scores[0].mean.as_ref().unwrap()
    };
    let usual = mean(Taster::default());
    let without_words = mean(Taster {
        vocabulary: 0.3,
        ..Taster::default()
    });
    let dull = mean(Taster {
        middle_weight: 0.95,
        ..Taster::default()
    });
    assert!(
        without_words < usual - 0.3 && dull < usual - 0.3,
        "{usual} {without_words} {dull}"
    );
}
