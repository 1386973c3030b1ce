//! Forms against their plan.

use std::collections::{BTreeMap, BTreeSet};

use assembler::assemble;
use assembler::form_draw::draw_forms;
use assembler::option_order::{LONGEST_RUN, option_orders};
use base::ExamSeed;
use exam_plan::plan::{HowMany, Wanted};
use proptest::prelude::*;
use question_bank::question::Level;
use question_bank::{Question, QuestionKind, ReviewState};

use crate::synthetic::*;
use crate::verifier::breaches;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_form_keeps_its_plan_or_says_why_not(
        sizes in proptest::collection::vec(1_usize..14, 1..4),
        wanted in proptest::collection::vec(1_u32..6, 3),
        forms in 1_u32..5,
        overlap in proptest::option::of(0_u32..6),
        pretest in 0_u32..3,
        enemies in proptest::collection::vec((0_usize..40, 0_usize..40), 0..8),
        practice in 0_usize..4,
        by_level in any::<bool>(),
        bytes in any::<[u8; 32]>(),
    ) {
        let mut bank = bank(&sizes);
        for number in 0..4 {
            add(&mut bank, question(0, 100 + number, ReviewState::Pretest));
            add(&mut bank, question(0, 200 + number, ReviewState::Draft));
            add(&mut bank, question(0, 300 + number, ReviewState::Retired));
        }
        let ids: Vec<_> = bank.questions.keys().cloned().collect();
        for (one, other) in enemies {
            make_enemies(&mut bank, &ids[one % ids.len()], &ids[other % ids.len()]);
        }
        for id in ids.iter().take(practice) {
            bank.questions.get_mut(id).unwrap().practice_only = true;
        }
        let mut part = theory(forms, &wanted[..sizes.len()], overlap);
        part.pretest = pretest;
        if by_level {
            part.cells[0].wanted = Wanted::ByLevel(BTreeMap::from([
                (Level::Recall, HowMany::exactly(wanted[0] / 2)),
                (
                    Level::Judgement,
                    HowMany::exactly(wanted[0] - wanted[0] / 2),
                ),
            ]));
        }
        let exam = exam(bank, Some(part), None, roster(3, 1), room(&[4], &[]));
        match assemble(&exam, &ExamSeed::from_bytes(bytes)) {
            Ok(sitting) => {
                let found = breaches(&exam, &sitting);
                prop_assert!(found.is_empty(), "{found:?}");
            }
            Err(faults) => {
                prop_assert!(!faults.is_empty());
                for fault in &faults {
                    prop_assert!(fault.place.is_some() && fault.hint.is_some(), "{fault}");
                }
            }
        }
    }

    #[test]
    fn shuffled_options_keep_their_key(bytes in any::<[u8; 32]>(), count in 1_usize..60) {
        let bank = bank(&[count]);
        let questions: Vec<&Question> = bank.questions.values().collect();
        let drawn = option_orders(&questions, 1, &ExamSeed::from_bytes(bytes));
        prop_assert_eq!(drawn.orders.len(), count);
        let mut run: (usize, usize) = (usize::MAX, 0);
        let mut letters: BTreeMap<usize, usize> = BTreeMap::new();
        for (question, order) in questions.iter().zip(&drawn.orders) {
            let mut places = order.places().to_vec();
            places.sort_unstable();
            prop_assert_eq!(places, (0..question.kind.lettered()).collect::<Vec<_>>());
            if let QuestionKind::BestAnswer(best) = &question.kind {
                let printed = (0..best.options.len())
                    .find(|&p| best.options[order.places()[p]].key)
                    .unwrap();
                *letters.entry(printed).or_default() += 1;
                run = if run.0 == printed { (printed, run.1 + 1) } else { (printed, 1) };
                prop_assert!(run.1 <= LONGEST_RUN || drawn.too_long_run.is_some());
            }
        }
        prop_assert!(drawn.too_long_run.is_none(), "one in four only keeps its order here");
        // A quarter of the keys stands fixed and half the rest may be a D: A, B and C are even.
        let of = |letter: usize| letters.get(&letter).copied().unwrap_or(0);
        let (least, most) = ([0, 1, 2].map(of).into_iter().min(), [0, 1, 2].map(of).into_iter().max());
        prop_assert!(most.unwrap() - least.unwrap() <= 2, "{letters:?}");
    }
}

