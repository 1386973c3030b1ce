//! Strength arithmetic held against itself: by measure and by balance, there and back.

use super::*;

fn vol(figure: f64) -> StatedStrength {
    StatedStrength {
        figure,
        scale: StrengthScale::VolumePercent,
    }
}
fn named(report: &DiluteReport, name: &str) -> f64 {
    report
        .figures
        .iter()
        .find(|f| f.name == name)
        .unwrap()
        .value
}

#[test]
fn by_measure_and_by_balance_agree() {
    let of = |spirit| {
        dilute(&DiluteRequest::Reduce {
            spirit,
            from: vol(63.2),
            to: vol(46.0),
            temperature: 14.0,
        })
        .unwrap()
    };
    let by_volume = of(Amount::Millilitres(700.0));
    let by_mass = of(Amount::Grams(named(&by_volume, "spirit_g")));
    assert!((named(&by_mass, "spirit_ml") - 700.0).abs() < 1e-9);
    assert!((named(&by_mass, "water_ml") - named(&by_volume, "water_ml")).abs() < 1e-9);
}

#[test]
fn a_blend_with_water_undoes_the_reduction() {
    let reduced = dilute(&DiluteRequest::Reduce {
        spirit: Amount::Millilitres(500.0),
        from: vol(60.0),
        to: vol(40.0),
        temperature: 12.0,
    })
    .unwrap();
    let water = named(&reduced, "water_ml");
    let together = dilute(&DiluteRequest::Blend {
        parts: vec![
            (Amount::Millilitres(250.0), vol(60.0)),
            (Amount::Millilitres(water), vol(0.0)),
            (Amount::Millilitres(250.0), vol(60.0)),
        ],
        temperature: 12.0,
    })
    .unwrap();
    assert!((named(&together, "result_percent") - 40.0).abs() < 1e-6);
    let lost = named(&together, "contraction_ml") - named(&reduced, "contraction_ml");
    assert!(lost.abs() < 1e-4);
}

#[test]
fn what_cannot_be_is_refused_with_a_hint() {
    let weaker = DiluteRequest::Reduce {
        spirit: Amount::Millilitres(700.0),
        from: vol(40.0),
        to: vol(46.0),
        temperature: 20.0,
    };
    assert!(
        matches!(dilute(&weaker), Err(Failure::Refused { hint, .. }) if hint.contains("stronger"))
    );
    let nothing = DiluteRequest::Blend {
        parts: vec![(Amount::Millilitres(0.0), vol(40.0))],
        temperature: 20.0,
    };
    assert!(dilute(&nothing).is_err());
    let negative = DiluteRequest::Make {
        wanted: -5.0,
        times: 1,
        from: vol(40.0),
        to: vol(20.0),
        temperature: 20.0,
    };
    assert!(matches!(dilute(&negative), Err(Failure::Refused { what, .. }) if what.contains("-5")));
}
