//! Decisions at, above and below the cut, and properties that hold for all of them.
#![allow(clippy::unwrap_used)]

use proptest::prelude::*;

use super::*;

fn marks(thousandths: i64) -> Marks {
    Marks::from_thousandths(thousandths)
}

fn part(have: i64, of: i64, waiting: i64) -> Option<PartMarks> {
    Some(PartMarks {
        marks: marks(have),
        of: marks(of),
        waiting: marks(waiting),
        waiting_answers: u32::from(waiting > 0),
        answered: 1,
        asked: 1,
    })
}

fn candidate(theory: Option<PartMarks>, tasting: Option<PartMarks>, extra: i64) -> CandidateMarks {
    CandidateMarks {
        theory,
        tasting,
        extra: marks(extra),
        extra_waiting: Marks::ZERO,
        extra_of: marks(3000),
        answered_anything: true,
    }
}

fn each_part(may_turn: bool) -> PassRule {
    PassRule {
        join: Join::Conjunctive {
            theory: 600,
            tasting: 500,
        },
        extra_at_most: marks(2000),
        extra_may_turn_fail_into_pass: may_turn,
    }
}

fn together(total: u32, theory_weight: u32, may_turn: bool) -> PassRule {
    PassRule {
        join: Join::Compensatory {
            total,
            theory_weight,
        },
        ..each_part(may_turn)
    }
}

#[test]
fn one_thousandth_below_the_cut_is_a_fail() {
    let at = candidate(part(24_000, 40_000, 0), part(33_000, 66_000, 0), 0);
    assert_eq!(decide(&each_part(false), &at).outcome, Outcome::Pass);
    let below = candidate(part(23_999, 40_000, 0), part(66_000, 66_000, 0), 0);
    let made = decide(&each_part(false), &below);
    assert_eq!(made.outcome, Outcome::Fail);
    assert_eq!(
        made.sentence,
        "Not passed: theory 23.999 of 40 (59.9 %), 0.001 marks short of its cut of 60 %; \
         tasting 66 of 66 (100 %), at or above its cut of 50 %."
    );
}

#[test]
fn parts_make_up_for_each_other_only_where_the_plan_says_so() {
    // 50 % and 70 % with equal weights are 60 % exactly.
    let one = candidate(part(20_000, 40_000, 0), part(7_000, 10_000, 0), 0);
    assert_eq!(
        decide(&together(600, 500, false), &one).outcome,
        Outcome::Pass
    );
    assert_eq!(
        decide(&together(601, 500, false), &one).outcome,
        Outcome::Fail
    );
    assert_eq!(
        decide(&together(600, 510, false), &one).outcome,
        Outcome::Fail
    );
    assert_eq!(decide(&each_part(false), &one).outcome, Outcome::Fail);
    // Thirds have no decimal form; 1/3 and 2/3 are one half together, to the last digit.
    let thirds = candidate(part(1_000, 3_000, 0), part(2_000, 3_000, 0), 0);
    assert_eq!(
        decide(&together(500, 500, false), &thirds).outcome,
        Outcome::Pass
    );
}

#[test]
fn extra_credit_shows_but_does_not_pass_unless_allowed() {
    let near = candidate(part(30_000, 40_000, 0), part(32_000, 66_000, 0), 3_000);
    let barred = decide(&each_part(false), &near);
    assert_eq!(barred.outcome, Outcome::Fail);
    let extra = barred.extra.unwrap();
    assert!(extra.would_have_turned && !extra.turned_fail_into_pass);
    assert_eq!(extra.added, marks(2_000));
    assert_eq!(barred.total.marks, marks(64_000));
    assert!(barred.sentence.ends_with(
        "Of 3 marks of extra credit, 2 counted (ceiling 2); the plan does not let it turn a fail \
         into a pass."
    ));
    let allowed = decide(&each_part(true), &near);
    assert_eq!(allowed.outcome, Outcome::Pass);
    assert!(allowed.extra.unwrap().turned_fail_into_pass);
}

