//! Forms drawn near the best, against their plan and against the draw by lot.

use assembler::form_report::forms_beside;
use assembler::{assemble, form_verify};
use base::{Place, SourceName};
use exam_plan::plan::{Draw, InformationTarget, NearBest, UsedLately};
use question_bank::calibration::Curve;
use question_bank::{Bank, Calibration, ReviewState};

use crate::synthetic::*;
use crate::verifier::breaches;

fn near() -> NearBest {
    NearBest::plain(None)
}

fn lately(at_most: u32) -> UsedLately {
    UsedLately {
        since: "2026-06-01".to_owned(),
        at_most,
    }
}

/// Gives every question parameters by its number, seconds and a last day.
fn calibrate(bank: &mut Bank) {
    let ids: Vec<_> = bank.questions.keys().cloned().collect();
    for (number, id) in ids.into_iter().enumerate() {
        let step = (number * 37 % 100) as f64 / 100.0;
        let calibration = Calibration {
            place: Place::whole(&SourceName::new("calibration.csv")),
            curve: Some(Curve {
                discrimination: 0.7 + step,
                difficulty: (number * 53 % 100) as f64 / 25.0 - 2.0,
                guessing: 0.2,
            }),
            share: None,
            seconds: Some(50 + (number * 17 % 60) as u32),
            last_used: (number % 3 == 0).then(|| "2026-09-01".to_owned()),
            sittings: Some((number % 5) as u32 + 1),
        };
        bank.calibration.insert(id, calibration);
    }
}

#[test]
fn forms_keep_plan_and_clauses_and_come_near_their_targets() {
    let mut bank = bank(&[60, 50, 40]);
    for number in 0..6 {
        add(&mut bank, question(0, 100 + number, ReviewState::Pretest));
    }
    calibrate(&mut bank);
    make_enemies(&mut bank, &question_id(0, 1), &question_id(1, 2));
    let mut part = theory(3, &[10, 8, 6], Some(6));
    part.pretest = 2;
    part.minutes = 36;
    let anchors = [question_id(0, 3), question_id(1, 5)];
    let mut asked = NearBest {
        words: Some(200),
        used_lately: vec![lately(6)],
        same_letter: Some(2),
        anchors: anchors.iter().map(|id| (id.clone(), place(30))).collect(),
        ..near()
    };
    for target in [
        Vec::new(),
        vec![InformationTarget {
            place: place(12),
            ability: 0.0,
            information: 5.0,
        }],
    ] {
        asked.target = target;
        part.draw = Draw::NearBest(Box::new(asked.clone()));
        let exam = exam(
            bank.clone(),
            Some(part.clone()),
            None,
            roster(6, 0),
            room(&[6], &[]),
        );
        let sitting = assemble(&exam, &seed(4)).unwrap();
        assert_eq!(breaches(&exam, &sitting), [""; 0]);
        let forms: Vec<_> = sitting
            .forms
            .iter()
            .map(|form| assembler::form_draw::DrawnForm {
                counted: ids(form, true),
                pretest: ids(form, false),
            })
            .collect();
        assert_eq!(form_verify::breaches(&bank, &part, &asked, &forms), [""; 0]);
        let beside = forms_beside(&bank, &exam.plan, &sitting.forms).unwrap();
        let near = beside.nearness.unwrap();
        let bound = near.bound.unwrap();
        assert!(near.in_per_cent_of_target);
        assert!(near.deviation >= bound - 1e-6, "{} {bound}", near.deviation);
        assert!(near.deviation - bound < 0.5, "{} {bound}", near.deviation);
        assert!(
            beside.largest_difference < 0.2,
            "{}",
            beside.largest_difference
        );
        assert_eq!(beside.known_from[1..], [0, 0]);
    }
}

fn ids(form: &assembler::Form, counted: bool) -> Vec<base::QuestionId> {
    let on = form.questions.iter().filter(|q| q.counts == counted);
    on.map(|q| q.question.clone()).collect()
}

