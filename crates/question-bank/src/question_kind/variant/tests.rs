//! Tests of variant questions: what is read, drawn and made of it.
#![allow(clippy::unwrap_used, clippy::panic)]

use base::{ExamSeed, Purpose, Stream};
use proptest::prelude::*;

use super::Variant;
use crate::drawn_numbers::DrawnNumbers;
use crate::question_kind::{Kind, QuestionKind};
use crate::read::question_tests::{faults_of, kind_of, read_one_question, text_of};

fn text(more: &str) -> String {
    format!(
        "variant:
      stem: \"{{volume}} L at {{strength}} % vol are to be reduced to {{target}} % vol. How many litres of water?\"
      draw:
        volume: {{ from: 100, to: 250, step: 10 }}
        strength: {{ from: 58, to: 66, step: 0.5 }}
        target: {{ from: 40, to: 46, step: 1 }}
      compute: water_to_reduce
      unit: L
      decimals: 1
      tolerance: 0.5
      mistakes:
        - {{ name: rule_of_three, why: It forgets the contraction. }}
        - {{ formula: \"volume * (strength - target) / strength\", why: A share of the start. }}
      why: By mass.{more}"
    )
}

fn variant(more: &str) -> Box<Variant> {
    let QuestionKind::Variant(variant) = kind_of(&text(more)) else {
        panic!("another kind")
    };
    variant
}

fn stream(index: u64) -> Stream {
    Stream::new(
        &ExamSeed::from_bytes([5; 32]),
        Purpose::VariantNumbers,
        index,
    )
}

#[test]
fn a_number_is_asked_and_mistakes_are_known() {
    let variant = variant("");
    assert_eq!(variant.apart, 1.0, "twice the tolerance");
    let drawn = DrawnNumbers::parse("volume=200 strength=62 target=43").unwrap();
    let QuestionKind::Numeric(numeric) = variant.realised(&drawn).unwrap().unwrap() else {
        panic!("another kind")
    };
    assert!(numeric.stem.starts_with("200 L at 62 % vol are"));
    // By the rule of three 88.37 l; contraction asks for more than two litres beyond that (OIML R 22).
    assert_eq!(format!("{:.1}", numeric.mistakes[0].value), "88.4");
    assert!(
        numeric.answer > 90.0 && numeric.answer < 92.0,
        "{}",
        numeric.answer
    );
    assert_eq!(numeric.answer_as_written, format!("{:.1}", numeric.answer));
}

#[test]
fn a_choice_holds_key_and_mistakes_in_rising_order() {
    let variant = variant("\n      options: true");
    let drawn = variant.draw(&mut stream(0), &[]).unwrap();
    let QuestionKind::BestAnswer(best) = variant.realised(&drawn).unwrap().unwrap() else {
        panic!("another kind")
    };
    assert_eq!(best.options.len(), 3);
    assert!(best.keep_order && best.options.iter().all(|o| o.text.ends_with(" L")));
    let key = best.options.iter().find(|option| option.key).unwrap();
    assert_eq!(key.why, "By mass.");
    let values: Vec<f64> = best
        .options
        .iter()
        .map(|o| o.text.trim_end_matches(" L").parse().unwrap())
        .collect();
    assert!(values.is_sorted());
}

#[test]
fn the_same_stream_draws_the_same_and_forms_differ() {
    let variant = variant("");
    let first = variant.draw(&mut stream(1), &[]).unwrap();
    assert_eq!(variant.draw(&mut stream(1), &[]).unwrap(), first);
    assert_ne!(
        variant
            .draw(&mut stream(2), std::slice::from_ref(&first))
            .unwrap(),
        first
    );
    assert_eq!(variant.drawings(100), Some(100));
}

#[test]
fn numbers_too_near_are_never_drawn() {
    // A demand that most drawings miss: the mistakes must lie four litres from the key.
    let variant = variant("\n      apart: 4");
    for index in 0..50 {
        let drawn = variant.draw(&mut stream(index), &[]).unwrap();
        let QuestionKind::Numeric(numeric) = variant.realised(&drawn).unwrap().unwrap() else {
            panic!("another kind")
        };
        for mistake in &numeric.mistakes {
            assert!((mistake.value - numeric.answer).abs() > 3.9, "{drawn}");
        }
    }
}

#[test]
fn faults_are_told_with_what_is_allowed() {
    let swap = |from: &str, to: &str| {
        let text = text("").replace(from, to);
        assert_ne!(text, self::text(""), "{from}");
        faults_of(&text)
    };
    assert_eq!(swap("water_to_reduce", "water_to_redice"), ["unknown-word"]);
    assert_eq!(
        swap("water_to_reduce", "cask_remaining"),
        ["missing-number"]
    );
    assert_eq!(
        swap("name: rule_of_three", "name: simple_loss"),
        ["unknown-word"]
    );
    assert_eq!(
        swap("{target} % vol. How", "43 % vol. How"),
        ["untold-number"]
    );
    assert_eq!(
        swap("{target} % vol. How", "{aim} % vol. How"),
        ["unknown-number", "untold-number"]
    );
    assert_eq!(
        swap("volume * (strength", "bulk * (strength"),
        ["unknown-number"]
    );
    assert_eq!(
        swap("volume * (strength", "volume * ((strength"),
        ["bad-formula"]
    );
    assert_eq!(swap("step: 0.5", "step: 0.3"), ["bad-range"]);
    assert_eq!(swap("      compute: water_to_reduce\n", ""), ["no-key"]);
    assert_eq!(
        swap(
            "compute: water_to_reduce",
            "compute: water_to_reduce\n      formula: volume"
        ),
        ["two-keys"]
    );
    assert_eq!(
        swap("from: 40, to: 46", "from: 70, to: 76"),
        ["too-few-drawings"],
        "no water makes a spirit stronger"
    );
    assert_eq!(
        faults_of(&text("\n      apart: 1000")),
        ["too-few-drawings"]
    );
    assert_eq!(faults_of("variant: { stem: a }").len(), 6);
}

#[test]
fn numbers_of_another_question_make_none() {
    let variant = variant("");
    for wrong in [
        "",
        "volume=200 strength=62",
        "volume=200 strength=40 target=43",
    ] {
        let drawn = DrawnNumbers::parse(wrong).unwrap();
        assert!(variant.realised(&drawn).unwrap().is_err(), "{wrong}");
    }
}

proptest! {
    #[test]
    fn any_variant_is_read_without_panic(
        from in "-?[0-9]{1,3}(\\.[0-9])?", to in "-?[0-9]{1,3}", step in "-?[0-9](\\.[0-9])?",
        formula in "[a -/0-9()^*]{1,12}",
    ) {
        let text = format!("variant:
      stem: \"{{a}}\"
      draw: {{ a: {{ from: {from}, to: {to}, step: {step} }} }}
      formula: \"{formula}\"
      unit: L
      decimals: 1
      tolerance: 0.1
      why: w");
        let _ = read_one_question(&text_of(&text));
    }

    #[test]
    fn every_draw_makes_a_question(seed in any::<[u8; 32]>(), index in any::<u64>()) {
        let variant = variant("\n      options: true");
        let mut stream = Stream::new(&ExamSeed::from_bytes(seed), Purpose::VariantNumbers, index);
        let drawn = variant.draw(&mut stream, &[]).unwrap();
        prop_assert!(variant.realised(&drawn).unwrap().is_ok());
        prop_assert_eq!(DrawnNumbers::parse(&drawn.to_string()), Some(drawn));
    }
}
