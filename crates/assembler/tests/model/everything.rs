//! Random small programs against trying every choice of forms.

use std::collections::BTreeSet;

use assembler::form_bound::{Bound, deviation_bound};
use assembler::form_feasible::{Feasible, clauses, feasible};
use assembler::form_model::{
    FormModel, ModelItem, ModelLine, ModelSet, ModelSum, ModelTarget, WHOLE,
};
use assembler::form_search::{Effort, search_forms};
use base::{ExamSeed, Purpose, Stream};

use crate::verifier::{breaches, deviation};

fn within(stream: &mut Stream, least: usize, most: usize) -> usize {
    least + stream.index(most - least + 1)
}

/// A random small program: sums, sets, enemies, anchors and overlap come and go.
fn program(stream: &mut Stream) -> FormModel {
    let items = within(stream, 4, 8);
    let line_count = within(stream, 1, 3);
    let forms = within(stream, 1, 2);
    let model_items: Vec<ModelItem> = (0..items)
        .map(|number| ModelItem {
            name: format!("q{number}"),
            line: stream.index(line_count),
            shared_counts: stream.below(5) > 0,
        })
        .collect();
    let exact = stream.below(2) == 0;
    let mut lines = Vec::new();
    for number in 0..line_count {
        let least = within(stream, 0, 2);
        let most = if exact {
            least
        } else {
            least + stream.index(2)
        };
        lines.push(ModelLine {
            words: format!("line {number}"),
            place: None,
            least,
            most,
        });
    }
    let (least, most) = lines
        .iter()
        .fold((0, 0), |(a, b), line| (a + line.least, b + line.most));
    let length = within(stream, least, most);
    let mut weights =
        |most: u64| -> Vec<i64> { (0..items).map(|_| stream.below(most) as i64).collect() };
    let words = weights(40);
    let targets = vec![weights(1000), weights(1000)];
    let sums = if stream.below(2) == 0 {
        vec![ModelSum {
            words: "words".to_owned(),
            place: None,
            least: (stream.below(2) == 0).then(|| stream.below(30) as i64),
            most: Some((10 + stream.below(25 * length as u64 + 1)) as i64),
            weights: words,
        }]
    } else {
        Vec::new()
    };
    let enemies: Vec<(usize, usize)> = (0..stream.index(4))
        .map(|_| (stream.index(items), stream.index(items)))
        .filter(|(one, other)| one != other)
        .collect();
    let sets = if stream.below(3) == 0 {
        vec![ModelSet {
            words: "a case".to_owned(),
            items: (0..items).filter(|n| n % 2 == 0).collect(),
            least: 2,
            most: 3,
        }]
    } else {
        Vec::new()
    };
    let mut anchors: Vec<usize> = Vec::new();
    if stream.below(3) == 0 && length > 0 {
        anchors.push(stream.index(items));
    }
    FormModel {
        items: model_items,
        lines,
        forms,
        length,
        anchors,
        enemies,
        overlap: (stream.below(3) > 0).then(|| stream.index(2)),
        sums,
        sets,
        targets: targets
            .into_iter()
            .map(|weights| ModelTarget {
                words: "target".to_owned(),
                wanted: 500 * length as i64,
                weights,
            })
            .collect(),
    }
}

/// The smallest largest deviation of all choices of forms; none where no choice keeps the program.
fn best_of_everything(model: &FormModel) -> Option<i64> {
    let single = FormModel {
        forms: 1,
        ..model.clone()
    };
    let sound: Vec<Vec<usize>> = (0..1_u32 << model.items.len())
        .filter(|set| set.count_ones() as usize == model.length)
        .map(|set| {
            (0..model.items.len())
                .filter(|item| set & (1 << item) != 0)
                .collect::<Vec<usize>>()
        })
        .filter(|form| breaches(&single, std::slice::from_ref(form)).is_empty())
        .collect();
    if model.forms == 1 {
        return sound
            .iter()
            .map(|form| deviation(model, std::slice::from_ref(form)))
            .min();
    }
    let mut best: Option<i64> = None;
    for one in &sound {
        for other in &sound {
            let forms = [one.clone(), other.clone()];
            if breaches(model, &forms).is_empty() {
                let found = deviation(model, &forms);
                best = Some(best.map_or(found, |b: i64| b.min(found)));
            }
        }
    }
    best
}

#[test]
fn search_bound_and_feasibility_agree_with_trying_everything() {
    let seed = ExamSeed::from_bytes([3; 32]);
    let mut counts = [0_usize; 4];
    for number in 0..600 {
        let mut stream = Stream::new(&seed, Purpose::Practice, number);
        let model = program(&mut stream);
        if !model.faults().is_empty() {
            continue;
        }
        let best = best_of_everything(&model);
        let all: BTreeSet<_> = clauses(&model).into_iter().collect();
        let decided = feasible(&model, &all);
        let expected = if best.is_some() {
            Feasible::Yes
        } else {
            Feasible::No
        };
        assert_eq!(decided, expected, "{number}: {model:?}");
        let effort = Effort {
            runs: 3,
            steps: 4_000,
            starts: 12,
            enough: 0,
        };
        let found = search_forms(&model, &seed, &effort);
        match (best, found) {
            (None, found) => {
                counts[0] += 1;
                assert_eq!(found, None, "{number}: forms that break the program");
            }
            (Some(_), None) => counts[1] += 1,
            (Some(best), Some(found)) => {
                assert_eq!(breaches(&model, &found.forms), [""; 0], "{number}");
                assert_eq!(deviation(&model, &found.forms), found.deviation, "{number}");
                assert!(found.deviation >= best, "{number}: better than the best");
                counts[if found.deviation == best { 2 } else { 3 }] += 1;
                match deviation_bound(&model) {
                    // The tolerance is that of the solver's arithmetic, in units of a millionth
                    // of a per cent.
                    Bound::AtLeast(bound) => assert!(
                        bound <= best as f64 + 1e-6 * (WHOLE / 100) as f64,
                        "{number}: bound {bound}, best {best}"
                    ),
                    other => panic!("{number}: {other:?}"),
                }
            }
        }
    }
    let [impossible, missed, best, near] = counts;
    assert!(impossible > 100 && best > 100, "{counts:?}");
    // Exchanges one by one do not lead everywhere under so tight clauses; nearly everywhere.
    assert!(missed * 50 <= best && near * 20 <= best, "{counts:?}");
}
