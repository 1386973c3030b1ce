//! Larger programs: near the bound, the same again from the same seed, nobody favoured.

use assembler::form_bound::{Bound, deviation_bound};
use assembler::form_model::{FormModel, ModelItem, ModelLine, ModelTarget, WHOLE};
use assembler::form_search::{Effort, search_forms};
use base::{ExamSeed, Purpose, Stream};

use crate::verifier::breaches;

/// A bank of so many questions with invented parameters in four cells; the target is as many times
/// what a form of average questions has.
fn program(items: usize, forms: usize, length: usize, times: f64) -> FormModel {
    let mut stream = Stream::new(&ExamSeed::from_bytes([8; 32]), Purpose::Practice, 1);
    let abilities = [-1.0, 0.0, 1.0];
    let parameters: Vec<(f64, f64)> = (0..items)
        .map(|_| (0.6 + 1.2 * stream.unit(), 4.0 * stream.unit() - 2.0))
        .collect();
    let information = |a: f64, b: f64, ability: f64| {
        let p = 1.0 / (1.0 + libm::exp(-a * (ability - b)));
        a * a * p * (1.0 - p)
    };
    let targets = abilities
        .iter()
        .map(|&ability| {
            let values: Vec<f64> = parameters
                .iter()
                .map(|&(a, b)| information(a, b, ability))
                .collect();
            let target = times * length as f64 * values.iter().sum::<f64>() / items as f64;
            let unit = WHOLE as f64 / target;
            ModelTarget {
                words: format!("information at {ability}"),
                weights: values
                    .iter()
                    .map(|value| (value * unit).round() as i64)
                    .collect(),
                wanted: WHOLE,
            }
        })
        .collect();
    FormModel {
        items: (0..items)
            .map(|n| ModelItem {
                name: format!("q{n}"),
                line: n % 4,
                shared_counts: true,
            })
            .collect(),
        lines: (0..4)
            .map(|n| ModelLine {
                words: format!("cell {n}"),
                place: None,
                least: length / 4,
                most: length / 4,
            })
            .collect(),
        forms,
        length,
        anchors: Vec::new(),
        enemies: (0..items / 20).map(|n| (n, items - 1 - n)).collect(),
        overlap: Some(0),
        sums: Vec::new(),
        sets: Vec::new(),
        targets,
    }
}

#[test]
fn a_reachable_target_is_met_to_a_thousandth() {
    let model = program(400, 4, 40, 1.0);
    let seed = ExamSeed::from_bytes([1; 32]);
    let found = search_forms(&model, &seed, &Effort::usual(&model)).unwrap();
    assert_eq!(breaches(&model, &found.forms), [""; 0]);
    assert!(found.deviation < WHOLE / 1_000, "{}", found.deviation);
    assert_eq!(
        found,
        search_forms(&model, &seed, &Effort::usual(&model)).unwrap()
    );
    let other = ExamSeed::from_bytes([2; 32]);
    assert_ne!(
        found.forms,
        search_forms(&model, &other, &Effort::usual(&model))
            .unwrap()
            .forms
    );
}

#[test]
fn a_target_out_of_reach_is_met_near_the_bound() {
    let model = program(400, 4, 40, 2.0);
    let found = search_forms(
        &model,
        &ExamSeed::from_bytes([1; 32]),
        &Effort::usual(&model),
    )
    .unwrap();
    assert_eq!(breaches(&model, &found.forms), [""; 0]);
    let Bound::AtLeast(bound) = deviation_bound(&model) else {
        panic!("no bound");
    };
    let deviation = found.deviation as f64;
    assert!(bound > 0.05 * WHOLE as f64, "{bound}");
    assert!(
        deviation >= bound - 1.0 && deviation <= 1.011 * bound,
        "{deviation} {bound}"
    );
}

#[test]
fn over_many_draws_no_question_is_favoured() {
    // All alike: 60 questions, 2 forms of 12, so that each stands on one of the forms with
    // chance 24 / 60.
    let mut model = program(60, 2, 12, 1.0);
    model.enemies.clear();
    for target in &mut model.targets {
        target.weights.fill(WHOLE / 12);
    }
    let draws = 400;
    let mut uses = vec![0_u32; 60];
    for number in 0..draws {
        let mut bytes = [0; 32];
        bytes[0] = (number % 256) as u8;
        bytes[1] = (number / 256) as u8;
        let effort = Effort {
            runs: 1,
            steps: 2_000,
            starts: 4,
            enough: 0,
        };
        let found = search_forms(&model, &ExamSeed::from_bytes(bytes), &effort).unwrap();
        for item in found.forms.iter().flatten() {
            uses[*item] += 1;
        }
    }
    let expected = f64::from(draws) * 24.0 / 60.0;
    let spread = (f64::from(draws) * 0.4 * 0.6).sqrt();
    // Five standard errors for the largest of sixty; the seeds are fixed.
    for (item, uses) in uses.iter().enumerate() {
        assert!(
            (f64::from(*uses) - expected).abs() < 5.0 * spread,
            "{item}: {uses}"
        );
    }
}
