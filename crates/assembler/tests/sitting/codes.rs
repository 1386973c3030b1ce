//! Codes carry no information: 100,000 of them, against sample, place in the order, candidate and form;
//! and labels of kits that cannot be matched.

use std::collections::BTreeSet;

use assembler::glass_codes::glass_codes;
use assembler::serving_order::{deal_orders, serving_orders};
use base::ExamSeed;
use exam_plan::Service;
use exam_plan::plan::CodeSharing;
use question_bank::sample_record::CarryOver;

use crate::room::with_flight;

/// By how many standard deviations the chi-square of a table of counts lies above its expectation,
/// when rows and columns are independent.
fn excess(counts: &[Vec<f64>]) -> f64 {
    let total: f64 = counts.iter().flatten().sum();
    let rows: Vec<f64> = counts.iter().map(|row| row.iter().sum()).collect();
    let width = counts[0].len();
    let columns: Vec<f64> = (0..width)
        .map(|c| counts.iter().map(|row| row[c]).sum())
        .collect();
    let mut chi_square = 0.0;
    for (row, own) in counts.iter().zip(&rows) {
        for (count, column) in row.iter().zip(&columns) {
            let expected = own * column / total;
            chi_square += (count - expected) * (count - expected) / expected;
        }
    }
    let freedom = (counts.len() as f64 - 1.0) * (width as f64 - 1.0);
    (chi_square - freedom) / (2.0 * freedom).sqrt()
}

#[test]
fn a_hundred_thousand_codes_tell_nothing() {
    // 250 sittings of 50 candidates with eight samples, codes unique to each: 100,000 codes.
    const SITTINGS: u32 = 250;
    const CANDIDATES: usize = 50;
    const SAMPLES: usize = 8;
    const FORMS: usize = 3;
    let table = |rows: usize, columns: usize| vec![vec![0.0_f64; columns]; rows];
    let (mut by_sample, mut by_place) = (table(SAMPLES, 9), table(SAMPLES, 9));
    let (mut by_candidate, mut by_form) = (table(CANDIDATES, 9), table(FORMS, 9));
    let mut last_by_sample = table(SAMPLES, 10);
    let mut drawn = 0;
    for sitting in 0..SITTINGS {
        let mut bytes = [7_u8; 32];
        bytes[..4].copy_from_slice(&sitting.to_be_bytes());
        let seed = ExamSeed::from_bytes(bytes);
        let codes = glass_codes(CANDIDATES, SAMPLES, false, &seed);
        let orders = serving_orders(&[CarryOver::Ordinary; SAMPLES], &seed);
        let dealt = deal_orders(&orders, CANDIDATES, &[], &seed);
        for (candidate, flight) in codes.of_group.iter().enumerate() {
            let order = &orders.orders[dealt.colours[candidate]];
            for (sample, code) in flight.iter().enumerate() {
                let number: usize = code.parse().unwrap();
                let (first, last) = (number / 100 - 1, number % 10);
                let place = order.iter().position(|&s| s == sample).unwrap();
                by_sample[sample][first] += 1.0;
                by_place[place][first] += 1.0;
                by_candidate[candidate][first] += 1.0;
                by_form[candidate % FORMS][first] += 1.0;
                last_by_sample[sample][last] += 1.0;
                drawn += 1;
            }
        }
    }
    assert_eq!(drawn, 100_000);
    for (what, counts) in [
        ("sample", &by_sample),
        ("place in the order", &by_place),
        ("candidate", &by_candidate),
        ("form", &by_form),
        ("sample, last digit", &last_by_sample),
    ] {
        // Four standard deviations: one such table in some thousands lies beyond by chance. First
        // digits are drawn without replacement, which can only make the tables more even.
        let beyond = excess(counts);
        assert!(beyond < 4.0, "{what}: {beyond}");
    }
}

#[test]
fn labels_of_two_kits_cannot_be_matched() {
    let exam = with_flight(4, 12, 5, CodeSharing::Room);
    let sitting = assembler::assemble(&exam, &ExamSeed::from_bytes([4; 32])).unwrap();
    let mut seen = BTreeSet::new();
    let mut kits = 0;
    for place in sitting.places.iter().filter(|p| p.service == Service::Kit) {
        kits += 1;
        for glass in &place.glasses {
            assert!(
                seen.insert(glass.code.clone()),
                "{} stands twice",
                glass.code
            );
        }
    }
    assert_eq!(kits, 5);
    let in_room: BTreeSet<_> = sitting
        .places
        .iter()
        .filter(|p| p.service == Service::Room)
        .flat_map(|p| &p.glasses)
        .map(|glass| glass.code.clone())
        .collect();
    assert!(in_room.is_disjoint(&seen));
    assert_eq!(
        in_room.len(),
        exam.plan.tasting.as_ref().unwrap().samples.len()
    );
}