#[test]
fn a_verifier_sees_every_clause() {
    let mut bank = bank(&[30]);
    calibrate(&mut bank);
    let mut part = theory(2, &[6], Some(2));
    part.minutes = 600;
    let names: Vec<_> = bank.questions.keys().cloned().collect();
    let form = |numbers: &[usize]| assembler::form_draw::DrawnForm {
        counted: numbers.iter().map(|&n| names[n].clone()).collect(),
        pretest: Vec::new(),
    };
    let sound = [form(&[0, 1, 2, 3, 4, 5]), form(&[4, 5, 6, 7, 8, 9])];
    let see = |bank: &Bank, part: &exam_plan::plan::TheoryPart, near: &NearBest, forms: &[_]| {
        form_verify::breaches(bank, part, near, forms).len()
    };
    assert_eq!(see(&bank, &part, &near(), &sound), 0);
    assert_eq!(see(&bank, &part, &near(), &[form(&[0, 1, 2, 3, 4, 5])]), 1);
    let too_alike = [form(&[0, 1, 2, 3, 4, 5]), form(&[3, 4, 5, 6, 7, 8])];
    assert_eq!(see(&bank, &part, &near(), &too_alike), 1);
    let twice = [form(&[0, 0, 2, 3, 4, 5]), form(&[6, 7, 8, 9, 10, 11])];
    assert!(see(&bank, &part, &near(), &twice) > 0);
    for asked in [
        NearBest {
            words: Some(10),
            ..near()
        },
        NearBest {
            used_lately: vec![lately(0)],
            ..near()
        },
        NearBest {
            same_letter: Some(0),
            ..near()
        },
        NearBest {
            anchors: vec![(names[20].clone(), place(9))],
            ..near()
        },
    ] {
        assert!(see(&bank, &part, &asked, &sound) > 0, "{asked:?}");
    }
    part.minutes = 1;
    assert_eq!(see(&bank, &part, &near(), &sound), 2);
    part.minutes = 600;
    make_enemies(&mut bank, &names[0], &names[1]);
    assert_eq!(see(&bank, &part, &near(), &sound), 2);
}

#[test]
fn without_figures_forms_are_level_by_the_authors_guess() {
    let mut part = theory(3, &[10, 8], Some(8));
    part.draw = Draw::NearBest(Box::new(near()));
    let exam = exam(
        bank(&[30, 24]),
        Some(part),
        None,
        roster(6, 0),
        room(&[6], &[]),
    );
    let sitting = assemble(&exam, &seed(1)).unwrap();
    assert_eq!(breaches(&exam, &sitting), [""; 0]);
    let beside = forms_beside(&exam.bank, &exam.plan, &sitting.forms).unwrap();
    assert!(
        beside.largest_difference < 0.2,
        "{}",
        beside.largest_difference
    );
    assert_eq!(beside.known_from[..2], [0, 0]);
    assert!(beside.uncertainty > 0.1 && beside.uncertainty < 3.0);
    assert_eq!(sitting, assemble(&exam, &seed(1)).unwrap());
    assert_ne!(sitting.forms, assemble(&exam, &seed(2)).unwrap().forms);
}

#[test]
fn what_cannot_be_is_told_with_its_place() {
    let told = |asked: NearBest, overlap| {
        let mut bank = bank(&[12]);
        calibrate(&mut bank);
        make_enemies(&mut bank, &question_id(0, 1), &question_id(0, 2));
        let mut part = theory(2, &[4], overlap);
        part.draw = Draw::NearBest(Box::new(asked));
        let exam = exam(bank, Some(part), None, roster(2, 0), room(&[2], &[]));
        let faults = assemble(&exam, &seed(1)).unwrap_err();
        assert!(
            faults.iter().all(|fault| fault.place.is_some()),
            "{faults:?}"
        );
        faults
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n")
    };
    let anchors = |names: &[usize]| NearBest {
        anchors: names
            .iter()
            .map(|&n| (question_id(0, n), place(30)))
            .collect(),
        ..near()
    };
    let enemies = told(anchors(&[1, 2]), Some(4));
    assert!(
        enemies.starts_with("plan.yaml:30:5: the anchors"),
        "{enemies}"
    );
    assert!(told(anchors(&[99]), Some(4)).contains("cannot stand on a form"));
    assert!(told(anchors(&[1, 3]), Some(1)).contains("2 anchors stand on every form"));
    let words = told(
        NearBest {
            words: Some(3),
            ..near()
        },
        None,
    );
    assert!(words.contains("at most 3 words to read"), "{words}");
    assert!(words.contains("allow "), "{words}");
}
