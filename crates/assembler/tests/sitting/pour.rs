//! The pour plan.

use alcoholometry::StandardDrink;
use assembler::check_digit::has_valid_check_digit;
use assembler::kit_check::{fillings, sealed_kits};
use assembler::order_imbalance::sitting_imbalance;
use assembler::pour_times::{pour_times, tasting_begins};
use assembler::service_list::service_list;
use assembler::{CAUTIONS, assemble, pour_plan};
use exam_plan::plan::{CodeSharing, ServingStrength};
use question_bank::sample_record::CarryOver;

use crate::synthetic::*;

fn poured(strengths: &[f64], serving: ServingStrength) -> assembler::PourPlan {
    let mut bank = bank(&[1]);
    let records: Vec<_> = strengths
        .iter()
        .enumerate()
        .map(|(n, &s)| sample(&format!("sample-{n}"), CarryOver::Ordinary, s))
        .collect();
    for record in &records {
        bank.samples.insert(record.id.clone(), record.clone());
    }
    let mut part = tasting(&records, CodeSharing::Room);
    part.pour.strength = serving;
    let exam = exam(bank, None, Some(part), roster(20, 4), room(&[20], &[]));
    let sitting = assemble(&exam, &seed(1)).unwrap();
    pour_plan(&exam, &sitting).unwrap()
}

#[test]
fn as_bottled_by_hand() {
    let plan = poured(&[40.0], ServingStrength::AsBottled);
    let sample = &plan.samples[0];
    assert_eq!((sample.glasses_in_room, sample.glasses_in_kits), (20, 4));
    // 24 glasses and a spare of 20 ml, and 5 %: 525 ml, one bottle of 700 ml and one to spare.
    assert!((sample.in_all.spirit.value() - 525.0).abs() < 1e-9);
    assert_eq!(sample.in_all.water.value(), 0.0);
    assert_eq!((sample.bottles_to_open, sample.bottles_to_bring), (1, 2));
    // 20 ml at 40 %: 8 ml of ethanol, 0.8 UK units by definition; 789.24 g/l (OIML R 22).
    assert!((plan.load.ethanol.value() - 8.0 * 0.789_24).abs() < 1e-4);
    let british = plan
        .load
        .drinks
        .iter()
        .find(|d| d.unit == StandardDrink::UnitedKingdom);
    assert!((british.unwrap().number - 0.8).abs() < 1e-12);
    assert_eq!(plan.load.drinks.len(), StandardDrink::ALL.len());
    assert_eq!(plan.cautions, CAUTIONS);
}

#[test]
fn a_warm_up_is_everybodys_first_glass_and_in_no_flight() {
    let records = [40.0, 60.0].map(|s| sample(&format!("sample-{s}"), CarryOver::Ordinary, s));
    let [first, flight] = &records;
    let sit = |warm_up: bool| {
        let mut bank = bank(&[1]);
        for record in &records {
            bank.samples.insert(record.id.clone(), record.clone());
        }
        let mut part = tasting(std::slice::from_ref(flight), CodeSharing::Room);
        part.warm_up = warm_up.then(|| (first.id.clone(), first.place.clone()));
        let exam = exam(bank, None, Some(part), roster(20, 4), room(&[20], &[]));
        let sitting = assemble(&exam, &seed(1)).unwrap();
        let plan = pour_plan(&exam, &sitting).unwrap();
        (exam, sitting, plan)
    };
    let (exam, sitting, plan) = sit(true);
    let (_, plain_sitting, plain) = sit(false);
    // Nothing that is drawn knows of it.
    assert_eq!(sitting, plain_sitting);
    assert_eq!(plan.samples, plain.samples);
    let warm_up = plan.warm_up.as_ref().unwrap();
    assert_eq!((warm_up.glasses_in_room, warm_up.glasses_in_kits), (20, 4));
    assert_eq!((warm_up.bottles_to_open, warm_up.bottles_to_bring), (1, 2));
    let more = plan.load.ethanol.value() - plain.load.ethanol.value();
    assert!((more - warm_up.ethanol_in_a_glass.value()).abs() < 1e-12);
    let list = service_list(&sitting, &plan);
    let without = service_list(&sitting, &plain);
    assert_eq!(list.glasses, without.glasses + 21, "20 places and a spare");
    assert_eq!(list.kit_bottles, without.kit_bottles + 4);
    // It is poured before the flight, and its bottles of the kits are filled first.
    let times = pour_times(&exam.plan, &plan).unwrap();
    assert_eq!(times.pour[0].0, first.id);
    let filled = fillings(&exam, &sitting);
    assert_eq!(filled[0].sample, first.id);
    assert!(filled[0].bottles.iter().all(|(_, code)| code == "W"));
    assert_eq!(filled.len(), 2);
}

#[test]
fn reduced_with_contraction() {
    let plan = poured(&[60.0, 38.0], ServingStrength::Reduced(40.0));
    let [strong, weak] = plan.samples.as_slice() else {
        panic!();
    };
    // Ethanol is kept: 525 ml at 40 % from 350 ml at 60 %.
    assert!((strong.in_all.spirit.value() - 350.0).abs() < 1e-9);
    // The rule of three says 175 ml of water; contraction asks for more.
    assert!(strong.in_all.water.value() > 176.0 && strong.in_all.water.value() < 185.0);
    let parts = strong.one_glass.spirit.value() + strong.one_glass.water.value();
    assert!(parts > strong.one_glass.result.value());
    assert!(weak.weaker_than_asked && !strong.weaker_than_asked);
    assert_eq!(weak.served.value(), 38.0);
    assert_eq!(weak.in_all.water.value(), 0.0);
    let each = plan
        .samples
        .iter()
        .map(|s| s.ethanol_in_a_glass.value())
        .sum::<f64>();
    assert!((plan.load.ethanol.value() - each).abs() < 1e-12);
}

