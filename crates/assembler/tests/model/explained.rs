//! Programs that cannot be kept, and what is said about them.

use std::collections::BTreeSet;

use assembler::form_explain::{Reason, explain};
use assembler::form_feasible::{Feasible, feasible};
use assembler::form_model::{FormModel, ModelItem, ModelLine, ModelSum};

fn line(words: &str, number: usize) -> ModelLine {
    ModelLine {
        words: words.to_owned(),
        place: None,
        least: number,
        most: number,
    }
}

/// Eleven questions on maturation of which two are enemies, and plenty of others.
fn eleven() -> FormModel {
    let item = |name: String, line| ModelItem {
        name,
        line,
        shared_counts: true,
    };
    let mut items: Vec<_> = (0..11).map(|n| item(format!("cask-{n}"), 0)).collect();
    items.extend((0..60).map(|n| item(format!("law-{n}"), 1)));
    FormModel {
        items,
        lines: vec![
            line("cell maturation, application", 6),
            line("cell law", 10),
        ],
        forms: 3,
        length: 16,
        anchors: Vec::new(),
        enemies: vec![(0, 1), (11, 12)],
        overlap: Some(2),
        sums: vec![ModelSum {
            words: "words to read".to_owned(),
            place: None,
            weights: vec![30; 71],
            least: None,
            most: Some(16 * 30),
        }],
        sets: Vec::new(),
        targets: Vec::new(),
    }
}

#[test]
fn a_short_cell_is_explained_with_what_would_help() {
    let model = eleven();
    let Reason::Impossible(explained) = explain(&model) else {
        panic!("18 uses of 11 questions with at most 2 in common");
    };
    // By hand: 18 uses of 11 questions are 7 doubled ones at least, and three pairs may share 6.
    assert_eq!(
        explained.words,
        "cell maturation, application asks 6 a form × 3 forms, and the bank has 11; this cannot be \
         had with an overlap of at most 2"
    );
    let words: Vec<&str> = explained
        .remedies
        .iter()
        .map(|r| r.words.as_str())
        .collect();
    assert_eq!(
        words,
        [
            "allow an overlap of 3",
            "ask 5 of cell maturation, application",
            "write 1 more for cell maturation, application"
        ]
    );
}

#[test]
fn no_clause_of_an_explanation_can_be_done_without_and_each_remedy_is_enough() {
    for overlap in 0..3 {
        for enemies in [vec![], vec![(0, 1)], vec![(0, 1), (1, 2), (0, 2), (3, 4)]] {
            for words in [16 * 30, 15 * 30] {
                let mut model = eleven();
                model.overlap = Some(overlap);
                model.enemies = enemies.clone();
                model.sums[0].most = Some(words);
                let Reason::Impossible(explained) = explain(&model) else {
                    panic!("{overlap} {enemies:?} {words}");
                };
                let all: BTreeSet<_> = explained.clauses.iter().copied().collect();
                assert_eq!(feasible(&model, &all), Feasible::No);
                for clause in &all {
                    let mut fewer = all.clone();
                    fewer.remove(clause);
                    assert_eq!(feasible(&model, &fewer), Feasible::Yes, "{clause:?}");
                }
            }
        }
    }
}

#[test]
fn enemies_and_anchors_are_named() {
    let mut model = eleven();
    model.overlap = None;
    model.forms = 1;
    model.items.truncate(6);
    model.lines.truncate(1);
    model.length = 6;
    model.sums.clear();
    model.enemies = vec![(0, 1)];
    let Reason::Impossible(explained) = explain(&model) else {
        panic!("two of six are enemies and six are asked");
    };
    assert_eq!(
        explained.words,
        "cell maturation, application asks 6 a form, and the bank has 6; this cannot be had with \
         the enemies \"cask-0\", \"cask-1\""
    );
    assert_eq!(
        explained.remedies[0].words,
        "ask 5 of cell maturation, application"
    );
    model.length = 2;
    model.lines[0] = line("cell maturation", 2);
    model.anchors = vec![0, 1];
    model.enemies = vec![(0, 1)];
    let Reason::Impossible(explained) = explain(&model) else {
        panic!("anchors that are enemies");
    };
    assert!(
        explained.words.contains("2 anchors on every form"),
        "{}",
        explained.words
    );
}
