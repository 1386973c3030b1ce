//! Confidence as candidates meet it, and that it is proper.
#![allow(clippy::unwrap_used)]

use super::*;
use crate::example::{Glass, told};
use exam_plan::Asked;
use exam_plan::confidence::About;
use proptest::prelude::*;
use statistics::forecast::brier_score::brier_score;

/// The sample of the examples is a molasses rum.
fn asked(score: ConfidenceScore) -> Confidence {
    Confidence {
        about: About::Category,
        from: ["Molasses rum", "Cane juice rum", "Grain spirits", "Brandy"]
            .map(str::to_owned)
            .to_vec(),
        score,
    }
}

#[test]
fn parts_are_read_as_people_write_them() {
    let from = asked(ConfidenceScore::Quadratic).from;
    for text in [
        "Molasses rum 60; Cane juice rum 40",
        "molasses rum: 60 %, cane juice rum: 40 %",
        "Cane juice rum 40\nmolases rum 60",
        "A 60; B 40",
        "a60, b40",
        "60 40 0 0",
        "60;40;0;0",
        "60 %, 40 %, 0 %, 0 %",
    ] {
        assert_eq!(read_parts(text, &from), Ok(vec![60, 40, 0, 0]), "{text}");
    }
    for text in [
        "60 40",
        "A 60; B 30",
        "A 60; A 40",
        "A 60; E 40",
        "gin 100",
        "A",
        "A 101",
        "-10 110 0 0",
        "A 50.5; B 49.5",
        "99999999999 0 0 0",
        "4294967295 4294967295 0 0",
        "NaN",
        "A NaN",
    ] {
        assert!(read_parts(text, &from).is_err(), "{text}");
    }
}

#[test]
fn what_is_stated_earns_what_it_should() {
    let glass = Glass::new();
    let marked =
        |score, answer: &str| told(&glass.mark(Asked::Confidence(asked(score)), "4", answer));
    let (marks, sentence) = marked(ConfidenceScore::Quadratic, "60 40 0 0");
    // 0.4² + 0.4² = 0.32; 1 - 0.16 = 0.84.
    assert_eq!(marks, "3.36");
    assert_eq!(
        sentence,
        "Molasses rum 60, Cane juice rum 40 for Molasses rum: squared distances of 0.32 (none \
         is certain and right, 2 certain and wrong), 3.36 of 4 marks"
    );
    assert_eq!(marked(ConfidenceScore::Quadratic, "A 100").0, "4");
    assert_eq!(marked(ConfidenceScore::Quadratic, "B 100").0, "0");
    assert_eq!(marked(ConfidenceScore::Quadratic, "25 25 25 25").0, "2.5");
    let (marks, sentence) = marked(ConfidenceScore::Logarithmic, "60 40 0 0");
    // ln(60 / 102 · 103) / ln(100) = 0.891208.
    assert_eq!(marks, "3.565");
    assert_eq!(
        sentence,
        "Molasses rum 60, Cane juice rum 40 for Molasses rum: 60 of 102 parts were given to it, \
         ln(60 / 102 · 103) / ln(100), 3.565 of 4 marks"
    );
    assert_eq!(marked(ConfidenceScore::Logarithmic, "A 100").0, "4");
    assert_eq!(marked(ConfidenceScore::Logarithmic, "B 100").0, "0");
    let (marks, why) = marked(ConfidenceScore::Quadratic, "60 30 0 0");
    assert_eq!(marks, "0");
    assert_eq!(why, "person: the parts add up to 90, not to 100");
}

#[test]
fn who_knows_nothing_and_says_so_gets_the_chance_score() {
    let glass = Glass::new();
    for (_, score) in ConfidenceScore::ALL {
        let asked = asked(score);
        let marks = glass.mark(Asked::Confidence(asked.clone()), "1000", "25 25 25 25");
        let share = marks.marks().as_f64() / 1000.0;
        assert!((share - chance_score(&asked)).abs() < 1e-6, "{score:?}");
        // Who is sure of any name gets less than who says that nothing is known.
        let sure: f64 = ["A 100", "B 100", "C 100", "D 100"]
            .iter()
            .map(|answer| {
                let question = Asked::Confidence(asked.clone());
                glass.mark(question, "1000", answer).marks().as_f64() / 4000.0
            })
            .sum();
        assert!(sure < share, "{score:?}: {sure}");
    }
}

#[test]
fn a_list_without_a_right_name_waits() {
    let glass = Glass::new();
    let mut other = asked(ConfidenceScore::Quadratic);
    other.from = ["Grain spirits", "Brandy"].map(str::to_owned).to_vec();
    assert!(glass.mark(Asked::Confidence(other), "4", "50 50").waits());
}

/// Parts that add up to a hundred.
fn parts(names: usize) -> impl Strategy<Value = Vec<u32>> {
    proptest::collection::vec(0_u32..=PARTS, names - 1).prop_map(|mut cuts| {
        cuts.sort_unstable();
        let mut before = 0;
        let mut parts: Vec<u32> = cuts
            .iter()
            .map(|cut| {
                let part = cut - before;
                before = *cut;
                part
            })
            .collect();
        parts.push(PARTS - before);
        parts
    })
}

/// What somebody who believes this may expect of stating that.
fn expected(believed: &[u32], stated: &[u32], score: ConfidenceScore) -> f64 {
    let credit = |right: usize| match score {
        ConfidenceScore::Quadratic => 1.0 - f64::from(squared_distance(stated, right)) / 20_000.0,
        ConfidenceScore::Logarithmic => logarithmic_credit(stated, right),
    };
    let all = believed.iter().enumerate();
    all.map(|(right, parts)| f64::from(*parts) / 100.0 * credit(right))
        .sum()
}

proptest! {
    #[test]
    fn who_states_what_they_believe_may_expect_most(
        (believed, stated) in (2_usize..=8).prop_flat_map(|names| (parts(names), parts(names)))
    ) {
        let quadratic = ConfidenceScore::Quadratic;
        let honest = expected(&believed, &believed, quadratic);
        let other = expected(&believed, &stated, quadratic);
        prop_assert!(honest >= other - 1e-12);
        prop_assert_eq!(honest - other < 1e-9, believed == stated, "strictly proper");
        // The logarithm is proper for whoever holds nothing for less likely than one in a hundred.
        let logarithmic = ConfidenceScore::Logarithmic;
        if believed.iter().all(|parts| *parts > 0) {
            let honest = expected(&believed, &believed, logarithmic);
            prop_assert!(honest >= expected(&believed, &stated, logarithmic) - 1e-12);
        }
    }

    #[test]
    fn squares_are_those_of_the_library(
        (stated, right) in (2_usize..=8).prop_flat_map(|names| (parts(names), 0..names))
    ) {
        let shares: Vec<f64> = stated.iter().map(|parts| f64::from(*parts) / 100.0).collect();
        let theirs = brier_score(&shares, right).unwrap().quadratic_credit;
        let ours = 1.0 - f64::from(squared_distance(&stated, right)) / 20_000.0;
        prop_assert!((theirs - ours).abs() < 1e-12);
        let logarithmic = logarithmic_credit(&stated, right);
        prop_assert!((0.0..=1.0).contains(&logarithmic));
    }
}
