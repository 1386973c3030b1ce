//! What befalls tasters and sheets, each by itself, and how often stated intervals hold.
#![allow(clippy::unwrap_used)]

use assembler::Sitting;
use base::{ExamSeed, NodeId, SampleId};
use exam_plan::plan::Join;
use exam_plan::{Asked, Exam};
use grader::Item;
use question_bank::sample_record::CarryOver;

use crate::example::{Shape, exam};
use crate::rehearsal::forecast::{Simulated, sittings};
use crate::rehearsal::prepared::Prepared;
use crate::rehearsal::{
    Extent, Forecast, GraderMarking, Mishaps, Population, Taster, forecast, simulate_answers,
};

const EACH: Join = Join::Conjunctive {
    theory: 600,
    tasting: 500,
};

fn seed(number: u8) -> ExamSeed {
    ExamSeed::from_bytes([number; 32])
}

fn flight() -> (Exam, Sitting) {
    let shape = Shape {
        questions: 0,
        samples: 3,
        candidates: 20,
    };
    exam(shape, EACH)
}

fn scripts(exam: &Exam, sitting: &Sitting, population: &Population) -> Vec<Simulated> {
    let extent = Extent {
        sittings: 60,
        ..Extent::default()
    };
    let prepared = Prepared::new(exam, sitting);
    let marking = GraderMarking::new(exam);
    sittings(&prepared, &seed(11), population, &extent, &marking)
}

/// Marks of the glasses at each place of the flight.
fn by_glass(simulated: &[Simulated]) -> [Vec<f64>; 3] {
    [0, 1, 2].map(|glass| {
        let all = simulated.iter();
        all.map(|one| one.first.glasses[glass]).collect()
    })
}

fn mean(marks: &[f64]) -> f64 {
    marks.iter().sum::<f64>() / marks.len() as f64
}

fn tasters(taster: Taster) -> Population {
    Population {
        taster,
        ..Population::default()
    }
}

#[test]
fn a_heavy_sample_dulls_the_glass_right_after_it_and_no_glass_before() {
    let (mut exam, sitting) = flight();
    let carried = tasters(Taster {
        carry_over: 2.0,
        ..Taster::default()
    });
    // Nothing heavy is poured: nothing is carried over.
    let usual = by_glass(&scripts(&exam, &sitting, &Population::default()));
    assert_eq!(by_glass(&scripts(&exam, &sitting, &carried)), usual);
    // The second glass is heavy: the first two stay, the third loses.
    let id = SampleId::parse("sample-1").unwrap();
    exam.bank.samples.get_mut(&id).unwrap().carry_over = CarryOver::Heavy;
    assert_eq!(
        by_glass(&scripts(&exam, &sitting, &Population::default())),
        usual
    );
    let dulled = by_glass(&scripts(&exam, &sitting, &carried));
    assert_eq!(dulled[..2], usual[..2]);
    assert!(mean(&dulled[2]) < mean(&usual[2]) - 1.0);
}

#[test]
fn fatigue_takes_more_from_each_further_glass_and_nothing_from_the_first() {
    let (exam, sitting) = flight();
    let tired = tasters(Taster {
        fatigue: 0.8,
        ..Taster::default()
    });
    let [fresh, tired] = [Population::default(), tired].map(|population| {
        let marks = by_glass(&scripts(&exam, &sitting, &population));
        (mean(&marks[1]), mean(&marks[2]), marks)
    });
    assert_eq!(fresh.2[0], tired.2[0]);
    let (second, third) = (fresh.0 - tired.0, fresh.1 - tired.1);
    assert!(second > 0.5 && third > second, "{second} {third}");
}