#[test]
fn fixed_keys_that_run_are_said() {
    let mut bank = bank(&[0]);
    for number in 0..5 {
        let mut fixed = question(0, 3 + 24 * number, ReviewState::Operational);
        fixed.id = question_id(0, number);
        add(&mut bank, fixed);
    }
    let questions: Vec<&Question> = bank.questions.values().collect();
    let drawn = option_orders(&questions, 0, &seed(1));
    assert_eq!(drawn.too_long_run, Some(5));
}

#[test]
fn the_same_seed_draws_the_same_and_another_draws_another() {
    let make = || {
        let part = theory(3, &[6, 6, 4], Some(6));
        exam(
            bank(&[20, 20, 12]),
            Some(part),
            None,
            roster(8, 2),
            room(&[4, 4], &[(0, 1)]),
        )
    };
    let first = assemble(&make(), &seed(1)).unwrap();
    assert_eq!(first, assemble(&make(), &seed(1)).unwrap());
    for other in 2..8 {
        assert_ne!(first.forms, assemble(&make(), &seed(other)).unwrap().forms);
    }
}

#[test]
fn disjoint_and_level_forms_where_the_bank_allows() {
    for number in 0..10 {
        let drawn = draw_forms(&bank(&[18, 12]), &theory(3, &[6, 4], None), &seed(number)).unwrap();
        let all: BTreeSet<_> = drawn.forms.iter().flat_map(|f| &f.counted).collect();
        assert_eq!(all.len(), 30, "the forms share nothing");
        let bank = bank(&[18, 12]);
        let sums: Vec<usize> = drawn
            .forms
            .iter()
            .map(|form| {
                let hard = form.counted.iter().map(|id| {
                    let difficulty = bank.questions[id].difficulty;
                    question_bank::question::Difficulty::ALL
                        .iter()
                        .position(|d| *d == difficulty)
                        .unwrap()
                });
                hard.sum()
            })
            .collect();
        let (least, most) = (sums.iter().min().unwrap(), sums.iter().max().unwrap());
        assert!(most - least <= 1, "{sums:?}");
    }
}

#[test]
fn short_cells_are_all_told_with_numbers_and_places() {
    let mut bank = bank(&[4, 7, 20]);
    add(&mut bank, question(0, 50, ReviewState::Draft));
    let faults = draw_forms(&bank, &theory(3, &[6, 6, 6], Some(4)), &seed(1)).unwrap_err();
    let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
    // By hand: 6 from 12 on 3 forms share at least 6 in all, twice that is 3 times 4; with one
    // question fewer in either cell 7 + 6 are more than 12.
    assert_eq!(
        said,
        [
            "plan.yaml:10:5: cell cell-0: 6 wanted on each of 3 forms with at most 4 questions \
             common to two of them: 12 needed, the bank has 4 usable (and 1 draft); write 8 more",
            "plan.yaml:11:5: cell cell-1: 6 wanted on each of 3 forms with at most 4 questions \
             common to two of them: 12 needed, the bank has 7 usable; write 5 more",
        ]
    );
}

#[test]
fn what_is_told_to_be_written_is_enough_and_no_less() {
    for (sizes, wanted, overlap) in [
        ([4, 7, 20], [6, 6, 6], 4),
        ([3, 3, 3], [3, 3, 3], 2),
        ([8, 2, 5], [4, 2, 4], 0),
    ] {
        let part = theory(3, &wanted, Some(overlap));
        let faults = draw_forms(&bank(&sizes), &part, &seed(1)).unwrap_err();
        let mut more = sizes;
        for fault in &faults {
            let hint = fault.hint.as_deref().unwrap();
            let number = hint.split_whitespace().nth(1).unwrap();
            let line = fault.place.as_ref().unwrap().line as usize - 10;
            more[line] += number.parse::<usize>().unwrap();
        }
        assert!(
            draw_forms(&bank(&more), &part, &seed(1)).is_ok(),
            "{more:?}"
        );
        for short in 0..3 {
            if more[short] > sizes[short] {
                let mut fewer = more;
                fewer[short] -= 1;
                assert!(
                    draw_forms(&bank(&fewer), &part, &seed(1)).is_err(),
                    "{fewer:?}"
                );
            }
        }
    }
}