#[test]
fn what_waits_for_a_person_holds_the_decision_only_where_it_matters() {
    let open = candidate(part(23_000, 40_000, 1_000), part(60_000, 66_000, 0), 0);
    let made = decide(&each_part(false), &open);
    assert_eq!(made.outcome, Outcome::Waiting);
    assert!(
        made.sentence
            .contains("1 answer worth up to 1 mark waits for a person and can still")
    );
    let sure = candidate(part(24_000, 40_000, 1_000), part(60_000, 66_000, 0), 0);
    assert_eq!(decide(&each_part(false), &sure).outcome, Outcome::Pass);
    let lost = candidate(part(24_000, 40_000, 1_000), part(6_000, 66_000, 0), 0);
    let lost = decide(&each_part(false), &lost);
    assert_eq!(lost.outcome, Outcome::Fail);
    assert!(lost.sentence.contains("cannot turn the result"));
    // Extra credit that waits matters only where it may turn the result.
    let mut producer = candidate(part(24_000, 40_000, 0), part(32_000, 66_000, 0), 0);
    producer.extra_waiting = marks(1_000);
    assert_eq!(decide(&each_part(false), &producer).outcome, Outcome::Fail);
    assert_eq!(
        decide(&each_part(true), &producer).outcome,
        Outcome::Waiting
    );
}

#[test]
fn an_empty_hand_is_absent_and_a_single_part_decides_alone() {
    let mut absent = candidate(part(0, 40_000, 0), part(0, 66_000, 0), 0);
    absent.answered_anything = false;
    assert_eq!(decide(&each_part(false), &absent).outcome, Outcome::Absent);
    let theory = candidate(part(24_000, 40_000, 0), None, 0);
    assert_eq!(decide(&each_part(false), &theory).outcome, Outcome::Pass);
    assert_eq!(
        decide(&together(600, 500, false), &theory).outcome,
        Outcome::Pass
    );
    let nothing = candidate(None, None, 0);
    assert_eq!(
        decide(&each_part(false), &nothing).outcome,
        Outcome::Waiting
    );
}

fn any_part() -> impl Strategy<Value = Option<PartMarks>> {
    proptest::option::of((1_i64..100_000, 0.0..=1.0_f64, 0.0..=1.0_f64).prop_map(
        |(of, have, waiting)| {
            let have = (of as f64 * have) as i64;
            part(have, of, ((of - have) as f64 * waiting) as i64).unwrap()
        },
    ))
}

fn any_candidate() -> impl Strategy<Value = CandidateMarks> {
    (any_part(), any_part(), 0_i64..5_000, 0_i64..2_000).prop_map(
        |(theory, tasting, extra, extra_waiting)| CandidateMarks {
            extra_waiting: marks(extra_waiting),
            extra_of: marks(7_000),
            ..candidate(theory, tasting, extra)
        },
    )
}

fn any_rule() -> impl Strategy<Value = PassRule> {
    (
        0_u32..=1000,
        0_u32..=1000,
        any::<bool>(),
        any::<bool>(),
        0_i64..4_000,
    )
        .prop_map(|(one, other, each, may_turn, most)| PassRule {
            join: if each {
                Join::Conjunctive {
                    theory: one,
                    tasting: other,
                }
            } else {
                Join::Compensatory {
                    total: one,
                    theory_weight: other,
                }
            },
            extra_at_most: marks(most),
            extra_may_turn_fail_into_pass: may_turn,
        })
}

/// Orders outcomes by how good they are for the candidate.
fn rank(outcome: Outcome) -> u32 {
    match outcome {
        Outcome::Absent | Outcome::Fail => 0,
        Outcome::Waiting => 1,
        Outcome::Pass => 2,
    }
}

