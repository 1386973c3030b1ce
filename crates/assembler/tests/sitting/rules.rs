//! Ranges, sets, links and bounds of a draw, both ways of drawing, seen by two verifiers.

use std::collections::BTreeMap;
use std::sync::Arc;

use assembler::form_draw::DrawnForm;
use assembler::{assemble, form_verify, targets_out_of_reach};
use base::{Purpose, SetId, Stream};
use exam_plan::Exam;
use exam_plan::plan::{
    Draw, HowMany, InformationTarget, NearBest, TheoryPart, UsedLately, UsedOften, Wanted,
};
use question_bank::picture::Picture;
use question_bank::question::Level;
use question_bank::{Bank, Calibration, InSet, QuestionSet, ReviewState};

use crate::synthetic::*;
use crate::verifier::breaches;

fn rules() -> NearBest {
    NearBest::plain(Some(place(20)))
}

/// Both ways of drawing within rules.
fn both(rules: &NearBest) -> [Draw; 2] {
    [
        Draw::ByLotWithin(Box::new(rules.clone())),
        Draw::NearBest(Box::new(rules.clone())),
    ]
}

fn range(least: u32, most: u32) -> Wanted {
    Wanted::AnyLevel(HowMany::between(least, most).unwrap())
}

/// Puts questions of a cell into a set, in this order.
fn make_set(
    bank: &mut Bank,
    name: &str,
    in_cell: usize,
    numbers: &[usize],
    bounds: (u32, Option<u32>),
) {
    let line = 500 + u32::try_from(numbers[0]).unwrap() + 100 * u32::try_from(in_cell).unwrap();
    let set = Arc::new(QuestionSet {
        id: SetId::parse(name).unwrap(),
        place: place(line),
        text: "A cask of 250 litres leaks for a year.".to_owned(),
        at_least: bounds.0,
        at_most: bounds.1,
        translations: BTreeMap::new(),
    });
    for (place, &number) in numbers.iter().enumerate() {
        let question = bank
            .questions
            .get_mut(&question_id(in_cell, number))
            .unwrap();
        question.set = Some(InSet {
            set: Arc::clone(&set),
            place,
        });
    }
}

fn calibrated(bank: &mut Bank, number: usize, id: &base::QuestionId) {
    let known = Calibration {
        place: place(1),
        curve: None,
        share: None,
        seconds: None,
        last_used: number.is_multiple_of(3).then(|| "2026-09-01".to_owned()),
        sittings: Some(u32::try_from(number % 5).unwrap() + 1),
    };
    bank.calibration.insert(id.clone(), known);
}

fn exam_of(bank: Bank, theory: TheoryPart) -> Exam {
    exam(bank, Some(theory), None, roster(6, 0), room(&[6], &[]))
}

fn drawn(sitting: &assembler::Sitting) -> Vec<DrawnForm> {
    let ids = |form: &assembler::Form, counted: bool| {
        let on = form.questions.iter().filter(|q| q.counts == counted);
        on.map(|q| q.question.clone()).collect()
    };
    let one = |form: &assembler::Form| DrawnForm {
        counted: ids(form, true),
        pretest: ids(form, false),
    };
    sitting.forms.iter().map(one).collect()
}

/// Sets of a printed form, each question's place in its set in printed order; a fault where they do
/// not stand together.
fn together(bank: &Bank, form: &assembler::Form) -> BTreeMap<String, Vec<usize>> {
    let mut found: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    let mut before = None;
    for on_form in &form.questions {
        let of = bank.questions[&on_form.question].set.as_ref();
        let name = of.map(|of| of.set.id.to_string());
        if let (Some(of), Some(name)) = (of, &name) {
            let known = found.entry(name.clone()).or_default();
            assert!(
                known.is_empty() || before.as_ref() == Some(name),
                "{name} is parted"
            );
            known.push(of.place);
        }
        before = name;
    }
    found
}

