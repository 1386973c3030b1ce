//! Seats, forms and serving orders of neighbours, codes.

use std::collections::{BTreeMap, BTreeSet};

use assembler::{CandidatePlace, assemble, cross_checks};
use base::{ExamSeed, SampleId};
use exam_plan::exam::Exam;
use exam_plan::plan::CodeSharing;
use proptest::prelude::*;
use question_bank::sample_record::CarryOver;

use crate::synthetic::*;
use crate::verifier::{agreeing_neighbours, breaches};

pub fn with_flight(samples: usize, in_room: usize, kits: usize, codes: CodeSharing) -> Exam {
    let mut bank = bank(&[30]);
    let records: Vec<_> = (0..samples)
        .map(|n| sample(&format!("sample-{n}"), CarryOver::Ordinary, 40.0))
        .collect();
    for record in &records {
        bank.samples.insert(record.id.clone(), record.clone());
    }
    exam(
        bank,
        Some(theory(3, &[6], None)),
        Some(tasting(&records, codes)),
        roster(in_room, kits),
        room(&[4, 4, 4, 4, 4, 4], &[(0, 1), (2, 3), (4, 5)]),
    )
}

fn order(place: &CandidatePlace) -> Vec<SampleId> {
    place.glasses.iter().map(|g| g.sample.clone()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn neighbours_differ_and_use_is_even(
        samples in 2_usize..6,
        in_room in 1_usize..=24,
        kits in 0_usize..5,
        bytes in any::<[u8; 32]>(),
    ) {
        let exam = with_flight(samples, in_room, kits, CodeSharing::Room);
        let sitting = assemble(&exam, &ExamSeed::from_bytes(bytes)).unwrap();
        let found = breaches(&exam, &sitting);
        prop_assert!(found.is_empty(), "{found:?}");
        prop_assert_eq!(agreeing_neighbours(&exam, &sitting, |p| p.form.clone()), 0);
        prop_assert_eq!(agreeing_neighbours(&exam, &sitting, order), 0);
        let mut forms: BTreeMap<_, usize> = sitting.forms.iter().map(|f| (&f.name, 0)).collect();
        for place in &sitting.places {
            *forms.get_mut(place.form.as_ref().unwrap()).unwrap() += 1;
        }
        let (least, most) = (forms.values().min().unwrap(), forms.values().max().unwrap());
        prop_assert!(most - least <= 1, "{forms:?}");
        prop_assert!(!sitting.shortfalls.iter().any(|s| s.starts_with("Seats")));
    }

    #[test]
    fn codes_belong_to_their_group(
        bytes in any::<[u8; 32]>(),
        sharing in 0_usize..3,
        own_kits in any::<bool>(),
    ) {
        let codes = [CodeSharing::Room, CodeSharing::Table, CodeSharing::Candidate][sharing];
        let mut exam = with_flight(3, 20, 4, codes);
        exam.plan.tasting.as_mut().unwrap().rules.kits_have_own_codes = own_kits;
        let sitting = assemble(&exam, &ExamSeed::from_bytes(bytes)).unwrap();
        // A code names one sample in the whole sitting.
        let mut meaning: BTreeMap<&str, &SampleId> = BTreeMap::new();
        let mut sets: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
        for place in &sitting.places {
            let group = match (codes, &place.seat) {
                (CodeSharing::Room | CodeSharing::Table, None) if own_kits => place.candidate.to_string(),
                (CodeSharing::Room, _) => String::new(),
                (CodeSharing::Table, seat) => {
                    seat.as_ref().map_or("kit".to_owned(), |s| s.as_str()[..1].to_owned())
                }
                (CodeSharing::Candidate, _) => place.candidate.to_string(),
            };
            for glass in &place.glasses {
                let known = meaning.entry(&glass.code).or_insert(&glass.sample);
                prop_assert_eq!(*known, &glass.sample);
                sets.entry(group.clone()).or_default().insert(&glass.code);
            }
        }
        prop_assert!(sets.values().all(|set| set.len() == 3));
        prop_assert_eq!(sets.values().map(BTreeSet::len).sum::<usize>(), meaning.len());
        let checks = cross_checks(&sitting, &ExamSeed::from_bytes(bytes));
        let samples: BTreeSet<_> = checks.iter().map(|c| &c.sample).collect();
        let people: BTreeSet<_> = checks.iter().map(|c| &c.candidate).collect();
        prop_assert_eq!((checks.len(), samples.len(), people.len()), (3, 3, 3));
        for check in &checks {
            let place = sitting.place(&check.candidate).unwrap();
            let glass = &place.glasses[check.glass - 1];
            prop_assert_eq!((&glass.code, &glass.sample), (&check.code, &check.sample));
        }
    }
}

#[test]
fn too_few_seats_are_told_with_numbers() {
    let exam = exam(
        bank(&[5]),
        Some(theory(1, &[5], None)),
        None,
        roster(6, 1),
        room(&[4], &[]),
    );
    let faults = assemble(&exam, &seed(1)).unwrap_err();
    assert_eq!(
        faults[0].what,
        "6 candidates sit in the room, which has 4 seats: 2 lacking"
    );
    assert_eq!(
        faults[0].place.as_ref().unwrap().line,
        6,
        "the fifth candidate"
    );
}

#[test]
fn a_room_is_wanted_only_by_those_in_it() {
    let make = |in_room| {
        exam(
            bank(&[5]),
            Some(theory(1, &[5], None)),
            None,
            roster(in_room, 3),
            room(&[], &[]),
        )
    };
    assert!(assemble(&make(0), &seed(1)).is_ok());
    assert!(assemble(&make(1), &seed(1)).is_err());
}

#[test]
fn all_faults_come_at_once() {
    let exam = exam(
        bank(&[2]),
        Some(theory(1, &[5], None)),
        Some(tasting(
            &[sample("nowhere", CarryOver::Ordinary, 40.0)],
            CodeSharing::Room,
        )),
        roster(6, 1),
        room(&[4], &[]),
    );
    let faults = assemble(&exam, &seed(1)).unwrap_err();
    let rules: Vec<_> = faults.iter().map(|f| f.rule).collect();
    assert_eq!(rules, ["cell-too-small", "too-few-seats", "unknown-sample"]);
}

#[test]
fn one_form_in_a_full_room_is_a_shortfall() {
    let exam = exam(
        bank(&[5]),
        Some(theory(1, &[5], None)),
        None,
        roster(4, 0),
        room(&[4], &[]),
    );
    let sitting = assemble(&exam, &seed(1)).unwrap();
    assert_eq!(
        sitting.shortfalls,
        ["There is one form: all neighbours have form A."]
    );
}

#[test]
fn neighbours_that_cannot_differ_are_listed_by_seat() {
    // Three tables of one seat that all face each other, and two forms.
    let exam = exam(
        bank(&[10]),
        Some(theory(2, &[5], None)),
        None,
        roster(3, 0),
        room(&[1, 1, 1], &[(0, 1), (1, 2), (0, 2)]),
    );
    let sitting = assemble(&exam, &seed(1)).unwrap();
    let [seats, why] = sitting.shortfalls.as_slice() else {
        panic!("{:?}", sitting.shortfalls);
    };
    assert!(
        seats.starts_with("Seats ") && seats.contains(" have form "),
        "{seats}"
    );
    assert!(why.contains("every way was tried"), "{why}");
}

#[test]
fn who_must_sit_near_the_door_together_or_apart_does() {
    use exam_plan::roster::SeatWish;
    for number in 0..20 {
        let mut exam = with_flight(3, 16, 0, CodeSharing::Room);
        let seats: Vec<_> = exam
            .room
            .seats()
            .iter()
            .map(|(_, s)| (*s).clone())
            .collect();
        exam.room.near_door = vec![seats[0].clone(), seats[1].clone()];
        let numbers: Vec<_> = exam
            .roster
            .candidates
            .iter()
            .map(|c| c.number.clone())
            .collect();
        exam.roster.candidates[3].wishes = vec![SeatWish::NearDoor];
        exam.roster.candidates[5].wishes = vec![SeatWish::With(numbers[9].clone())];
        exam.roster.candidates[7].wishes = vec![
            SeatWish::Apart(numbers[5].clone()),
            SeatWish::Apart(numbers[3].clone()),
        ];
        let sitting = assemble(&exam, &ExamSeed::from_bytes([number; 32])).unwrap();
        let found = breaches(&exam, &sitting);
        assert!(found.is_empty(), "{found:?}");
        let seat = |candidate: usize| sitting.places[candidate].seat.clone().unwrap();
        assert!(exam.room.near_door.contains(&seat(3)));
        let pairs = exam.room.neighbours();
        let beside = |one: usize, other: usize| {
            let at = |c: usize| seats.iter().position(|s| *s == seat(c)).unwrap();
            let (a, b) = (at(one), at(other));
            pairs.contains(&(a.min(b), a.max(b)))
        };
        assert!(beside(5, 9) && !beside(7, 5) && !beside(7, 3));
        let taken: BTreeSet<_> = sitting.places.iter().map(|p| p.seat.clone()).collect();
        assert_eq!(taken.len(), 16);
    }
}

#[test]
fn a_wish_that_cannot_be_met_is_told() {
    use exam_plan::roster::SeatWish;
    let mut exam = with_flight(3, 4, 0, CodeSharing::Room);
    exam.roster.candidates[1].wishes = vec![SeatWish::NearDoor];
    let sitting = assemble(&exam, &ExamSeed::from_bytes([1; 32])).unwrap();
    assert!(
        sitting
            .shortfalls
            .iter()
            .any(|s| s.contains("near the door")),
        "{:?}",
        sitting.shortfalls
    );
}