proptest! {
    #[test]
    fn what_is_shown_adds_up_and_stays_within_full_marks(rule in any_rule(), one in any_candidate()) {
        let made = decide(&rule, &one);
        let added = made.extra.map_or(Marks::ZERO, |extra| extra.added);
        let parts: Marks = made.parts.iter().map(|part| part.marks.marks).sum();
        prop_assert_eq!(parts + added, made.total.marks);
        prop_assert!(made.total.marks <= made.total.of);
        prop_assert!(added <= rule.extra_at_most && added <= one.extra);
        prop_assert!(made.total.per_mille <= 1000);
    }

    #[test]
    fn extra_credit_never_passes_anyone_unless_the_plan_says_so(
        rule in any_rule(), one in any_candidate(),
    ) {
        let rule = PassRule { extra_may_turn_fail_into_pass: false, ..rule };
        let without = CandidateMarks { extra: Marks::ZERO, extra_waiting: Marks::ZERO, ..one };
        prop_assert_eq!(decide(&rule, &one).outcome, decide(&rule, &without).outcome);
    }

    #[test]
    fn more_marks_never_make_it_worse(rule in any_rule(), one in any_candidate(), more in 1_i64..5_000) {
        let lift = |part: Option<PartMarks>| part.map(|part| PartMarks {
            marks: (part.marks + marks(more)).at_most(part.of - part.waiting),
            ..part
        });
        let better = CandidateMarks { theory: lift(one.theory), tasting: lift(one.tasting), ..one };
        prop_assert!(rank(decide(&rule, &better).outcome) >= rank(decide(&rule, &one).outcome));
        let extra = CandidateMarks { extra: one.extra + marks(more), ..one };
        prop_assert!(rank(decide(&rule, &extra).outcome) >= rank(decide(&rule, &one).outcome));
    }

    #[test]
    fn a_person_can_only_settle_what_waits(rule in any_rule(), one in any_candidate(), share in 0.0..=1.0_f64) {
        let settle = |part: Option<PartMarks>| part.map(|part| PartMarks {
            marks: part.marks + part.waiting.credit(share).unwrap(),
            waiting: Marks::ZERO,
            waiting_answers: 0,
            ..part
        });
        let settled = CandidateMarks {
            theory: settle(one.theory),
            tasting: settle(one.tasting),
            extra: one.extra + one.extra_waiting.credit(share).unwrap(),
            extra_waiting: Marks::ZERO,
            ..one
        };
        let (before, after) = (decide(&rule, &one).outcome, decide(&rule, &settled).outcome);
        if one.theory.is_some() || one.tasting.is_some() {
            prop_assert!(after != Outcome::Waiting);
            prop_assert!(before == Outcome::Waiting || before == after, "{:?} {:?}", before, after);
        }
    }

    #[test]
    fn a_shown_percentage_reaches_the_cut_when_the_marks_do(
        have in 0_i64..100_000, of in 1_i64..100_000, cut in 0_u32..=1000,
    ) {
        let have = have.min(of);
        prop_assert_eq!(per_mille(marks(have), marks(of)) >= cut, marks(have).reaches(cut, marks(of)));
    }
}

fn brings(part: Part, per_mille: u32) -> exam_plan::BroughtPart {
    exam_plan::BroughtPart {
        part,
        passed_on: "2026-06-12".to_owned(),
        per_mille,
    }
}

#[test]
fn a_grade_is_the_first_band_that_the_whole_reaches() {
    let bands = [("with distinction", 850), ("with merit", 750)].map(|(name, from)| {
        exam_plan::result_rules::GradeBand {
            name: name.to_owned(),
            from,
        }
    });
    let graded = |thousandths| {
        let terms = Terms {
            grades: &bands,
            brought: None,
        };
        decide_with(&each_part(false), terms, &theory_alone(thousandths, 40_000))
    };
    assert_eq!(graded(34_000).grade.as_deref(), Some("with distinction"));
    assert_eq!(graded(33_999).grade.as_deref(), Some("with merit"));
    assert_eq!(graded(29_999).grade, None);
    assert_eq!(graded(29_999).outcome, Outcome::Pass);
    assert!(
        graded(34_000)
            .sentence
            .starts_with("Passed, with distinction: theory 34 of 40")
    );
    // Who failed has no grade, however high another band lies.
    assert_eq!(graded(23_999).grade, None);
    assert_eq!(graded(23_999).outcome, Outcome::Fail);
}

#[test]
fn a_part_that_was_brought_along_counts_as_passed_and_gives_no_grade() {
    let bands = [exam_plan::result_rules::GradeBand {
        name: "with merit".to_owned(),
        from: 600,
    }];
    let tasting = brings(Part::Tasting, 520);
    let terms = Terms {
        grades: &bands,
        brought: Some(&tasting),
    };
    let made = decide_with(&each_part(false), terms, &theory_alone(40_000, 40_000));
    assert_eq!((made.outcome, made.grade), (Outcome::Pass, None));
    assert!(
        made.sentence
            .ends_with("; tasting brought along from 2026-06-12 (52 %).")
    );
    // The part that is sat must reach its own cut all the same.
    let failed = decide_with(&each_part(false), terms, &theory_alone(23_999, 40_000));
    assert_eq!(failed.outcome, Outcome::Fail);
    // Weighed: 60 % of theory at half and 52 % at half make 56 %.
    let weighed = decide_with(
        &together(560, 500, false),
        terms,
        &theory_alone(24_000, 40_000),
    );
    assert_eq!(
        (weighed.outcome, weighed.total.per_mille),
        (Outcome::Pass, 560)
    );
    let short = decide_with(
        &together(561, 500, false),
        terms,
        &theory_alone(24_000, 40_000),
    );
    assert_eq!(short.outcome, Outcome::Fail);
}

/// Theory alone, everything answered.
fn theory_alone(thousandths: i64, of: i64) -> CandidateMarks {
    CandidateMarks {
        theory: Some(PartMarks {
            marks: Marks::from_thousandths(thousandths),
            of: Marks::from_thousandths(of),
            ..PartMarks::default()
        }),
        answered_anything: true,
        ..CandidateMarks::default()
    }
}