#[test]
fn random_plans_with_ranges_sets_and_bounds_are_kept_or_explained() {
    let (mut kept, mut refused, mut with_sets) = (0, 0, 0);
    for number in 0..24_u8 {
        let mut stream = Stream::new(&seed(77), Purpose::Practice, u64::from(number));
        let mut bank = bank(&[24, 18, 14]);
        make_set(&mut bank, "leak", 0, &[1, 4, 7, 9], (2, Some(3)));
        make_set(&mut bank, "blend", 0, &[12, 13, 15], (3, None));
        make_set(&mut bank, "tax", 1, &[2, 3], (2, None));
        let ids: Vec<_> = bank.questions.keys().cloned().collect();
        for (place, id) in ids.iter().enumerate() {
            calibrated(&mut bank, place, id);
            let question = bank.questions.get_mut(id).unwrap();
            if place % 4 == 0 {
                question.picture = Some(Box::new(Picture {
                    file: "still.svg".to_owned(),
                    alternative: "A still".into(),
                }));
            }
        }
        make_enemies(&mut bank, &question_id(0, 2), &question_id(0, 4));
        let forms = 1 + u32::try_from(stream.index(3)).unwrap();
        let mut part = theory(forms, &[5, 4, 3], Some(6));
        part.cells[0].wanted = range(3, 8);
        part.cells[1].wanted = Wanted::ByLevel(BTreeMap::from([
            (Level::Recall, HowMany::between(1, 3).unwrap()),
            (Level::Application, HowMany::exactly(2)),
        ]));
        part.questions = 9 + u32::try_from(stream.index(6)).unwrap();
        let asked = NearBest {
            pictures: Some(1 + u32::try_from(stream.index(4)).unwrap()),
            used_lately: vec![UsedLately {
                since: "2026-06-01".to_owned(),
                at_most: 2 + u32::try_from(stream.index(4)).unwrap(),
            }],
            used_often: Some(UsedOften {
                sittings: 4,
                at_most: 2 + u32::try_from(stream.index(4)).unwrap(),
            }),
            words: Some(90 + u32::try_from(stream.index(80)).unwrap()),
            links: vec![(question_id(0, 20), place(31))],
            ..rules()
        };
        for draw in both(&asked) {
            part.draw = draw;
            let exam = exam_of(bank.clone(), part.clone());
            match assemble(&exam, &seed(number)) {
                Ok(sitting) => {
                    kept += 1;
                    assert_eq!(breaches(&exam, &sitting), [""; 0]);
                    let forms = drawn(&sitting);
                    assert_eq!(form_verify::breaches(&bank, &part, &asked, &forms), [""; 0]);
                    for form in &sitting.forms {
                        for places in together(&bank, form).values() {
                            with_sets += 1;
                            assert!(places.is_sorted(), "{places:?}");
                        }
                    }
                    assert_eq!(sitting, assemble(&exam, &seed(number)).unwrap());
                }
                Err(faults) => {
                    refused += 1;
                    assert!(faults.iter().all(|f| f.place.is_some()), "{faults:?}");
                }
            }
        }
    }
    assert!(
        kept >= 24 && with_sets >= 20,
        "{kept} {refused} {with_sets}"
    );
}

#[test]
fn plain_plans_with_sets_are_drawn_by_lot_with_their_sets_whole() {
    let mut bank = bank(&[12]);
    make_set(&mut bank, "leak", 0, &[3, 1, 8], (3, None));
    let exam = exam_of(bank.clone(), theory(2, &[6], None));
    let mut stood = 0;
    for number in 0..40 {
        let sitting = assemble(&exam, &seed(number)).unwrap();
        assert_eq!(breaches(&exam, &sitting), [""; 0]);
        for form in &sitting.forms {
            if let Some(places) = together(&bank, form).get("leak") {
                stood += 1;
                assert_eq!(places, &[0, 1, 2], "as the bank has them");
            }
        }
    }
    // Half of the questions stand on each form, so the set should on about half of 80.
    assert!((20..=60).contains(&stood), "{stood}");
    let printed = assembler::printed_questions(
        &bank,
        assemble(&exam, &seed(1))
            .unwrap()
            .forms
            .iter()
            .find(|form| !together(&bank, form).is_empty())
            .unwrap(),
    );
    let shared: Vec<_> = printed.iter().filter(|q| q.shared.is_some()).collect();
    assert_eq!(shared.len(), 1, "the text is printed once");
    assert_eq!(
        shared[0].shared.as_ref().unwrap().last,
        shared[0].number + 2
    );
}

#[test]
fn a_link_stands_on_every_form_and_never_counts() {
    let asked = NearBest {
        links: vec![
            (question_id(0, 5), place(31)),
            (question_id(1, 1), place(32)),
        ],
        ..rules()
    };
    for draw in both(&asked) {
        let mut part = theory(3, &[5, 4], Some(4));
        part.draw = draw;
        part.pretest = 1;
        let mut bank = bank(&[20, 14]);
        add(&mut bank, question(1, 90, ReviewState::Pretest));
        make_enemies(&mut bank, &question_id(0, 5), &question_id(0, 6));
        let exam = exam_of(bank, part);
        for number in 0..5 {
            let sitting = assemble(&exam, &seed(number)).unwrap();
            assert_eq!(breaches(&exam, &sitting), [""; 0]);
            for form in &sitting.forms {
                assert_eq!(form.questions.len(), 12);
                for link in [question_id(0, 5), question_id(1, 1)] {
                    let on = form.questions.iter().find(|q| q.question == link).unwrap();
                    assert!(!on.counts);
                }
            }
        }
    }
    let told = |links: Vec<(base::QuestionId, base::Place)>, anchors| {
        let mut part = theory(2, &[4], None);
        part.draw = Draw::NearBest(Box::new(NearBest {
            links,
            anchors,
            ..rules()
        }));
        let mut bank = bank(&[12]);
        make_enemies(&mut bank, &question_id(0, 1), &question_id(0, 2));
        let faults = assemble(&exam_of(bank, part), &seed(1)).unwrap_err();
        faults
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n")
    };
    let nobody = told(vec![(question_id(0, 99), place(31))], Vec::new());
    assert!(nobody.starts_with("plan.yaml:31:5:"), "{nobody}");
    assert!(nobody.contains("cannot stand on a form"), "{nobody}");
    let enemies = told(
        vec![(question_id(0, 1), place(31))],
        vec![(question_id(0, 2), place(32))],
    );
    assert!(enemies.contains("are enemies"), "{enemies}");
}

