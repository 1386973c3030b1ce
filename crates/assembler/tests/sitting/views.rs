//! What candidates and examiners see of a form.

use assembler::examiner_view::key_of;
use assembler::form_fits::form_fits;
use assembler::{PrintedBody, assemble, printed_questions};
use question_bank::ReviewState;

use crate::synthetic::*;

#[test]
fn the_printed_key_leads_to_the_right_text() {
    let exam = exam(
        bank(&[40]),
        Some(theory(2, &[20], None)),
        None,
        roster(2, 0),
        room(&[2], &[]),
    );
    for number in 0..5 {
        let sitting = assemble(&exam, &seed(number)).unwrap();
        for form in &sitting.forms {
            assert!(form_fits(&exam.bank, form).is_empty());
            let printed = printed_questions(&exam.bank, form);
            let keys = key_of(&exam.bank, form);
            assert_eq!((printed.len(), keys.len()), (20, 20));
            for (question, key) in printed.iter().zip(&keys) {
                assert_eq!(question.number, key.number);
                let text_at = |list: &[assembler::candidate_view::LetteredText], letter: &str| {
                    let entry = list.iter().find(|o| o.letter.to_string() == letter);
                    entry.unwrap().text.clone()
                };
                let words: Vec<&str> = key.answer_text.split(' ').collect();
                let written = key.question.as_str()[4..].parse::<usize>().unwrap();
                match &question.body {
                    PrintedBody::Options {
                        options,
                        choose_one: true,
                    } => {
                        let right = format!("option {}", written / 8 % 3);
                        assert_eq!(text_at(options, &key.answer_text), right);
                    }
                    PrintedBody::Options {
                        options,
                        choose_one: false,
                    } => {
                        let mut texts: Vec<_> = words.iter().map(|w| text_at(options, w)).collect();
                        texts.sort();
                        assert_eq!(texts, ["option 0", "option 1"]);
                        assert!(words.is_sorted());
                    }
                    PrintedBody::Steps { steps } => {
                        let texts: Vec<_> = words.iter().map(|w| text_at(steps, w)).collect();
                        assert_eq!(texts, ["step 0", "step 1", "step 2"]);
                    }
                    PrintedBody::Columns { left, right } => {
                        assert_eq!((left.len(), right.len()), (3, 4));
                        for (place, word) in words.iter().enumerate() {
                            assert!(word.starts_with(&left[place].number.to_string()));
                            assert_eq!(text_at(right, &word[1..]), format!("right {place}"));
                        }
                    }
                    PrintedBody::Number { unit } => {
                        assert_eq!(unit, "% vol");
                        assert_eq!(key.answer_text, "46.9 % vol (±0.5)");
                    }
                    PrintedBody::Words { .. } | PrintedBody::Space { .. } => {
                        panic!("nothing is written in this bank")
                    }
                }
            }
        }
    }
}

#[test]
fn another_bank_is_noticed() {
    let exam = exam(
        bank(&[6]),
        Some(theory(1, &[6], None)),
        None,
        roster(0, 1),
        room(&[], &[]),
    );
    let sitting = assemble(&exam, &seed(1)).unwrap();
    let mut changed = bank(&[5]);
    let mut other = question(0, 1, ReviewState::Operational);
    other.kind = question(0, 5, ReviewState::Operational).kind;
    add(&mut changed, other);
    let faults = form_fits(&changed, &sitting.forms[0]);
    assert_eq!(faults.len(), 2, "{faults:?}");
    assert_eq!(printed_questions(&changed, &sitting.forms[0]).len(), 5);
}