#[test]
fn what_cannot_be_poured_is_a_fault() {
    let mut bank = bank(&[1]);
    let record = sample("odd", CarryOver::Ordinary, 140.0);
    bank.samples.insert(record.id.clone(), record.clone());
    let part = tasting(&[record], CodeSharing::Room);
    let exam = exam(bank, None, Some(part), roster(2, 0), room(&[2], &[]));
    let sitting = assemble(&exam, &seed(1)).unwrap();
    let faults = pour_plan(&exam, &sitting).unwrap_err();
    assert_eq!(
        faults[0].what,
        "\"odd\" cannot be poured as planned: 140 is no strength: a strength is 0 to 100 % vol"
    );
}

#[test]
fn kits_are_filled_sample_by_sample_and_sealed_each_with_its_code() {
    let records = [
        sample("one", CarryOver::Ordinary, 40.0),
        sample("two", CarryOver::Ordinary, 40.0),
    ];
    let mut bank = bank(&[1]);
    for record in &records {
        bank.samples.insert(record.id.clone(), record.clone());
    }
    let mut part = tasting(&records, CodeSharing::Room);
    part.rules.kits_have_own_codes = true;
    let exam = exam(bank, None, Some(part), roster(6, 5), room(&[6], &[]));
    let sitting = assemble(&exam, &seed(1)).unwrap();
    let turns = fillings(&exam, &sitting);
    assert_eq!(turns.len(), 2);
    let kits = sealed_kits(&sitting, &seed(1));
    assert_eq!(kits.len(), 5);
    let seals: std::collections::BTreeSet<&str> = kits.iter().map(|k| k.seal.as_str()).collect();
    assert_eq!(seals.len(), 5);
    for kit in &kits {
        let digits: String = kit.seal.split(' ').collect();
        assert!(
            digits.len() == 7 && has_valid_check_digit(&digits),
            "{}",
            kit.seal
        );
        // Each bottle of the second person's list is filled in the turn of its sample, once.
        for (code, sample) in &kit.bottles {
            let filled = |turn: &&assembler::kit_check::Filling| {
                turn.bottles
                    .contains(&(kit.candidate.clone(), code.clone()))
            };
            let turns: Vec<_> = turns.iter().filter(filled).collect();
            assert!(turns.len() == 1 && turns[0].sample == *sample, "{code}");
        }
    }
    assert_eq!(sealed_kits(&sitting, &seed(1)), kits);
    assert_ne!(sealed_kits(&sitting, &seed(2)), kits);
}

#[test]
fn times_and_counts_by_hand() {
    let records = [
        sample("one", CarryOver::Ordinary, 60.0),
        sample("two", CarryOver::Ordinary, 40.0),
        sample("three", CarryOver::Heavy, 40.0),
    ];
    let mut bank = bank(&[1]);
    for record in &records {
        bank.samples.insert(record.id.clone(), record.clone());
    }
    let mut part = tasting(&records, CodeSharing::Room);
    part.pour.strength = ServingStrength::Reduced(40.0);
    let exam = exam(bank, None, Some(part), roster(20, 4), room(&[20], &[]));
    let sitting = assemble(&exam, &seed(1)).unwrap();
    let plan = pour_plan(&exam, &sitting).unwrap();

    // 20 glasses and a spare of each of three samples, 20 s each: 21 minutes by one person; 60
    // glasses carried at 10 s each: 10 minutes by one. Doors open 15 minutes before the first answer.
    assert_eq!(tasting_begins(&exam.plan), 0);
    let times = pour_times(&exam.plan, &plan).unwrap();
    assert_eq!((times.glasses, times.pourers, times.carriers), (63, 1, 1));
    assert_eq!((times.serve, times.closed, times.rest), (-25, -30, -45));
    let begins: Vec<i64> = times.pour.iter().map(|(_, minutes)| *minutes).collect();
    assert_eq!(begins, [-66, -59, -52]);
    assert_eq!((times.reduce, times.sound), (Some(-96), -111));
    assert_eq!((times.first_stands(), times.last_stands()), (66, 45));

    // 20 places and 2 spares; 300 ml of water each; 72 kit bottles less 60 in the room: 4 × 3.
    let list = service_list(&sitting, &plan);
    assert_eq!((list.places, list.glasses, list.covers), (20, 63, 63));
    assert_eq!((list.spit_cups, list.water_glasses), (22, 22));
    assert_eq!((list.drinking_water, list.neutral_food), (6, 660));
    assert_eq!((list.kits, list.kit_bottles), (4, 12));
    // 20 ml that fill nine tenths: 22.2 ml, in whole ml 23.
    assert_eq!(list.kit_bottle_size, 23.0);
    assert!(list.reducing_water > 176.0);

    // Two ordinary samples, 24 candidates: each order twelve times, no imbalance; the heavy one by
    // itself is no block to be balanced.
    let blocks = sitting_imbalance(&exam, &sitting);
    assert_eq!(blocks.len(), 1);
    assert_eq!((blocks[0].place.least, blocks[0].place.most), (12, 12));
    assert_eq!(blocks[0].carry_over.percent, 0.0);
}
