//! Equating by every way, with what each refuses.

use super::*;

fn form(name: &str, n: usize, shift: usize, anchor: bool) -> FormMarks {
    let totals: Vec<usize> = (0..n)
        .map(|c| (c * 7 + c * c * 3) % 11 + c % 5 + shift)
        .collect();
    FormMarks {
        name: name.to_owned(),
        anchors: anchor.then(|| totals.iter().map(|t| t / 4).collect()),
        totals,
        highest: 20,
        highest_anchor: 5,
        answers: None,
    }
}

#[test]
fn twenty_five_get_the_identity_and_a_line_is_refused_by_name() {
    let (x, y) = (form("X", 25, 0, false), form("Y", 60, 3, false));
    let made = equate(&x, &y, AnchorPlace::Internal, None).unwrap();
    assert_eq!(made.way, Way::Identity);
    assert!(
        made.marks
            .iter()
            .all(|m| m.equivalent == m.mark as f64 && m.standard_error.is_none())
    );
    assert!(made.sentences.iter().any(|s| s.contains("Skaggs 2005")));
    let why = equate(&x, &y, AnchorPlace::Internal, Some(Way::Linear)).unwrap_err();
    assert!(
        why.what.contains("25 candidates") && why.what.contains("at least 100"),
        "{why:?}"
    );
    assert!(why.instead.starts_with("identity"));
}

#[test]
fn a_form_equated_to_itself_is_the_identity_by_every_way_that_is_carried() {
    for anchor in [false, true] {
        let x = form("X", 1600, 0, anchor);
        for way in Way::ALL {
            if way.by_curves().is_some() {
                continue;
            }
            if way.wants_anchor().is_some_and(|wants| wants != anchor) {
                assert!(equate(&x, &x, AnchorPlace::Internal, Some(way)).is_err());
                continue;
            }
            let made = convert(way, &Groups::of(&x, &x).unwrap(), AnchorPlace::Internal).unwrap();
            for (mark, equivalent) in made.iter().enumerate().skip(2).take(11) {
                assert!(
                    (equivalent - mark as f64).abs() < 1e-6,
                    "{way:?} {mark} {equivalent}"
                );
            }
        }
    }
}

#[test]
fn the_harder_form_gains_marks_with_an_error() {
    let made = equate(
        &form("X", 40, 0, false),
        &form("Y", 40, 3, false),
        AnchorPlace::Internal,
        None,
    )
    .unwrap();
    assert_eq!(made.way, Way::CircleArc);
    assert!(made.marks[8].equivalent > 9.0);
    assert!(made.marks[8].standard_error.unwrap() > 0.1);
}

/// Answers on `shared` questions that both forms have and as many of their own; `gain` makes the
/// group abler.
fn answered(name: &str, n: u32, own: u32, gain: u32) -> FormMarks {
    let question = |place: u32| if place < 8 { place } else { place + own };
    let rows: Vec<Vec<f64>> = (0..n)
        .map(|c| {
            (0..16)
                .map(|place| {
                    let q = question(place);
                    let mixed = (c * 37 + q * q * 61 + c * q * 13 + c / 7) % 97;
                    f64::from(u8::from(mixed < 15 + gain + c * 60 / n + q % 5 * 4))
                })
                .collect()
        })
        .collect();
    let sum = |row: &[f64], to: usize| row.iter().take(to).sum::<f64>() as usize;
    FormMarks {
        name: name.to_owned(),
        totals: rows.iter().map(|row| sum(row, 16)).collect(),
        anchors: Some(rows.iter().map(|row| sum(row, 8)).collect()),
        highest: 16,
        highest_anchor: 8,
        answers: Some(FormAnswers {
            questions: (0..16)
                .map(|place| format!("q{}", question(place)))
                .collect(),
            rows,
            shared: (0..8).map(|place| format!("q{place}")).collect(),
        }),
    }
}

#[test]
fn by_curves_a_form_equated_to_itself_is_the_identity_and_groups_may_differ() {
    let x = answered("X", 240, 0, 0);
    for way in [
        Way::RaschTrueScore,
        Way::RaschObservedScore,
        Way::CurvesTrueScore,
        Way::CurvesObservedScore,
    ] {
        let made = equate(&x, &x, AnchorPlace::Internal, Some(way)).unwrap();
        for mark in &made.marks {
            assert!(
                (mark.equivalent - mark.mark as f64).abs() < 0.02,
                "{way:?} {mark:?}"
            );
        }
        assert!(
            made.sentences
                .iter()
                .any(|s| s.contains("8 questions in common")),
            "{way:?}"
        );
        let other = equate(
            &x,
            &answered("Y", 240, 100, 12),
            AnchorPlace::Internal,
            Some(way),
        )
        .unwrap();
        assert!(
            other
                .marks
                .windows(2)
                .all(|two| two[0].equivalent <= two[1].equivalent),
            "{way:?}"
        );
        assert!(other.marks.iter().all(|mark| mark.equivalent.is_finite()));
    }
}

#[test]
fn curves_are_refused_to_few_and_to_marks_without_answers() {
    let few = answered("X", 29, 0, 0);
    let why = equate(&few, &few, AnchorPlace::Internal, Some(Way::RaschTrueScore)).unwrap_err();
    assert!(
        why.what.contains("29 candidates") && why.what.contains("at least 30"),
        "{why:?}"
    );
    let some = answered("X", 199, 0, 0);
    let why = equate(
        &some,
        &some,
        AnchorPlace::Internal,
        Some(Way::CurvesTrueScore),
    )
    .unwrap_err();
    assert!(why.what.contains("at least 200"), "{why:?}");
    let marks = form("X", 60, 0, true);
    let why = equate(
        &marks,
        &marks,
        AnchorPlace::Internal,
        Some(Way::RaschTrueScore),
    )
    .unwrap_err();
    assert!(why.what.contains("right or wrong"), "{why:?}");
}
