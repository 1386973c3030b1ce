//! Who lies near a cut, with figures worked out by hand.
#![allow(clippy::unwrap_used)]

use super::*;
use crate::example::{Shape, awards, exam, right_letter};
use crate::scripts;

/// A sitting of twenty questions and a glass that nobody wrote about; `right` of each candidate.
fn reviewed(right: &[u32], join: Join, band: Option<u32>) -> Review {
    let shape = Shape {
        questions: 20,
        samples: 1,
        candidates: right.len(),
    };
    let (mut exam, sitting) = exam(shape, join);
    exam.plan.results.review = band;
    let awards = awards(&exam, &sitting, |candidate, item| match item {
        Item::Theory { number, .. } => {
            let letter = right_letter(&sitting, *number);
            match (*number <= right[candidate], letter.as_str()) {
                (true, _) => letter,
                (false, "A") => "B".to_owned(),
                (false, _) => "A".to_owned(),
            }
        }
        Item::Tasting { .. } => String::new(),
    });
    review(&exam, &scripts(&exam, &sitting, &awards))
}

const EASY_GLASSES: Join = Join::Conjunctive {
    theory: 600,
    tasting: 0,
};

fn listed(review: &Review) -> Vec<&str> {
    review
        .candidates
        .iter()
        .map(|one| one.candidate.as_str())
        .collect()
}

#[test]
fn within_one_error_of_the_cut_is_who_could_have_come_out_otherwise() {
    // The error at 12 of 20 is 20 sqrt(.6 x .4 / 19) = 2.25 marks: 10 to 14 lie within it.
    let found = reviewed(&[20, 14, 12, 11, 10, 9, 15], EASY_GLASSES, Some(1000));
    assert_eq!(listed(&found), ["C-001", "C-002", "C-003", "C-004"]);
    assert_eq!(
        found.candidates[0].near,
        ["theory 2 marks above its cut of 60 %; one error is 2.2 marks"]
    );
    assert_eq!(
        found.candidates[1].near,
        ["theory at its cut of 60 %; one error is 2.2 marks"]
    );
    assert_eq!(found.candidates[2].outcome, Outcome::Fail);
    // Half the band: 1.12 marks.
    let narrow = reviewed(&[20, 14, 12, 11, 10, 9, 15], EASY_GLASSES, Some(500));
    assert_eq!(listed(&narrow), ["C-002", "C-003"]);
    assert!(listed(&reviewed(&[12, 12], EASY_GLASSES, None)).is_empty());
}

#[test]
fn who_missed_another_cut_by_far_is_not_listed() {
    let hard = Join::Conjunctive {
        theory: 600,
        tasting: 900,
    };
    assert!(listed(&reviewed(&[12, 12, 12, 12, 12], hard, Some(3000))).is_empty());
}

#[test]
fn at_the_cut_half_of_the_decisions_are_wrong() {
    // The tasting's cut is nothing, which nobody misses: theory decides, whatever the tasting's error.
    let found = reviewed(&[12, 12, 12, 12, 12, 12], EASY_GLASSES, Some(1000));
    assert!((found.wrong.unwrap() - 0.5).abs() < 1e-9);
    // 2.2477 marks of error; 14 of 20 is .8898 errors above: 18.68 % are truly below (normal table).
    let above = reviewed(&[14; 6], EASY_GLASSES, None);
    assert!((above.wrong.unwrap() - 0.1868).abs() < 2e-4);
    // With a cut that can be missed, the error must be known.
    let cut = Join::Conjunctive {
        theory: 600,
        tasting: 300,
    };
    let few = reviewed(&[14; 4], cut, Some(1000));
    assert_eq!(few.wrong, None);
    assert!(few.sentences[0].contains("not known"));
}

#[test]
fn a_review_holds_for_the_marks_it_speaks_of() {
    let before = reviewed(&[12, 12], EASY_GLASSES, Some(1000));
    let after = reviewed(&[13, 12], EASY_GLASSES, Some(1000));
    assert_ne!(before.candidates[0].marks, after.candidates[0].marks);
    assert_eq!(before.candidates[1].marks, after.candidates[1].marks);
}
