//! Every reason as the candidate reads it.

use question_bank::lexicon::Closeness;
use question_bank::question_kind::{MultipleResponseRule, OrderingRule};

use super::wording::what_counts;
use super::*;
use crate::sentences::Sentences;

fn earned(marks: i64, of: i64) -> Earned {
    Earned {
        marks: Marks::from_thousandths(marks),
        of: Marks::from_thousandths(of),
    }
}

/// A number of its own for every variant: a new variant does not compile until it has an example.
fn number(reason: &Reason) -> usize {
    match reason {
        Reason::NoAnswer => 0,
        Reason::OptionRight { .. } => 1,
        Reason::OptionWrong { .. } => 2,
        Reason::SeveralOptionsMarked { .. } => 3,
        Reason::OptionsChosen { .. } => 4,
        Reason::Number { .. } => 5,
        Reason::StepsOrdered { .. } => 6,
        Reason::PairsMatched { .. } => 7,
        Reason::WordAccepted { .. } => 8,
        Reason::WordSlip { .. } => 9,
        Reason::NodeRight { .. } => 10,
        Reason::NodeAccepted { .. } => 11,
        Reason::NodeNear { .. } => 12,
        Reason::NodeFar { .. } => 13,
        Reason::AgeBand { .. } => 14,
        Reason::NoAgeRight => 15,
        Reason::NoAgeWrong { .. } => 16,
        Reason::AgeRange { .. } => 17,
        Reason::ScaleStep { .. } => 18,
        Reason::PanelDistance { .. } => 19,
        Reason::NameRight { .. } => 20,
        Reason::NameWrong { .. } => 21,
        Reason::NotOnTheList { .. } => 22,
        Reason::Descriptors(_) => 23,
        Reason::NumberByMistake { .. } => 24,
        Reason::EntriesFound { .. } => 25,
        Reason::Beliefs(_) => 26,
    }
}
const VARIANTS: usize = 27;

