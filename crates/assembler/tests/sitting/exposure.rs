//! How often each question is drawn over many assemblies of one plan, measured and bounded.
//!
//! A lot favours nobody: over `n` draws a question of a cell with `v` questions, of which a form
//! takes `k`, stands on `n F k / v` of the `n F` forms on average. By lot the counts must lie where
//! chance puts them. Near the best some questions help more than others to come near a target, and
//! chance is not the measure; no question may be worn out or forgotten: none stands more than twice
//! as often as the average of its cell, and none less than a third as often.

use assembler::form_draw::draw_forms;
use base::ExamSeed;
use exam_plan::plan::{Draw, NearBest, TheoryPart};
use question_bank::calibration::Curve;
use question_bank::{Bank, Calibration};

use crate::synthetic::*;

const DRAWS: u16 = 300;

/// On how many forms each question of a cell stood, in the order of ids.
fn uses(bank: &Bank, part: &TheoryPart, in_cell: usize) -> Vec<f64> {
    let ids: Vec<_> = bank
        .questions
        .values()
        .filter(|question| question.cell == cell(in_cell))
        .map(|question| question.id.clone())
        .collect();
    let mut uses = vec![0.0; ids.len()];
    for number in 0..DRAWS {
        let mut bytes = [7; 32];
        bytes[..2].copy_from_slice(&number.to_be_bytes());
        let made = draw_forms(bank, part, &ExamSeed::from_bytes(bytes)).unwrap();
        for form in &made.forms {
            for (id, uses) in ids.iter().zip(&mut uses) {
                *uses += f64::from(u8::from(form.counted.contains(id)));
            }
        }
    }
    uses
}

/// The least and the most uses as shares of the mean.
fn spread(uses: &[f64]) -> (f64, f64) {
    let mean = uses.iter().sum::<f64>() / uses.len() as f64;
    let least = uses.iter().copied().fold(f64::INFINITY, f64::min);
    let most = uses.iter().copied().fold(0.0, f64::max);
    (least / mean, most / mean)
}

/// Five standard errors of a count, for the largest of some dozens; the seeds are fixed.
fn by_chance(uses: &[f64], forms: u32, on_each: u32) -> bool {
    let chance = f64::from(on_each) / uses.len() as f64;
    let n = f64::from(DRAWS) * f64::from(forms);
    let error = (n * chance * (1.0 - chance)).sqrt();
    uses.iter()
        .all(|uses| (uses - n * chance).abs() < 5.0 * error)
}

#[test]
fn a_draw_by_lot_favours_no_question() {
    let bank = bank(&[30, 24]);
    let mut part = theory(2, &[8, 6], None);
    for draw in [
        Draw::ByLot,
        Draw::ByLotWithin(Box::new(NearBest::plain(None))),
    ] {
        part.draw = draw;
        for (in_cell, on_each) in [(0, 8), (1, 6)] {
            let uses = uses(&bank, &part, in_cell);
            assert!(by_chance(&uses, 2, on_each), "{:?} {uses:?}", part.draw);
        }
    }
}

#[test]
fn a_draw_near_the_best_wears_no_question_out() {
    let mut bank = bank(&[40]);
    let ids: Vec<_> = bank.questions.keys().cloned().collect();
    for (number, id) in ids.into_iter().enumerate() {
        let known = Calibration {
            place: place(1),
            curve: Some(Curve {
                discrimination: 0.7 + (number * 37 % 40) as f64 / 40.0,
                difficulty: (number * 23 % 40) as f64 / 10.0 - 2.0,
                guessing: 0.2,
            }),
            share: None,
            seconds: None,
            last_used: None,
            sittings: None,
        };
        bank.calibration.insert(id, known);
    }
    let mut part = theory(2, &[10], Some(0));
    part.draw = Draw::NearBest(Box::new(NearBest::plain(Some(place(20)))));
    let (least, most) = spread(&uses(&bank, &part, 0));
    assert!(least > 1.0 / 3.0 && most < 2.0, "{least} {most}");
}