#[test]
fn a_verifier_sees_every_rule() {
    let mut bank = bank(&[30]);
    make_set(&mut bank, "leak", 0, &[0, 1, 2, 20], (2, Some(3)));
    let names: Vec<_> = bank.questions.keys().cloned().collect();
    for (number, id) in names.iter().enumerate() {
        calibrated(&mut bank, number, id);
        bank.questions.get_mut(id).unwrap().picture = Some(Box::new(Picture {
            file: "still.svg".to_owned(),
            alternative: "A still".into(),
        }));
    }
    let mut part = theory(1, &[6], None);
    part.cells[0].wanted = range(4, 6);
    let form = |numbers: &[usize]| {
        vec![DrawnForm {
            counted: numbers.iter().map(|&n| names[n].clone()).collect(),
            pretest: Vec::new(),
        }]
    };
    let sound = form(&[0, 1, 2, 3, 4, 5]);
    let see = |part: &TheoryPart, rules: &NearBest, forms: &[DrawnForm]| {
        form_verify::breaches(&bank, part, rules, forms).len()
    };
    assert_eq!(see(&part, &rules(), &sound), 0);
    // One of a set, four of a set, five questions, seven questions.
    for broken in [
        form(&[0, 3, 4, 5, 6, 7]),
        form(&[0, 1, 2, 20, 3, 4]),
        form(&[0, 1, 3, 4, 5]),
        form(&[0, 1, 2, 3, 4, 5, 6]),
    ] {
        assert!(see(&part, &rules(), &broken) > 0, "{broken:?}");
    }
    for asked in [
        NearBest {
            pictures: Some(5),
            ..rules()
        },
        NearBest {
            used_lately: vec![
                UsedLately {
                    since: "2026-06-01".to_owned(),
                    at_most: 9,
                },
                UsedLately {
                    since: "2026-09-01".to_owned(),
                    at_most: 1,
                },
            ],
            ..rules()
        },
        NearBest {
            used_often: Some(UsedOften {
                sittings: 4,
                at_most: 0,
            }),
            ..rules()
        },
        NearBest {
            translated: vec!["de".to_owned()],
            ..rules()
        },
        NearBest {
            links: vec![(names[9].clone(), place(31))],
            ..rules()
        },
    ] {
        assert!(see(&part, &asked, &sound) > 0, "{asked:?}");
    }
    part.cells[0].wanted = range(1, 5);
    assert!(see(&part, &rules(), &sound) > 0);
}

#[test]
fn a_length_that_ranges_cannot_give_is_explained() {
    let mut part = theory(2, &[4, 4], Some(8));
    part.cells[0].wanted = range(2, 6);
    part.cells[1].wanted = range(2, 6);
    part.questions = 12;
    part.draw = Draw::NearBest(Box::new(rules()));
    let told = |bank| assemble(&exam_of(bank, part.clone()), &seed(1)).unwrap_err()[0].to_string();
    // By hand: six of the first cell and four of the second are ten of the twelve wanted; two forms
    // of ten use twenty times what twelve questions with eight in common give.
    let short = told(bank(&[8, 4]));
    assert!(short.contains("cell cell-0 asks 2 to 6 a form"), "{short}");
    assert!(short.contains("a form has 12 questions"), "{short}");
    assert!(short.contains("let a form have 10 questions"), "{short}");
    // Eight and four are twelve, and both forms would be the same: more than eight in common.
    assert!(!short.contains("ask 2 to 8 of cell cell-0"), "{short}");
    let wider = told(bank(&[20, 4]));
    assert!(wider.contains("ask 2 to 8 of cell cell-0"), "{wider}");
}

#[test]
fn a_target_that_no_form_reaches_is_told_with_what_is_possible() {
    let at = |ability: f64, information: f64| InformationTarget {
        place: place(40),
        ability,
        information,
    };
    let mut part = theory(2, &[6], None);
    let told = |part: &TheoryPart| targets_out_of_reach(&bank(&[20]), part);
    part.draw = Draw::NearBest(Box::new(NearBest {
        target: vec![at(0.0, 1.0), at(0.5, 90.0)],
        ..rules()
    }));
    let found = told(&part);
    assert_eq!(found.len(), 1);
    assert!(found[0].is_weakness());
    assert_eq!(found[0].place, Some(place(40)));
    assert!(
        found[0]
            .what
            .starts_with("information 90 at ability 0.5 is out of reach")
    );
    // What is said to be possible is: aim there, and nothing is told.
    let allowed = found[0].allowed.as_ref().unwrap();
    let most: f64 = allowed.strip_prefix("at most ").unwrap().parse().unwrap();
    part.draw = Draw::NearBest(Box::new(NearBest {
        target: vec![at(0.5, most)],
        ..rules()
    }));
    assert_eq!(told(&part), []);
    part.draw = Draw::NearBest(Box::new(NearBest {
        target: vec![at(0.5, most + 0.02)],
        ..rules()
    }));
    assert_eq!(told(&part).len(), 1);
}