fn examples() -> Vec<(Reason, &'static str)> {
    let choice = Choice {
        options: 5,
        right: 2,
        right_marked: 1,
        wrong_marked: 1,
    };
    let name = |text: &str| text.to_owned();
    vec![
        (Reason::NoAnswer, "no answer"),
        (Reason::OptionRight { marked: 'B' }, "B is right"),
        (
            Reason::OptionWrong {
                marked: 'A',
                right: 'C',
            },
            "A is marked, C is right",
        ),
        (
            Reason::SeveralOptionsMarked {
                marked: vec!['A', 'C'],
            },
            "A, C are marked, and one option only counts: no marks",
        ),
        (
            Reason::OptionsChosen {
                choice,
                rule: MultipleResponseRule::BalancedPenaltyFloor0,
                earned: earned(167, 1000),
            },
            "1 of 2 right options and 1 of 3 wrong ones are marked, and the share of wrong ones \
             is taken from the share of right ones: 0.167 of 1 mark",
        ),
        (
            Reason::Number {
                given: 46.0,
                right: name("46.9"),
                unit: name("% vol"),
                limit: Limit::HalfWithin(1.0),
                earned: earned(500, 1000),
            },
            "46 earns half by lying within 1 of 46.9 % vol: 0.5 of 1 mark",
        ),
        (
            Reason::Number {
                given: 46.5,
                right: name("46.9"),
                unit: name("% vol"),
                limit: Limit::Within(0.5),
                earned: earned(1000, 1000),
            },
            "46.5 lies within 0.5 of 46.9 % vol: 1 of 1 mark",
        ),
        (
            Reason::Number {
                given: 3.0,
                right: name("7"),
                unit: String::new(),
                limit: Limit::Beyond(0.0),
                earned: earned(0, 1000),
            },
            "3 lies farther than 0 from 7: 0 of 1 mark",
        ),
        (
            Reason::StepsOrdered {
                count: OrderCount::PairsInOrder {
                    in_order: 5,
                    pairs: 6,
                },
                rule: OrderingRule::Tau,
                earned: earned(1333, 2000),
            },
            "of 6 pairs of steps 5 stand in true order and 1 do not: 1.333 of 2 marks",
        ),
        (
            Reason::StepsOrdered {
                count: OrderCount::PairsInOrder {
                    in_order: 5,
                    pairs: 6,
                },
                rule: OrderingRule::TauLinear,
                earned: earned(1667, 2000),
            },
            "5 of 6 pairs of steps stand in true order: 1.667 of 2 marks",
        ),
        (
            Reason::StepsOrdered {
                count: OrderCount::PlacesMoved { moved: 2, most: 8 },
                rule: OrderingRule::Footrule,
                earned: earned(1500, 2000),
            },
            "the steps stand 2 places from their own, of 8 at most: 1.5 of 2 marks",
        ),
        (
            Reason::StepsOrdered {
                count: OrderCount::StepsInPlace {
                    in_place: 2,
                    steps: 4,
                },
                rule: OrderingRule::Positions,
                earned: earned(1000, 2000),
            },
            "2 of 4 steps stand in their place: 1 of 2 marks",
        ),
        (
            Reason::StepsOrdered {
                count: OrderCount::StepsInPlace {
                    in_place: 2,
                    steps: 4,
                },
                rule: OrderingRule::AllOrNothing,
                earned: earned(0, 2000),
            },
            "2 of 4 steps stand in their place, and only a whole order counts: 0 of 2 marks",
        ),
        (
            Reason::StepsOrdered {
                count: OrderCount::NeighboursKept { kept: 1, pairs: 3 },
                rule: OrderingRule::AdjacentPairs,
                earned: earned(667, 2000),
            },
            "1 of 3 true neighbours stand next to each other in true order: 0.667 of 2 marks",
        ),
        (
            Reason::PairsMatched {
                right: 3,
                pairs: 4,
                earned: earned(750, 1000),
            },
            "3 of 4 pairs are right: 0.75 of 1 mark",
        ),
        (
            Reason::WordAccepted {
                accepted: name("Ugni blanc"),
            },
            "\"Ugni blanc\" is accepted",
        ),
        (
            Reason::WordSlip {
                written: name("congner"),
                accepted: name("congener"),
            },
            "\"congner\" is a slip of the pen for \"congener\"",
        ),
        (
            Reason::NodeRight {
                name: name("Cognac"),
            },
            "Cognac is right",
        ),
        (
            Reason::NodeAccepted {
                answer: name("Highland"),
                truth: name("Speyside"),
            },
            "Highland for Speyside: accepted, full marks",
        ),
        (
            Reason::NodeNear {
                answer: name("blended malt"),
                truth: name("single malt"),
                common: name("malt whisky"),
                nearness: 0.75,
                guess: 0.655_172_4,
                earned: earned(550, 2000),
            },
            "blended malt for single malt: same branch (malt whisky), nearness 0.75 less the \
             0.65517 of a guess, 0.55 of 2 marks",
        ),
        (
            Reason::NodeFar {
                answer: name("gin"),
                truth: name("rum"),
            },
            "gin for rum: no nearer than a guess, no marks",
        ),
        (
            Reason::AgeBand {
                answer: name("3 to 5 years"),
                truth: name("3 to 5 years"),
                apart: Some(0),
                earned: earned(2000, 2000),
            },
            "3 to 5 years is right",
        ),
        (
            Reason::AgeBand {
                answer: name("3 to 5 years"),
                truth: name("6 to 9 years"),
                apart: Some(1),
                earned: earned(1000, 2000),
            },
            "3 to 5 years for 6 to 9 years: the next band, 1 of 2 marks",
        ),
        (
            Reason::AgeBand {
                answer: name("under 3 years"),
                truth: name("6 to 9 years"),
                apart: Some(2),
                earned: earned(0, 2000),
            },
            "under 3 years for 6 to 9 years: 2 bands apart, 0 of 2 marks",
        ),
        (Reason::NoAgeRight, "no age is stated on the label: right"),
        (
            Reason::NoAgeWrong {
                truth: name("8 years"),
            },
            "the label says: 8 years; no marks",
        ),
        (
            Reason::AgeRange {
                low: 8.0,
                high: 12.0,
                truth: 13,
                score: 14.0,
                earned: earned(1231, 2000),
            },
            "8 to 12 years for 13: interval score 14.0 (full marks up to 4, none from 30), \
             1.231 of 2 marks",
        ),
        (
            Reason::ScaleStep {
                given: 4,
                truth: 6,
                length: 10,
                earned: earned(800, 1000),
            },
            "4 for 6: 2 of 10 steps apart, 0.8 of 1 mark",
        ),
        (
            Reason::ScaleStep {
                given: 6,
                truth: 6,
                length: 10,
                earned: earned(1000, 1000),
            },
            "6 is right",
        ),
        (
            Reason::PanelDistance {
                given: 5.0,
                mean: 7.0,
                deviation: 1.0,
                earned: earned(500, 1000),
            },
            "5 beside the panel's mean of 7.00: 2.00 standard deviations of 1.00 apart (full \
             marks up to 1, none from 3), 0.5 of 1 mark",
        ),
        (
            Reason::NumberByMistake {
                given: 88.4,
                right: "90.9".to_owned(),
                unit: "L".to_owned(),
                why: "The mixture contracts.".to_owned(),
                of: Marks::from_thousandths(2000),
            },
            "88.4 for 90.9 L: 0 of 2 marks; a known mistake: The mixture contracts.",
        ),
        (
            Reason::EntriesFound {
                right: 2,
                wanted: 3,
                repeated: 1,
                beyond: 0,
                earned: earned(2000, 3000),
            },
            "2 of 3 wanted entries are right, 1 named again: 2 of 3 marks",
        ),
        (
            Reason::Beliefs(Box::new(Beliefs {
                given: vec![(name("rum"), 60), (name("gin"), 40)],
                truth: name("rum"),
                score: BeliefScore::Squares(3200),
                earned: earned(3360, 4000),
            })),
            "rum 60, gin 40 for rum: squared distances of 0.32 (none is certain and right, 2 \
             certain and wrong), 3.36 of 4 marks",
        ),
        (
            Reason::Beliefs(Box::new(Beliefs {
                given: vec![(name("rum"), 60), (name("gin"), 40)],
                truth: name("rum"),
                score: BeliefScore::Logarithm {
                    held: 60,
                    sum: 102,
                    all: 103,
                },
                earned: earned(3565, 4000),
            })),
            "rum 60, gin 40 for rum: 60 of 102 parts were given to it, ln(60 / 102 · 103) / \
             ln(100), 3.565 of 4 marks",
        ),
        (Reason::NameRight { name: name("none") }, "none is right"),
        (
            Reason::NameWrong {
                name: name("Copper Bay"),
                truth: name("Salt Lantern"),
            },
            "Copper Bay for Salt Lantern: no marks",
        ),
        (
            Reason::NotOnTheList {
                written: name("Copper Bey"),
            },
            "\"Copper Bey\" is not on the printed list: no marks",
        ),
        (
            Reason::Descriptors(Box::new(Descriptors {
                said_again: vec![],
                chance: 0,
                found: vec![
                    found("banana", "banana", Closeness::Same, 810),
                    found("acid drop", "pear drop", Closeness::Same, 300),
                    found("raisin", "prune", Closeness::Group, 500),
                    found("rose", "honey", Closeness::Family, 400),
                ],
                without_credit: vec![name("juniper")],
                contradicting: vec![name("peat")],
                missed: vec![name("molasses"), name("oak")],
                denied: vec![name("no smoke")],
                left_off: 2,
                words: 6,
                weight: 1_460_000,
                full_weight: 2_900_000,
                earned: earned(3534, 10_000),
            })),
            "found: banana (full, 0.81), acid drop as pear drop (full, 0.3), raisin for prune \
             (same group, half of 0.5), rose for honey (same family, a quarter of 0.4); no \
             credit: juniper; contradicting this sample: peat (less 15 % of the marks); missed: \
             molasses, oak; said not to be there, so not counted: no smoke; only the first 6 count, 2 left off; weight 1.46 of 2.9: 3.534 of 10 \
             marks",
        ),
        (
            Reason::Descriptors(Box::new(Descriptors {
                said_again: vec![],
                chance: 0,
                found: Vec::new(),
                without_credit: Vec::new(),
                contradicting: Vec::new(),
                missed: vec![name("oak")],
                denied: Vec::new(),
                left_off: 0,
                words: 6,
                weight: 0,
                full_weight: 300_250,
                earned: earned(0, 10_000),
            })),
            "found: nothing of the key; missed: oak; weight 0 of 0.30025: 0 of 10 marks",
        ),
    ]
}

