//! Tests of a class beside the panel, on the small invented exam.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::collections::BTreeMap;

use base::CandidateNumber;
use exam_plan::class_plan::{ClassPlan, GlassNotes, LearnerNotes, Noted};
use exam_plan::plan::{Join, Paper};
use exam_plan::{Class, Plan};

use super::*;
use crate::example::{Shape, exam};

/// The class of the first two samples of the example: the panel noted everything on the nose.
fn class() -> Class {
    let shape = Shape {
        questions: 0,
        samples: 3,
        candidates: 1,
    };
    let join = Join::Conjunctive {
        theory: 600,
        tasting: 600,
    };
    let (exam, _) = exam(shape, join);
    let Plan { tasting, .. } = exam.plan;
    let part = tasting.unwrap();
    Class {
        plan: ClassPlan {
            title: "First evening".to_owned(),
            school: None,
            date: "2027-01-21".to_owned(),
            start: None,
            bank: "bank".to_owned(),
            paper: Paper::A4,
            samples: part.samples,
            pour: part.pour,
            learners: Some(3),
        },
        bank: exam.bank,
        own_samples: exam.own_samples,
        roster: None,
    }
}

fn glass(words: &[(Noted, &str)], ratings: &[(Noted, f64)]) -> GlassNotes {
    GlassNotes {
        words: words.iter().map(|(n, w)| (*n, (*w).to_owned())).collect(),
        ratings: ratings.iter().copied().collect::<BTreeMap<_, _>>(),
    }
}

fn learner(number: &str, first: GlassNotes) -> LearnerNotes {
    LearnerNotes {
        learner: CandidateNumber::parse(number).unwrap(),
        name: String::new(),
        glasses: vec![first, GlassNotes::default(), GlassNotes::default()],
    }
}

#[test]
fn each_word_stands_to_the_panel_as_its_notes_say() {
    // The panel of six on sample 0: banana 6, molasses 5, oak 4, vanilla 4, toffee 3, clove 3.
    let notes = glass(
        &[
            (Noted::Nose, "bananas, coconut, no tar, juniper, hay"),
            (Noted::Palate, "banana; lamp oil"),
        ],
        &[(Noted::Quality, 6.0), (Noted::Liking, 2.0)],
    );
    let made = class_beside_panel(&class(), &[learner("L-1", notes)]);
    let glass = &made.learners[0].glasses[0];
    let standings: Vec<Vec<&Standing>> = glass
        .stages
        .iter()
        .map(|stage| stage.words.iter().map(|word| &word.standing).collect())
        .collect();
    assert_eq!(
        standings[0],
        [
            &Standing::Same { cited_by: 6 },
            &Standing::Near {
                panels: "oak".to_owned()
            },
            &Standing::Denied,
            &Standing::Contradicts,
            &Standing::NotFound,
        ]
    );
    assert_eq!(
        standings[1][0],
        &Standing::OtherStage {
            stage: "nose",
            cited_by: 6
        }
    );
    assert!(matches!(standings[1][1], Standing::Unknown { .. }));
    assert_eq!(made.unknown[0].written, "lamp oil");
    assert_eq!(made.unknown[0].learners, ["L-1"]);
    // Oak, vanilla and clove are of coconut's group; molasses and toffee are missed.
    assert_eq!(
        glass.sentence,
        "You wrote 1 of the panel’s 6 main words; 3 more are near yours."
    );
    assert_eq!(glass.stages[0].besides[0], "molasses (5 of 6)");
}

#[test]
fn quality_stands_beside_the_panel_and_liking_beside_nothing() {
    let with = |liking: f64| {
        let notes = glass(
            &[(Noted::Nose, "banana")],
            &[(Noted::Quality, 6.0), (Noted::Liking, liking)],
        );
        class_beside_panel(&class(), &[learner("L-1", notes)])
    };
    let (mild, strong) = (with(1.0), with(9.0));
    let ratings = &mild.learners[0].glasses[0].ratings;
    assert_eq!(ratings.len(), 1);
    assert_eq!(ratings[0].panels, Some(7.0));
    assert_eq!(
        ratings[0].beside,
        "the panel 7.0 on average, from 7 to 7 (n = 6)"
    );
    // Whatever the liking, all that is compared is the same.
    assert_eq!(mild.samples, strong.samples);
    assert_eq!(
        mild.learners[0].glasses[0].sentence,
        strong.learners[0].glasses[0].sentence
    );
    assert_eq!(mild.learners[0].glasses[0].liking, Some(1.0));
    let names: Vec<_> = mild.samples[0].ratings.iter().map(|r| r.what).collect();
    assert_eq!(names, ["Quality"]);
}

#[test]
fn nothing_that_is_compared_is_a_mark() {
    let notes = glass(&[(Noted::Nose, "banana")], &[(Noted::Quality, 6.0)]);
    let made = class_beside_panel(&class(), &[learner("L-1", notes)]);
    let told = format!("{made:?}").to_lowercase();
    assert!(
        !told.contains("marks") && !told.contains("points"),
        "{told}"
    );
}

#[test]
fn the_class_is_counted_over_those_who_noted_something() {
    let wrote = |number: &str, words: &str| learner(number, glass(&[(Noted::Nose, words)], &[]));
    let made = class_beside_panel(
        &class(),
        &[
            wrote("L-1", "banana, hay"),
            wrote("L-2", "banana; hay; banana"),
            wrote("L-3", "no banana"),
            learner("L-4", GlassNotes::default()),
        ],
    );
    let sample = &made.samples[0];
    assert_eq!(
        (sample.learners, made.silent.as_slice()),
        (3, &["L-4".to_owned()][..])
    );
    let banana = &sample.words[0];
    assert_eq!((banana.class.successes, banana.class.n), (2, 3));
    assert_eq!((banana.panel.successes, banana.panel.n), (6, 6));
    let hay = sample.words.last().unwrap();
    assert_eq!((hay.word.as_str(), hay.weight), ("hay", None));
    assert_eq!(
        sample.sentence,
        "Class and panel meet most in banana (2 of 3 learners, 6 of 6 assessors). Most missed: \
         molasses (0 of 3 learners, 5 of 6 assessors). The class alone has hay (2 of 3 learners, 0 \
         of 6 assessors)."
    );
    assert_eq!(made.samples[1].sentence, "No notes came in on this sample.");
}