#[test]
fn who_knows_no_category_is_led_by_the_nearest_colour_as_often_as_stated() {
    let (mut exam, sitting) = flight();
    let colours = [("pale", 1, "juice-rum"), ("amber", 5, "malt")];
    for (name, colour, category) in colours {
        let id = SampleId::parse("sample-0").unwrap();
        let mut record = exam.bank.samples[&id].clone();
        record.id = SampleId::parse(name).unwrap();
        record.colour = Some(colour);
        record.category = NodeId::parse(category).unwrap();
        exam.bank.samples.insert(record.id.clone(), record);
    }
    let named = |colour_led: f64, number: u8| {
        let population = Population {
            tasting_mean: -40.0,
            tasting_deviation: 1e-9,
            ..tasters(Taster {
                colour_led,
                ..Taster::default()
            })
        };
        let answers = simulate_answers(&exam, &sitting, &seed(number), &population);
        let categories = answers.into_iter().filter_map(|one| match one.item {
            Item::Tasting { asked, .. } if asked == Asked::Category.name() => Some(one.answer),
            _ => None,
        });
        categories.collect::<Vec<String>>()
    };
    // The glasses are of colour 6: malt of colour 5 comes nearest, and nobody knows better.
    let led = named(1.0, 1);
    assert_eq!(led.len(), 60);
    assert!(led.iter().all(|name| name == "Malt whisky"), "{led:?}");
    let share = |colour_led| {
        let all: Vec<String> = (1..=20).flat_map(|n| named(colour_led, n)).collect();
        let malts = all.iter().filter(|name| *name == "Malt whisky").count();
        malts as f64 / all.len() as f64
    };
    // Who is not led names malt as often as anybody who guesses.
    let (guessed, half) = (share(0.0), share(0.5));
    let expected = 0.5 + 0.5 * guessed;
    assert!((half - expected).abs() < 4.0 * (0.25_f64 / 600.0).sqrt());
    assert!(guessed < 0.6, "{guessed}");
}

#[test]
fn a_sheet_that_cannot_be_read_loses_the_theory_and_no_glass() {
    let shape = Shape {
        questions: 8,
        samples: 3,
        candidates: 20,
    };
    let (exam, sitting) = exam(shape, EACH);
    let whole = scripts(&exam, &sitting, &Population::default());
    let population = Population {
        mishaps: Mishaps {
            unreadable_sheet: 0.25,
            ..Mishaps::default()
        },
        ..Population::default()
    };
    let harmed = scripts(&exam, &sitting, &population);
    let mut lost = 0;
    for (before, after) in whole.iter().zip(&harmed) {
        assert_eq!(before.first.glasses, after.first.glasses);
        if after.whole {
            assert_eq!(before.first, after.first);
        } else {
            lost += 1;
            assert!(after.first.questions.iter().all(|marks| *marks == 0.0));
        }
    }
    let (n, share) = (harmed.len() as f64, f64::from(lost) / harmed.len() as f64);
    assert!((share - 0.25).abs() < 4.0 * (0.25 * 0.75 / n).sqrt());
}

#[test]
fn stated_errors_of_reliability_and_mean_hold_as_often_as_they_say() {
    let shape = Shape {
        questions: 20,
        samples: 0,
        candidates: 20,
    };
    let (exam, sitting) = exam(shape, EACH);
    let marking = GraderMarking::new(&exam);
    let made = |number: u8, sittings: u32| -> Forecast {
        let extent = Extent {
            sittings,
            guessers: 2,
            scripts_per_ability: 1,
            ..Extent::default()
        };
        let population = Population::default();
        forecast(
            &exam,
            &sitting,
            &seed(number),
            &population,
            &extent,
            &marking,
        )
    };
    let long = made(200, 1_000);
    let truth = long.scores[0].reliability.as_ref().unwrap().value;
    let true_mean = long.scores[0].mean.unwrap();
    // Of 60 intervals of 95 % each 57 hold on average, 50 or more in all but three cases of ten
    // thousand; 1.96 standard errors of the mean likewise.
    let (mut held, mut means) = (0, 0);
    for number in 0..60 {
        let short = made(number, 10);
        let score = &short.scores[0];
        let interval = score.reliability.as_ref().unwrap().interval.unwrap();
        held += usize::from((interval.lower..=interval.upper).contains(&truth));
        let off = (score.mean.unwrap() - true_mean).abs();
        means += usize::from(off <= 1.96 * score.mean_error.unwrap());
    }
    assert!(held >= 50 && means >= 50, "{held} {means}");
}