fn found(written: &str, key_word: &str, closeness: Closeness, weight: u32) -> FoundWord {
    FoundWord {
        written: written.to_owned(),
        key_word: key_word.to_owned(),
        closeness,
        weight,
    }
}

#[test]
fn every_reason_reads_as_one_plain_sentence() {
    let mut seen = [false; VARIANTS];
    for (reason, sentence) in examples() {
        assert_eq!(reason.told(Sentences::english()), sentence);
        assert!(!sentence.contains(". "), "one sentence: {sentence}");
        if let Some(flag) = seen.get_mut(number(&reason)) {
            *flag = true;
        }
    }
    assert!(
        seen.iter().all(|seen| *seen),
        "variants without an example: {seen:?}"
    );
}

#[test]
fn every_rule_of_choice_says_what_counts() {
    let mut sentences: Vec<String> = MultipleResponseRule::ALL
        .iter()
        .map(|(_, rule)| Sentences::english().fill(what_counts(*rule), &[]))
        .collect();
    sentences.sort_unstable();
    sentences.dedup();
    assert_eq!(sentences.len(), MultipleResponseRule::ALL.len());
}

#[test]
fn the_same_reason_stands_in_german_with_its_numbers() {
    let german = Sentences::shipped("de").unwrap_or_else(Sentences::english);
    let numbers = |text: &str| {
        let digits = text.replace(',', ".");
        let mut found: Vec<String> = digits
            .split(|c: char| !(c.is_ascii_digit() || c == '.'))
            .map(|number| number.trim_matches('.').to_owned())
            .filter(|number| !number.is_empty())
            .collect();
        found.sort();
        found
    };
    for (reason, english) in examples() {
        let told = reason.told(german);
        assert_eq!(numbers(&told), numbers(english), "{told}");
        assert!(!told.contains(['{', '}', '[', ']']), "{told}");
    }
    let near = Reason::Number {
        given: 46.5,
        right: "46.9".to_owned(),
        unit: "% vol".to_owned(),
        limit: Limit::Within(0.5),
        earned: earned(1000, 1000),
    };
    assert_eq!(
        near.told(german),
        "46,5 liegt nicht weiter als 0,5 von 46,9 % vol: 1 von 1 Punkt"
    );
}