/// Whether forms with so many questions each can be chosen from a bank: everything is tried.
fn can_be_chosen(bank: usize, wanted: usize, forms: usize, overlap: u32) -> bool {
    fn go_on(sets: &[u32], chosen: &mut Vec<u32>, forms: usize, overlap: u32) -> bool {
        if chosen.len() == forms {
            return true;
        }
        sets.iter().any(|&set| {
            if chosen
                .iter()
                .any(|other| (set & other).count_ones() > overlap)
            {
                return false;
            }
            chosen.push(set);
            let found = go_on(sets, chosen, forms, overlap);
            chosen.pop();
            found
        })
    }
    let sets: Vec<u32> = (0..1_u32 << bank)
        .filter(|set| set.count_ones() as usize == wanted)
        .collect();
    go_on(&sets, &mut Vec::new(), forms, overlap)
}

#[test]
fn the_count_agrees_with_trying_everything() {
    let mut found = [0, 0];
    for forms in 1..=4_usize {
        for wanted in 1..=4_usize {
            for size in wanted..=8 {
                for overlap in 0..=3_u32 {
                    let possible = can_be_chosen(size, wanted, forms, overlap);
                    let part = theory(forms as u32, &[wanted as u32], Some(overlap));
                    let drawn = draw_forms(&bank(&[size]), &part, &seed(5));
                    assert_eq!(
                        drawn.is_ok(),
                        possible,
                        "{forms} forms of {wanted} from {size}, overlap {overlap}"
                    );
                    found[usize::from(possible)] += 1;
                    if let Err(faults) = drawn
                        && forms <= 3
                    {
                        assert_eq!(
                            faults[0].rule, "cell-too-small",
                            "counted, not searched for"
                        );
                    }
                }
            }
        }
    }
    assert!(found[0] > 20 && found[1] > 20, "{found:?}");
}

#[test]
fn enemies_are_counted_before_drawing() {
    let mut bank = bank(&[6]);
    // A triangle and a pair of enemies: three questions fit on one form.
    for (one, other) in [(0, 1), (1, 2), (0, 2), (3, 4)] {
        make_enemies(&mut bank, &question_id(0, one), &question_id(0, other));
    }
    assert!(draw_forms(&bank, &theory(2, &[3], None), &seed(1)).is_ok());
    let faults = draw_forms(&bank, &theory(2, &[4], None), &seed(1)).unwrap_err();
    assert_eq!(
        faults[0].what,
        "cell cell-0: 4 wanted on each of 2 forms: 7 needed, the bank has 6 usable, of which \
         enemies let 3 stand on one form"
    );
}

#[test]
fn enemies_between_cells_are_named_when_no_draw_exists() {
    let mut bank = bank(&[2, 2]);
    for one in 0..2 {
        for other in 0..2 {
            make_enemies(&mut bank, &question_id(0, one), &question_id(1, other));
        }
    }
    let faults = draw_forms(&bank, &theory(1, &[1, 1], None), &seed(1)).unwrap_err();
    assert_eq!(faults[0].rule, "no-draw");
    assert!(faults[0].what.contains("enemies \"q-0-00"), "{}", faults[0]);
}

#[test]
fn too_few_pretest_questions_are_told_beside_short_cells() {
    let mut part = theory(1, &[5], None);
    part.pretest = 2;
    let faults = draw_forms(&bank(&[3]), &part, &seed(1)).unwrap_err();
    let rules: Vec<_> = faults.iter().map(|f| f.rule).collect();
    assert_eq!(rules, ["cell-too-small", "too-few-pretest-questions"]);
    assert_eq!(
        assembler::forms_lack(&bank(&[3]), &part),
        faults,
        "the count alone, without a seed, says the same"
    );
}
